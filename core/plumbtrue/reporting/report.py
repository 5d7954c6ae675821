"""The report: everything that any format prints, sorted, counted, grouped and worded.

Formats place it on paper, screen or wire and decide nothing. It is made from an audit by
`plumbtrue.reporting.building`; figures of line sets, and workings, are made only for formats that show
them.
"""

from plumbtrue.audit.verdicts import State
from plumbtrue.documents.place import Place
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.reporting.cards import Card
from plumbtrue.reporting.papers import Order
from plumbtrue.reporting.show_report import ShowReport
from plumbtrue.rules.result import Result
from plumbtrue.rules.severity import Severity


@unchanging
class WorkingLine:
    """One line of a working: how deep it explains, what it says, where that was written."""

    depth: int
    text: str
    origin: str
    answer: str
    """`holds`, `does not hold`, `cannot be told`; empty for a value."""


@unchanging
class Said:
    """What was said about some things that a rule judged alike."""

    where: str
    message: str
    remedy: str
    paths: tuple[str, ...]
    missing: tuple[str, ...]
    """What would settle it, in words."""
    location: Place
    """Where to look for what decided it: in the set, or in the house."""
    written_at: Place | None
    """Where that is written, when a typical thing lends it."""
    working: tuple[WorkingLine, ...] = ()
    """How the rule came to it, for the first of the things; empty where the format shows none."""


@unchanging
class Accepted:
    """That somebody accepted a finding, and whether that still covers it."""

    by: str
    until: str
    reason: str
    meanwhile: str
    state: str
    standing: str
    """`in force`, `expired` or `worse than accepted`."""

    @property
    def in_force(self) -> bool:
        return self.standing == "in force"


@unchanging
class Entry:
    """One rule at one line set, or in the rest of the house: one matter, however many lines have it."""

    anchor: str
    rule: str
    title: str
    subject: str
    """What the rule is about, in words."""
    severity: Severity
    severity_label: str
    result: Result
    result_label: str
    set_key: str
    """Key of the line set; empty for the rest of the house."""
    set_anchor: str
    set_title: str
    said: tuple[Said, ...]
    remedies: tuple[str, ...]
    why: str
    authorities: tuple[str, ...]
    authority: str
    """The same on one line."""
    pack: str
    changed_by: tuple[str, ...]
    """What later packs changed in the rule, in words."""
    accepted: Accepted | None
    things: int


@unchanging
class OutcomeReport:
    """One outcome by itself, for programs."""

    key: str
    rule: str
    pack: str
    severity: Severity
    result: Result
    counts: bool
    """Whether it asks for something: not where an acceptance in force covers it."""
    kind: str
    path: str
    where: str
    set_key: str
    message: str
    remedy: str
    authority: str
    location: Place
    written_at: Place | None
    """Where what decided it is written, when a typical thing lends it to the place in the set."""
    missing: tuple[tuple[str, str, str], ...]
    """Thing, fact and reason."""
    accepted: Accepted | None
    working: tuple[WorkingLine, ...]


@unchanging
class Matter:
    """One entry; or, of what can wait, the same matter at several line sets, told once."""

    sets_title: str
    """`Set 14`, or `Sets 7 to 11 and 13`."""
    anchor: str
    entries: tuple[Entry, ...]

    @property
    def first(self) -> Entry:
        """The one whose words stand for all of them."""
        return self.entries[0]


@unchanging
class Section:
    """Entries that ask for the same by the same time."""

    severity: Severity
    label: str
    meaning: str
    anchor: str
    sign: str
    matters: tuple[Matter, ...]
    count: str
    """How many entries on how many sets, in words."""


@unchanging
class Doubt:
    """What part of the doubt about an open verdict a fact holds, 0 to 1: so much goes when it is known exactly."""

    of: str
    """The thing of which it is to be found out, in words; empty where the question is about one thing only."""
    rule: str
    on: str
    """The set, or what else the verdict is on, in words."""
    share: float

    @property
    def how_much(self) -> str:
        """The share, in words."""
        percent = round(100 * self.share)
        return "all" if percent == 100 else f"{percent} %"


