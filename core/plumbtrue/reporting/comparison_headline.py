"""The head of a comparison, for whoever reads no further: what was changed, what must not hang or fly now, what
must be put right first, what cannot be told, who accepted what, and how the rest came out.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from plumbtrue.audit.acceptance_changes import Accepts, ShowAcceptance, revision_mark
from plumbtrue.audit.comparing import Comparison
from plumbtrue.audit.item_verdicts import ItemState
from plumbtrue.audit.outcome_changes import OutcomeChange, Turn
from plumbtrue.audit.piece_changes import PieceChange
from plumbtrue.audit.rig_changes import one_by_one
from plumbtrue.audit.show_rules import facts_of
from plumbtrue.audit.verdicts import State
from plumbtrue.quantities.values import Name
from plumbtrue.reporting.comparison_rows import finding_rows
from plumbtrue.reporting.grouping import set_key
from plumbtrue.reporting.places_in_words import name_of
from plumbtrue.reporting.wording import SEVERITY_SIGNS, counted, listed, marks, sentence
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rules.severity import Severity

NOTHING: Final = (
    "Nothing differs. It does not say that anything is safe: what was found before stands as it was."
)


@dataclass(frozen=True, slots=True)
class HeadLine:
    """One line of the head."""

    sign: str
    standing: str
    """A state or a severity, for colour beside the sign."""
    label: str
    """In a few words what the line tells; empty for a plain sentence."""
    text: str

    @property
    def whole(self) -> str:
        """The same as one sentence."""
        return f"{self.label}: {self.text}" if self.label else self.text


def headline(comparison: Comparison) -> Iterator[HeadLine]:
    """The head, line by line, in order of action."""
    if comparison.is_alike:
        yield _plain(NOTHING)
    else:
        yield _plain(_what_was_changed(comparison))
        yield from _states(comparison)
        yield from _of_the_whole(comparison)
    yield from _accepted(comparison)
    if not comparison.is_alike:
        untagged = [one.new.key for one in comparison.states if one.untagged and one.new is not None]
        if untagged:
            yield _plain(
                f"{'The tag is' if len(untagged) == 1 else 'The tags are'} gone from {_sets(untagged)}."
            )
    now = comparison.new
    if now.incomplete:
        yield _plain(f"The run was not complete: {'; '.join(now.incomplete)}.")
    if not now.looked_at_anything:
        yield _plain("No rule applied to anything here. Nothing was checked.")
    for problem in comparison.problems:
        yield _plain(f"{problem.where}: {problem.what}.")


def afterwards(comparison: Comparison) -> Iterator[HeadLine]:
    """How the findings came out, and what the packs did: what is told once the crew knows what to do."""
    if not comparison.is_alike:
        yield HeadLine("", "", "Findings", _findings(comparison))
    if comparison.packs:
        yield HeadLine("", "", "Rule packs", _of_packs(comparison))


def _plain(text: str) -> HeadLine:
    return HeadLine("", "", "", text)


def _sets(keys: Sequence[str]) -> str:
    return f"set {keys[0]}" if len(keys) == 1 else f"sets {marks(sorted(keys, key=natural_order))}"


def _what_was_changed(comparison: Comparison) -> str:
    """How many pieces of the show differ and how many do not, and where the house is other."""
    told = []
    pieces = _pieces(comparison)
    if pieces:
        old, new = revision_mark(comparison.old.rig), revision_mark(comparison.new.rig)
        if old and new:
            called = f"Revision {old} → {new}" if old != new else f"Revision {new}"
            if old == new and _shows_differ(comparison):
                called += ", and not the same"
        else:
            called = "The show"
        told.append(f"{called}: {pieces}.")
    inside = [one for one in one_by_one(comparison.changes) if one.thing.enclosing("plot") is None]
    if inside:
        keys = dict.fromkeys(set_key(one.thing) for one in inside)
        where = [_sets([key for key in keys if key])] if any(keys) else []
        where += ["in the house outside its sets"] if "" in keys else []
        told.append(f"{counted(len(inside), 'change')} in the house: {listed(where)}.")
    if not told:
        changed = counted(len(comparison.changes), "change")
        what = (
            f"{changed} in what the show says as a whole"
            if comparison.changes
            else "Nothing in the rig was changed"
        )
        told.append(f"{what}; the rule packs were changed." if comparison.packs else f"{what}.")
    return " ".join(told)


def _shows_differ(comparison: Comparison) -> bool:
    """Whether anything was changed in the show itself, and not in the house under it alone."""
    return any(one.thing.enclosing("plot") is not None for one in one_by_one(comparison.changes))


def _pieces(comparison: Comparison) -> str:
    """How many pieces of a show are other, new, cut, and the same; empty where there are none."""
    matching = comparison.matching
    both = [pair.new for pair in matching.pairs if pair.new.kind.name == "item"]
    new = sum(_items_in(thing) for thing in matching.added)
    cut = sum(_items_in(thing) for thing in matching.gone)
    if not both and not new and not cut:
        return ""
    changed = sum(item in comparison.changed_pieces for item in both)
    return f"{counted(changed, 'piece')} changed, {new} new, {cut} cut, {len(both) - changed} the same"


def _items_in(thing: Thing) -> int:
    """How many pieces come or go with a thing: one, or all of a plot."""
    return sum(one.kind.name == "item" for one in thing.below())


def _states(comparison: Comparison) -> Iterator[HeadLine]:
    """Pieces, and sets without any of them, that stand worse now or were changed and stand badly still."""
    for state, of_set, sign, piece_label, set_label in (
        (ItemState.DOES_NOT_HANG, State.OUT_OF_SERVICE, "■", "Do not hang", "Must not fly"),
        (ItemState.WITH_CHANGES, State.BEFORE_NEXT_USE, "▲", "Put right first", "Work before use"),
        (ItemState.CANNOT_BE_TOLD, State.CANNOT_BE_TOLD, "?", "Find out first", "Cannot be told"),
    ):
        pieces = [one for one in comparison.pieces if one.after is state and one.new is not None]
        carriers = {_carrier(one.new) for one in pieces if one.new is not None}
        if pieces:
            yield HeadLine(
                sign, of_set.value, piece_label, _of_pieces(pieces, named=state is ItemState.DOES_NOT_HANG)
            )
        keys = [
            one.new.key
            for one in comparison.states
            if one.new is not None and one.new not in carriers and one.after is of_set and one.is_worse
        ]
        also: list[str] = []
        if of_set is State.OUT_OF_SERVICE:
            keys, also = _with_new_stops(comparison, keys, carriers)
        if keys or also:
            told = [*([_sets(keys)] if keys else []), *also]
            yield HeadLine(sign, of_set.value, set_label, sentence(listed(told)))


def _with_new_stops(
    comparison: Comparison, keys: Sequence[str], carriers: set[Thing | None]
) -> tuple[list[str], list[str]]:
    """Sets that must not fly, with those that were stopped already and have a further reason now; and what else
    of the house has one.
    """
    found, also = dict.fromkeys(keys), dict[str, None]()
    named = {carrier.key for carrier in carriers if carrier is not None}
    for one in (*comparison.outcomes, *comparison.by_packs):
        if not (one.turn.is_for_the_worse and one.counts and one.severity is Severity.OUT_OF_SERVICE):
            continue
        key = set_key(one.thing)
        if key and key not in named:
            found[key] = None
        elif not key and one.thing.enclosing("plot") is None:
            also[_outermost(one.thing)] = None
    return list(found), list(also)


def _carrier(item: Thing | None) -> Thing | None:
    on = item.references.get("on") if item is not None else None
    return on if isinstance(on, Thing) else None


def _of_pieces(pieces: Sequence[PieceChange], *, named: bool) -> str:
    """Pieces with where they hang; those that stood no better before are told apart."""
    worse = [_piece(one, named=named) for one in pieces if one.is_worse]
    others = [one for one in pieces if not one.is_worse]
    text = listed(worse)
    if others:
        still = listed([_piece(one, named=named, moved=True) for one in others])
        text += f"; still {still}" if worse else f"still {still}"
    return f"{text}."


def _piece(one: PieceChange, *, named: bool, moved: bool = False) -> str:
    on, was = _carrier(one.new), _carrier(one.old)
    name = one.thing.facts.get("name")
    called = f" {name.value.text}" if named and name is not None and isinstance(name.value, Name) else ""
    elsewhere = moved and was is not None and on is not None and was.key != on.key
    here = ", now on" if elsewhere else " on"
    hangs = f"{here} {_place(on)}" if on is not None and on.kind.name == "line_set" else ""
    return f"{one.thing.key.removeprefix('item ')}{called}{hangs}"


def _place(carrier: Thing | None) -> str:
    if carrier is None:
        return "nothing"
    return carrier.key if carrier.kind.name == "line_set" else name_of(carrier)


def _outermost(thing: Thing) -> str:
    while thing.parent is not None and thing.parent.parent is not None:
        thing = thing.parent
    return f"the {name_of(thing)}" if thing.parent is not None else "the house itself"


def _of_the_whole(comparison: Comparison) -> Iterator[HeadLine]:
    """What is new or worse about the show as a whole: bricks, dates, papers."""
    show = comparison.new.show
    of_pieces = {id(one) for its in show.of_item.values() for one in its} if show is not None else set()
    found: dict[str, Severity] = {}
    for one in comparison.outcomes:
        of_plot = one.thing.enclosing("plot") is not None and id(one.new) not in of_pieces
        rule = comparison.new.rulebook.rule(one.rule)
        if rule is not None and any(fact.name == "accepted" for fact in facts_of(rule.understood)):
            continue  # Who accepted what is told by itself.
        if of_plot and one.turn.is_for_the_worse and one.counts and one.severity.is_urgent and one.new:
            found.setdefault(one.new.message, one.severity)
    for message, severity in found.items():
        yield HeadLine(SEVERITY_SIGNS[severity], severity.value, "The show", sentence(message))


def _accepted(comparison: Comparison) -> Iterator[HeadLine]:
    """Who accepted which revision of the show; what was accepted for the older one is not for this one."""
    if comparison.new.rig.plot is None:
        return
    new, old = revision_mark(comparison.new.rig), revision_mark(comparison.old.rig)
    of = {one.of: one for one in reversed(comparison.acceptances)}
    open_ones = _not_accepted(comparison)
    if Accepts.NEW in of:
        yield HeadLine("○", "nothing-found", "Accepted", f"Revision {new} {_by(of[Accepts.NEW])}.")
    elif Accepts.TOO_EARLY in of:
        told = f"{_by(of[Accepts.TOO_EARLY])}, before this issue of it"
        yield HeadLine("▲", "before-next-use", "Not accepted", f"Revision {new} {told}.")
    elif Accepts.EITHER in of and _shows_differ(comparison):
        told = f"goes for both files, and they differ: an acceptance {_by(of[Accepts.EITHER])} says nothing of this one"
        yield HeadLine("▲", "before-next-use", "Not accepted", f"The mark {new} {told}{open_ones}.")
    elif Accepts.EITHER in of:
        house = ", over the house as it was then" if comparison.changes else ""
        yield HeadLine("○", "nothing-found", "Accepted", f"Revision {new} {_by(of[Accepts.EITHER])}{house}.")
    elif Accepts.OLD in of:
        told = f"Accepted {_by(of[Accepts.OLD])} for revision {old}; not for {new or 'one without a mark'}"
        yield HeadLine("▲", "before-next-use", "Not accepted", f"{told}{open_ones}.")
    elif Accepts.OTHER in of:
        one = of[Accepts.OTHER]
        named = (
            f"for revision {one.revision}, which is neither of these" if one.revision else "for no revision"
        )
        yield HeadLine("▲", "before-next-use", "Not accepted", f"Accepted {_by(one)} {named}.")
    elif comparison.changed_pieces or open_ones:
        yield _plain(f"Nobody is on record as having accepted revision {new or 'in hand'}.")


def _by(one: ShowAcceptance) -> str:
    return (
        f"by {one.by or 'somebody'} on {one.on}"
        if one.on
        else f"by {one.by or 'somebody'}, on a day not written"
    )


def _not_accepted(comparison: Comparison) -> str:
    """What of the show somebody has yet to accept, after a colon; empty where nothing was changed."""
    changed = [one for one in comparison.changed_pieces if one in comparison.matching.old_of]
    new = sum(_items_in(thing) for thing in comparison.matching.added)
    cut = [thing for thing in comparison.matching.gone if thing.kind.name == "item"]
    told = [
        *([f"{len(changed)} changed"] if changed else []),
        *([f"{new} new"] if new else []),
        *([f"{len(cut)} cut ({listed([one.key.removeprefix('item ') for one in cut])})"] if cut else []),
    ]
    return f": {', '.join(told)} since" if told else ""


_WORSE: Final = (
    (Turn.APPEARED, "new", "new"),
    (Turn.WORSENED, "worse", "worse"),
    (Turn.NO_LONGER_TOLD, "that cannot be told any more", "that cannot be told any more"),
    (Turn.QUESTION_OPENED, "question opened", "questions opened"),
    (Turn.CHANGED, "with other values", "with other values"),
)
_BETTER: Final = (
    (Turn.WENT_AWAY, "went away", "went away"),
    (Turn.IMPROVED, "is better and a finding still", "are better and findings still"),
    (Turn.QUESTION_SETTLED, "question settled", "questions settled"),
    (Turn.UNCOVERED, "stands alone now", "stand alone now"),
)


def _findings(comparison: Comparison) -> str:
    """How the findings and questions came out, by number."""
    turns = {
        turn: _rows((one for one in comparison.outcomes if one.turn is turn), comparison) for turn in Turn
    }
    worse, better = (
        [counted(turns[turn], one, many) for turn, one, many in words if turns[turn]]
        for words in (_WORSE, _BETTER)
    )
    told = listed(worse) if worse else "none is new or worse, and no question was opened"
    return sentence(f"{told}; {listed(better)}" if better else told)


def _rows(changes: Iterable[OutcomeChange], comparison: Comparison) -> int:
    """How many rows tell of some changes below: what anybody can count there."""
    return len(finding_rows(changes, comparison))


def _of_packs(comparison: Comparison) -> str:
    by_packs = comparison.by_packs
    worse = _rows((one for one in by_packs if one.turn.is_for_the_worse), comparison)
    milder = _rows((one for one in by_packs if one.turn in (Turn.WENT_AWAY, Turn.IMPROVED)), comparison)
    opened = _rows((one for one in by_packs if one.turn.is_open), comparison)
    first = (
        f"alone they make {counted(worse, 'finding')} new or worse" if worse else "alone they make none worse"
    )
    then = f", open {counted(opened, 'question')}" if opened else ""
    then += f", and take away or make milder {counted(milder, 'finding')}" if milder else ""
    hidden = _rows(comparison.hidden, comparison)
    hides = f"; {counted(hidden, 'matter')} would be worse by the packs before" if hidden else ""
    return sentence(f"they were changed: {first}{then}{hides}")
