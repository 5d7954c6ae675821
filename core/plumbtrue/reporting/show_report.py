"""A show, item by item, as every format prints it: sorted, counted and worded. Made by
`plumbtrue.reporting.showing`.
"""

from plumbtrue.audit.item_verdicts import ItemState
from plumbtrue.documents.place import Place
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rules.severity import Severity


@unchanging
class ShowReason:
    """One thing that stands against a piece, or against the whole plot."""

    text: str
    remedy: str
    rule: str
    """Slug of the rule that says so; empty for what no rule says."""
    rule_anchor: str
    by_when: str
    """`out of service`, `before the next use`, `cannot be told`."""


@unchanging
class ShowNumber:
    """A number at which one rule is met."""

    rule: str
    about: str
    """Path of what the rule speaks of."""
    thing: str
    """Path of what is to be otherwise; empty for the weight of the piece."""
    fact: str
    number: str
    """As printed; a weight as if it were known exactly."""
    as_known: str
    """The same with the doubt that there is about it now."""
    asked: tuple[str, ...]
    """What to write after `--set`."""
    then: tuple[str, ...]
    """Rules as grave that would find something else."""


@unchanging
class ShowOffer:
    """Another set on which a piece was tried."""

    line_set: str
    away: float | None
    """Upstage of the wanted one [m]; negative: downstage."""
    comes_to: str
    """`clear`, `with-changes` or `against`."""
    exchanged: tuple[str, ...]
    first: tuple[str, ...]
    """What the house asks for on that set first: rules."""
    against: tuple[str, ...]
    remarks: tuple[str, ...]
    asked: tuple[str, ...]


@unchanging
class Advice:
    """What would settle a piece: in words, and for programs."""

    lines: tuple[str, ...]
    numbers: tuple[ShowNumber, ...]
    for_all: tuple[tuple[str, ...], ...]
    """What to write after `--set` so that all that hang on one fact are met."""
    offers: tuple[ShowOffer, ...]
    not_tried: tuple[tuple[str, str], ...]
    """Sets, with the reason."""


@unchanging
class ShowItem:
    """One piece."""

    key: str
    anchor: str
    name: str
    title: str
    """`11, lighthouse lantern`."""
    on: str
    """`set 14`, `lantern truss`, `the deck`, `nobody says where`."""
    set_anchor: str
    """Of its set's card; empty where it hangs on none."""
    state: ItemState
    label: str
    sign: str
    css: str
    why: str
    """In one line."""
    reasons: tuple[ShowReason, ...]
    behind: str
    """How much else was found on a piece that does not hang, in words; told in the report itself."""
    remarks: str
    advice: tuple[str, ...]
    """The number that would settle it, and where else it would hang; only where that was asked for."""
    advised: Advice | None
    """The same with its parts."""
    location: Place
    """Where the plot writes it."""
    severity: Severity | None
    """What its state asks for, as a rule would; nothing where it hangs as asked."""
    path: str

    @property
    def is_open(self) -> bool:
        """Whether nobody knows enough to say."""
        return self.state is ItemState.CANNOT_BE_TOLD


@unchanging
class ShowLine:
    """How many pieces are in a state, and which."""

    state: ItemState
    label: str
    sign: str
    css: str
    meaning: str
    items: tuple[tuple[str, str], ...]
    """Key and anchor of each."""
    text: str


@unchanging
class ShowReport:
    """What a plot laid over the house comes to."""

    title: str
    """`The Tin Meridian, revision A`."""
    lines: tuple[ShowLine, ...]
    sentence: str
    """The same in one paragraph, to be read aloud."""
    items: tuple[ShowItem, ...]
    """As people count them."""
    gravest_first: tuple[ShowItem, ...]
    """Those that do not hang as asked, the gravest first."""
    whole: tuple[ShowReason, ...]
    """What concerns no single piece."""