@unchanging
class Question:
    """A fact to find out: of what, where to look, with what, and what it would settle."""

    number: int
    anchor: str
    fact: str
    """As the vocabulary names it."""
    subject: str
    """The fact and the kind of thing, in words."""
    meaning: str
    kind: str
    """The kind of thing, in words."""
    set_keys: tuple[str, ...]
    """Line sets that it concerns; `house` for the rest."""
    where: tuple[tuple[str, str], ...]
    """Each line set (or the house) with the things in it."""
    reasons: tuple[str, ...]
    step: str
    look: str
    tool: str
    words: tuple[tuple[str, str], ...]
    settles: str
    rules: tuple[str, ...]
    severity: Severity
    severity_label: str
    outcomes: int
    can_be_looked_up: bool
    """Whether looking can answer it; else the reason says why no figure comes out."""
    doubts: tuple[Doubt, ...] = ()
    """Verdicts that hang on figures known within bounds, of whose doubt this fact holds the largest share."""
    is_weighed: bool = False
    """Whether it is found out on a scale."""
    may_be_none: bool = False
    """Whether `none` answers it, where somebody looked and there is nothing."""

    @property
    def first(self) -> str:
        """That this is the one to find out first, and why; empty where nothing says so."""
        if not self.doubts:
            return ""
        first, *others = self.doubts
        verb = "Weigh" if self.is_weighed else "Measure"
        what = f"{verb} this first" + (f", {first.of}" if first.of else "")
        more = f"; likewise for {len(others)} more" if others else ""
        return f"{what}: it makes {first.how_much} of the doubt of {first.rule}, {first.on}{more}"

    @property
    def how_to_look(self) -> str:
        """Where to look and with what, after the word "look"; empty where nobody says."""
        place = self.look if self.look != "look" else ""
        return (
            f"{place}, with {self.tool}"
            if place and self.tool
            else place or (self.tool and f"with {self.tool}")
        )


@unchanging
class HeadlineLine:
    """How many line sets are in a state, and which."""

    state: State
    label: str
    sign: str
    meaning: str
    sets: tuple[tuple[str, str], ...]
    """Key and anchor of each."""
    also: tuple[str, ...]
    """What else of the house is in that state."""
    remark: str
    """Which of the sets a tag has taken out already, and on which something is accepted."""
    text: str


@unchanging
class Headline:
    """The answer that somebody must have who reads no further."""

    lines: tuple[HeadlineLine, ...]
    notes: tuple[str, ...]
    """What else belongs to it: an incomplete run, acceptances in force, no rule that applied."""
    sentence: str
    """The same in one paragraph, to be read aloud."""


@unchanging
class CardRow:
    """One thing to do on a line set, or to find out about it."""

    severity: Severity
    sign: str
    when: str
    found: tuple[tuple[str, str], ...]
    """Where, and what; of a question, what is missing."""
    do: tuple[str, ...]
    rules: tuple[tuple[str, str], ...]
    """Slug and anchor of each."""
    is_open: bool
    """Whether it is a question."""
    mark: str
    """That it was accepted, until when and by whom; else empty."""
    printed: bool = True


@unchanging
class CardRows:
    """What a card says of its set: what to do, then what to find out."""

    rows: tuple[CardRow, ...]
    lettering: str
    """How large on paper: `roomy`, `large`, `middle`, `small`, or `tight`
    without two of the drawings."""
    left_out: int
    """How many of the mildest a sheet has no room for."""

    @property
    def acts(self) -> tuple[CardRow, ...]:
        return tuple(one for one in self.rows if not one.is_open)

    @property
    def asks(self) -> tuple[CardRow, ...]:
        return tuple(one for one in self.rows if one.is_open)


@unchanging
class SetReport:
    """One line set, on one card."""

    key: str
    anchor: str
    title: str
    name: str
    state: State
    state_label: str
    sign: str
    because: str
    """Why it is in that state, in one line."""
    tagged: str
    upstage: float | None
    """Distance from the plaster line [m], for drawing; nothing where it is not known."""
    described: tuple[tuple[str, str], ...]
    """What it is: label and words."""
    entries: tuple[Entry, ...]
    rows: CardRows
    """The same as its card puts it."""
    met: int
    not_applicable: int
    card: Card | None


@unchanging
class RuleReport:
    """One rule that a reader of this report may want to look up."""

    slug: str
    anchor: str
    title: str
    about: str
    severity: Severity
    severity_label: str
    pack: str
    why: str
    authorities: tuple[str, ...]
    authority: str
    """The same on one line."""
    changed_by: tuple[str, ...]
    counts: tuple[tuple[str, int], ...]
    """How often it came to which outcome."""
    place: Place


@unchanging
class Unlooked:
    """Something in the rig that no rule looked at."""

    what: str
    things: int
    where: str


@unchanging
class ChangeReport:
    """What a later pack changed in a rule, with who decided it, when and why."""

    rule: str
    rule_anchor: str
    part: str
    way: str
    before: str
    after: str
    pack: str
    decided: str
    reason: str
    standing: str


@unchanging
class SourceReport:
    """A work that a rule with an outcome in this report stands on."""

    key: str
    title: str
    edition: str
    kind: str
    basis: str
    note: str
    rules: int


@unchanging
class PackReport:
    """A pack that was used."""

    name: str
    title: str
    edition: str
    digest: str
    covers: tuple[str, ...]
    leaves_out: tuple[str, ...]
    brought_by: str
    rules: int


@unchanging
class Checked:
    """What was and what was not looked at."""

    read: tuple[tuple[str, str], ...]
    """Files, each with the SHA-256 digest of its content."""
    counts: tuple[tuple[str, int], ...]
    """Outcomes by their word."""
    things: int
    rules: int
    kinds: tuple[Unlooked, ...]
    facts: tuple[Unlooked, ...]
    rules_without_things: tuple[str, ...]
    """Rules in force that there was nothing to apply to."""
    not_run: tuple[str, ...]
    """Rules, packs and plugins that did not run, each with the reason."""


@unchanging
class LegShown:
    """One leg of a bridle; where its point stands from the apex [m], as far as it is written."""

    mark: str
    point: str
    across: float | None
    """Towards stage left above nought."""
    upstage: float | None
    rise: float | None
    pull: str
    angle: str
    run: str
    height: str


@unchanging
class BridleShown:
    """A bridle of the plot, with what hangs on it."""

    title: str
    load: str
    level: str
    """Level pull of its legs."""
    between: str
    apex: str
    legs: tuple[LegShown, ...]


@unchanging
class LoadIn:
    """How a set stands after each step of its load-in."""

    title: str
    anchor: str
    order: Order
    lock: float | None
    """What the rule for such steps trusts a rope lock with, at the hand line [N]; nothing without that rule."""
    lock_text: str


@unchanging
class Report:
    """Everything that any format prints about one house as of one day."""

    version: str
    house: str
    owner: str
    file: str
    on: str
    headline: Headline
    sections: tuple[Section, ...]
    accepted: tuple[Entry, ...]
    """Findings that somebody accepted, and whose acceptance is in force."""
    accepted_matters: tuple[Matter, ...]
    undetermined: tuple[Entry, ...]
    undetermined_matters: tuple[Matter, ...]
    """The same told together where it is the same on several sets."""
    questions: tuple[Question, ...]
    sets: tuple[SetReport, ...]
    house_entries: tuple[Entry, ...]
    house_rows: CardRows
    outcomes: tuple[OutcomeReport, ...]
    """Every outcome by itself; empty where the format lists none."""
    rules: tuple[RuleReport, ...]
    changes: tuple[ChangeReport, ...]
    sources: tuple[SourceReport, ...]
    common_practice_rules: int
    packs: tuple[PackReport, ...]
    checked: Checked
    incomplete: tuple[str, ...]
    problems: tuple[str, ...]
    """Waivers that match nothing, and the like."""
    cautions: tuple[str, ...]
    show: ShowReport | None = None
    """What a plot laid over the house comes to, item by item; nothing where none was laid."""
    bridles: tuple[BridleShown, ...] = ()
    """Of the plot; empty where the format draws none."""
    load_ins: tuple[LoadIn, ...] = ()
    """Of the sets that the plot loads; empty where the format draws none."""
