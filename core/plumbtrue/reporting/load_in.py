"""From an audit with a plot to the load-in papers: bricks, order, trims to spike and pulls of lines, set by set.

No set that must not fly gets a paper, and nothing that has somebody on it, or of which nobody says that it
has not, gets a number. Nor are bricks told for a set of which it cannot be told whether it must not fly. Bricks
are told at the weights as stated; what the doubt about those does to them stands beside.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import inf
from typing import Final, cast

from plumbtrue import __version__
from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.item_verdicts import ItemState, ItemVerdict, People, behind_set, item_verdicts
from plumbtrue.audit.show import rigging_above
from plumbtrue.facts.computed.show_balance import heaviest_first
from plumbtrue.facts.computed.show_trims import cues_of
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.bounds import Bounds, same
from plumbtrue.quantities.dimension import FORCE, LENGTH
from plumbtrue.quantities.values import NONE, Each, Name
from plumbtrue.quantities.writing import System, write
from plumbtrue.reporting.grouping import set_anchor
from plumbtrue.reporting.load_order import Loading, loading_of, orders_of
from plumbtrue.reporting.papers import (
    BrickLine,
    Bricks,
    LinePull,
    OtherPaper,
    Papers,
    SetPaper,
    SheetLine,
    StockLine,
    Trim,
)
from plumbtrue.reporting.show_report import ShowReason
from plumbtrue.reporting.showing import ITEM_CSS, ITEM_LABELS, ITEM_SIGNS, Words, show_of
from plumbtrue.reporting.told_facts import Told
from plumbtrue.reporting.wording import CAUTIONS, listed
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.what_if import told
from plumbtrue.rules.severity import Severity

_PEOPLE: Final = {
    People.SOMEBODY: "Somebody is to be on it, in it or attached to it. No figure is given for that, and this "
    "check stops here: turn to a specialist.",
    People.NOT_KNOWN: "Nobody has said for certain that no person is on it, in it or attached to it. Until "
    "somebody does, no figure is given.",
}
_OPEN: Final = (
    "Whether it may be used is not known. Load nothing on it until what is asked here is answered; the figures are "
    "for then."
)
_MAY_STOP: Final = (
    "Whether it must not fly cannot be told, so no bricks are told: answer what is asked here, and check "
    "again."
)
_STOP: Final = "It must not fly, so it gets no paper: put right what stops it, and check again."
_WHOLE: Final = 1e-6
COMMON: Final = (
    "By common practice: the pipe is at its low trim with the lock on, the strip under pipe and loading bridge is "
    "cleared, one person calls, and no brick moves before the call.",
    "Load-in: the piece goes on the pipe first, then its bricks. Load-out: its bricks come off first, then the "
    "piece. So until the last bricks are in the heavy side is the pipe, which is down already.",
    "Spreader plates go in as the bricks go up, and the lock plates go on last. Before the lock is opened the "
    "balance is felt at the hand line.",
    "Pipe heavy or arbor heavy says how the set stands after the step, at the hand line. The heavy side is the "
    "one that runs away when a lock is opened.",
    "A figure given as a range covers what is not known for certain: weights that were not weighed, lines that "
    "may be out of level.",
)


_LOCK_RULE: Final = "every-step-stays-under-the-lock"


def papers_of(audit: Audit) -> Papers:
    """The load-in papers of an audit.

    Raises:
        ValueError: no plot was laid over the house.
    """
    facts = Facts(audit.rig, audit.on, audit.further)
    show = show_of(audit, facts)
    if show is None:
        raise ValueError("load-in papers are made of a plot that is laid over a house")
    maker = _Maker(audit, facts)
    sets = tuple(maker.sets())
    stock = tuple(maker.stock())
    sizes = [one.size for one in stock]
    lock, lock_text = lock_limit(audit, maker.system)
    name = facts.value(audit.rig.house, "name")
    return Papers(
        house=name.text if isinstance(name, Name) else audit.rig.house.key,
        show=show.title,
        on=audit.on.isoformat(),
        file=audit.rig.file,
        sentence=" ".join((*told(audit.rig), show.sentence)),
        stops=tuple(one for one in show.gravest_first if one.state is ItemState.DOES_NOT_HANG),
        whole=show.whole,
        load_in=maker.told.written(show_plot(audit), "load_in"),
        stock=stock,
        to_spare=maker.to_spare(),
        stand_in=tuple(maker.stand_in()),
        sheet=_sheet(sets, sizes),
        sheet_total=maker.loaded(sizes),
        sets=sets,
        others=tuple(maker.others()),
        not_run=audit.incomplete,
        packs=tuple(f"{one.name}, edition {one.edition}" for one in audit.rulebook.packs),
        read=audit.rig.files,
        common=COMMON,
        lock=lock,
        lock_text=lock_text,
        cautions=CAUTIONS,
        version=__version__,
    )


def show_plot(audit: Audit) -> Thing:
    """The plot that was laid."""
    plot = audit.rig.plot
    assert plot is not None, "papers are made of a plot that was laid"
    return plot


def _sheet(sets: Iterable[SetPaper], sizes: Sequence[str]) -> tuple[SheetLine, ...]:
    """All sets in the order in which they stand at the rail, with a column for each of the sizes."""

    def loads(bricks: Bricks) -> Iterator[tuple[str, str]]:
        by_size = {line.size: line for line in bricks.lines}
        yield from ((by_size[size].load, by_size[size].in_all) for size in sizes)

    return tuple(
        SheetLine(
            key=one.key,
            anchor=one.anchor,
            items=listed([item.title for item in one.items]),
            sign=one.sign,
            label=one.label,
            css=one.css,
            load=one.load,
            bricks=tuple(loads(one.bricks)) if one.bricks else (),
            side=one.bricks.left_over if one.bricks else "",
            trims=", ".join(
                f"{trim.what} {trim.pipe}" if trim.what != "parked" else trim.pipe
                for trim in one.trims
                if trim.what in ("in", "out", "parked")
            ),
        )
        for one in sorted(sets, key=lambda one: natural_order(one.key))
    )


def lock_limit(audit: Audit, system: System) -> tuple[float | None, str]:
    """What the rule for the steps of a load-in trusts a rope lock with, at the hand line [N], and in words; nothing
    without that rule.
    """
    rule = audit.rulebook.rule(_LOCK_RULE)
    limit = None if rule is None else rule.parameters.get("lock_limit")
    bounds = None if limit is None else limit.given.value
    if not isinstance(bounds, Bounds):
        return None, ""
    return bounds.low, write(Bounds.exactly(bounds.low), FORCE, system)


def set_papers(audit: Audit, facts: Facts) -> tuple[SetPaper, ...]:
    """The papers of its sets alone, from facts that are gathered already."""
    return tuple(_Maker(audit, facts).sets())


class _Maker:
    """What the papers of one audit are made from."""

    def __init__(self, audit: Audit, facts: Facts) -> None:
        self.audit = audit
        self.facts = facts
        self.system = cast(System, audit.rig.units)
        self.told = Told(facts, self.system)
        self.words = Words(audit)
        self.verdicts = item_verdicts(audit, facts)
        self.loadings: dict[Thing, Loading] = {}

    def sets(self) -> Iterator[SetPaper]:
        """A paper for each set that the plot uses: first those that get none, then as people count them."""
        by_set: dict[Thing, list[ItemVerdict]] = {}
        for verdict in self.verdicts:
            if verdict.set_verdict is not None and verdict.carrier is not None:
                by_set.setdefault(verdict.carrier, []).append(verdict)
        made = [self._set(line_set, its) for line_set, its in by_set.items()]
        yield from sorted(made, key=lambda one: (not one.no_paper, natural_order(one.key)))

    def _set(self, line_set: Thing, its: list[ItemVerdict]) -> SetPaper:
        worst = min(its, key=lambda one: one.state.rank).state
        items = tuple(self.words.item(one) for one in its)
        why = self._no_paper(line_set, its)
        loading = None if why else self._loading(line_set, its)
        if isinstance(loading, Loading):
            self.loadings[line_set] = loading
        name = self.told.written(line_set, "name")
        return SetPaper(
            key=line_set.key,
            anchor=set_anchor(line_set.key),
            title=f"Set {line_set.key}" + (f", {name}" if name else ""),
            system=self.told.text(line_set, "system"),
            items=items,
            label=ITEM_LABELS[worst],
            sign=ITEM_SIGNS[worst],
            css=ITEM_CSS[worst],
            no_paper=why,
            first=_once(reason for item in items for reason in item.reasons),
            load="" if why else self.told.text(line_set, "live_load"),
            bricks=self._bricks(line_set, loading) if isinstance(loading, Loading) else None,
            no_bricks=loading if isinstance(loading, str) else "",
            orders=orders_of(self.told, line_set, its, loading) if not why else (),
            trims=() if why else tuple(self._trims(line_set, its)),
            heights=() if why else tuple(self._heights(line_set)),
            lines=() if why else tuple(self._lines(line_set)),
            notes=() if why else tuple(self._notes(worst, its)),
            reach=self._reach(line_set) if isinstance(loading, Loading) else "",
        )

    def _loading(self, line_set: Thing, its: Iterable[ItemVerdict]) -> Loading | str:
        """The counterweight of a set, or why none is told: with an answer that may stop it still open, a figure
        would be loaded.
        """
        show = self.audit.show
        assert show is not None, "papers are made of a plot that was laid"
        verdicts = list(its)
        said = [one for verdict in verdicts for one in show.of_item[verdict.key]]
        said += behind_set(self.audit, line_set, (Severity.OUT_OF_SERVICE,))
        if any(one.counts and one.severity is Severity.OUT_OF_SERVICE for one in said):
            return _MAY_STOP
        return loading_of(self.facts, line_set, [one.item for one in verdicts])

    def _no_paper(self, line_set: Thing, its: Iterable[ItemVerdict]) -> str:
        """Why a set gets no paper; empty where it gets one. Any of its pieces decides for all."""
        verdicts = list(its)
        for people in (People.SOMEBODY, People.NOT_KNOWN):
            mine = [one.key for one in verdicts if one.people is people]
            if mine:
                return f"Item {listed(mine)}: {_PEOPLE[people]}"
        lifts = self._steps_with_people(line_set)
        if lifts:
            return f"Step {listed(lifts)}: {_PEOPLE[People.SOMEBODY]}"
        stopped = any(one.state is ItemState.DOES_NOT_HANG for one in verdicts)
        return _STOP if stopped else ""

    def _steps_with_people(self, line_set: Thing) -> list[str]:
        plot = self.audit.rig.plot
        steps = plot.members("steps") if plot is not None else ()
        mine = [one for one in steps if one.references.get("set") is line_set]
        return [
            one.key.removeprefix("step ")
            for one in mine
            if "yes" in getattr(self.facts.value(one, "carries_people"), "possible", ())
        ]

    def _bricks(self, line_set: Thing, loading: Loading) -> Bricks:
        arbor = line_set.parts["arbor"]
        assert isinstance(arbor, Thing), "a set with bricks has an arbor"
        needed = self.facts.value(arbor, "counterweight_needed")
        has_doubt = isinstance(needed, Bounds) and not needed.is_exact
        clear = self.told.text(arbor, "clear_height")
        return Bricks(
            needed=self._force(Bounds.exactly(loading.needed)),
            span=self.told.text(arbor, "counterweight_needed") if has_doubt else "",
            lines=tuple(
                BrickLine(size, str(there), str(load), str(there + load))
                for size, there, load in zip(loading.sizes, loading.there, loading.load, strict=True)
            ),
            load=loading.in_words(loading.load),
            there_from=loading.there_from,
            left_over=self._left_over(loading.left_over),
            stack=f"{self.told.text(arbor, 'stack_needed')} of {clear} between the plates",
            plate=self._plate(arbor),
        )

    def _plate(self, arbor: Thing) -> str:
        """What counts against the arbor's plate, and what that allows."""
        carried, capacity = (self.told.text(arbor, one) for one in ("carried_needed", "capacity"))
        if isinstance(self.facts.value(arbor, "capacity"), Bounds):
            return f"{carried} of {capacity} on its plate"
        return f"{carried} against its plate, which is {capacity}"

    def _left_over(self, left: float) -> str:
        return self.told.side(Bounds.exactly(-left))

    def _force(self, bounds: Bounds) -> str:
        return write(bounds, FORCE, self.system)

    def _trims(self, line_set: Thing, its: Iterable[ItemVerdict]) -> Iterator[Trim]:
        """Every height that a piece asks for; a cue's only where no trim has it already."""
        for verdict in its:
            item, title = verdict.item, self.words.item(verdict).title
            if self.facts.value(item, "in_trim") is not NONE:
                pipe = self.facts.value(item, "pipe_for_in_trim")
                yield self._trim(line_set, title, "in", item, "pipe_for_in_trim", pipe, "in_trim")
            if self.facts.value(item, "out_trim") is not NONE:
                pipe = self.facts.value(item, "out_trim")
                yield self._trim(line_set, title, "out", item, "out_trim", pipe, "bottom_at_out")
            parked = self.facts.value(item, "trims")
            for height in parked.values if isinstance(parked, Each) else (parked,):
                if isinstance(height, Bounds):
                    text = write(height, LENGTH, self.system)
                    bottom = self._bottom(item, height)
                    yield Trim(title, "parked", text, bottom, self._hand_line(line_set, height))
            named = [self.facts.value(item, one) for one in ("pipe_for_in_trim", "out_trim")]
            for cue in cues_of(self.facts, item):
                for end in ("from", "to"):
                    height = self.facts.value(cue, end)
                    if any(_is_same(height, one) for one in named):
                        continue
                    what = f"{cue.key}, {end}"
                    yield self._trim(line_set, title, what, cue, end, height, "")

    def _trim(
        self, line_set: Thing, title: str, what: str, thing: Thing, fact: str, pipe: object, bottom: str
    ) -> Trim:
        return Trim(
            item=title,
            what=what,
            pipe=self.told.text(thing, fact),
            bottom=self.told.text(thing, bottom) if bottom else "",
            hand_line=self._hand_line(line_set, pipe),
        )

    def _bottom(self, item: Thing, pipe: Bounds) -> str:
        """Height of a piece's bottom with its pipe at a height; empty where its size is not known."""
        down, height = (self.facts.value(item, name) for name in ("drop_to_top", "height"))
        if not isinstance(down, Bounds) or not isinstance(height, Bounds):
            return ""
        return write(pipe - down - height, LENGTH, self.system)

    def _reach(self, line_set: Thing) -> str:
        """Where the stack stands with the pipe in, and from where it can be loaded."""
        arbor = line_set.parts["arbor"]
        assert isinstance(arbor, Thing), "a set with bricks has an arbor"
        ends = [self.facts.value(arbor, one) for one in ("foot_with_pipe_in", "stack_top_with_pipe_in")]
        if not all(isinstance(one, Bounds) and one.low > -inf and one.high < inf for one in ends):
            return ""
        floors = [
            f"{one.key.removeprefix('loading bridge ')} {self.told.text(one, 'height')}"
            for one in self.audit.rig.house.members("bridges")
        ]
        foot, top = (
            write(Bounds.exactly(one.high), LENGTH, self.system) for one in ends if isinstance(one, Bounds)
        )
        named = f" Floors of the loading bridges: {listed(floors)}." if floors else ""
        return f"With the pipe in, the stack stands from {foot} up to {top} at most.{named}"

    def _hand_line(self, line_set: Thing, pipe: object) -> str:
        """How far the hand line, which goes with the arbor, has moved from where it is at the low trim."""
        low, p = (self.facts.value(line_set, name) for name in ("low_trim", "purchase"))
        if not (isinstance(pipe, Bounds) and isinstance(low, Bounds) and isinstance(p, Bounds) and p.low > 0):
            return ""
        return write((pipe - low) / p, LENGTH, self.system)

    def _heights(self, line_set: Thing) -> Iterator[tuple[str, str]]:
        yield "Low trim of the pipe", self.told.text(line_set, "low_trim")
        yield "Highest the pipe can go", self.told.text(line_set, "highest_pipe")
        yield "Out of balance at the ends of its working trims", self.told.text(line_set, "imbalance_in_show")

    def _lines(self, line_set: Thing) -> Iterator[LinePull]:
        for line in line_set.members("lift_lines"):
            yield LinePull(
                key=line.key,
                at=self.told.text(line, "at"),
                pull=self.told.text(line, "reaction_hung"),
                least=self.told.text(line, "pull_least_hung"),
                limit=self.told.limit(line, "tension_limit"),
                used=self.told.share(line, "utilisation_hung"),
            )

    def _notes(self, worst: ItemState, its: Sequence[ItemVerdict]) -> Iterator[str]:
        if worst is ItemState.CANNOT_BE_TOLD or any(one.also_open for one in its):
            yield _OPEN
        for verdict in its:
            plan = self.facts.value(verdict.item, "taller_than_trim_plan")
            if isinstance(plan, Name):
                yield (
                    f"Item {verdict.key} is taller than the low trim: hang and load it in stages by the plan "
                    f"{plan.text}. The steps here are for the whole piece; the plan has the weights of each stage."
                )

    def others(self) -> Iterator[OtherPaper]:
        """Pieces that hang on no set."""
        for verdict in self.verdicts:
            if verdict.set_verdict is not None:
                continue
            why = _PEOPLE.get(verdict.people, "")
            if not why and verdict.state is ItemState.DOES_NOT_HANG:
                why = _STOP
            figures = () if why else tuple(self._of_carrier(verdict))
            yield OtherPaper(self.words.item(verdict), figures, why)

    def _of_carrier(self, verdict: ItemVerdict) -> Iterator[tuple[str, str]]:
        yield "All-up weight", self.told.text(verdict.item, "total_weight")
        carrier = verdict.carrier
        if carrier is None:
            return
        if carrier.kind.name == "truss":
            yield "Truss and all on it", self.told.text(carrier, "total_weight")
            yield "Trim of its bottom chord", self.told.text(carrier, "trim")
        for thing in rigging_above(carrier):
            if thing.kind.name == "hoist":
                yield f"{thing.key}: on its hook at rest", self.told.text(thing, "load_share")
                yield f"{thing.key}: its point carries", self.told.text(thing, "load_on_point")
            elif thing.kind.name == "bridle":
                yield f"{thing.key}: at its apex", self.told.text(thing, "load")
                yield f"{thing.key}: height of its apex", self.told.text(thing, "apex_height")
                yield f"{thing.key}: level pull of its legs", self.told.text(thing, "horizontal")
            elif thing.kind.name == "point":
                yield f"{thing.key}: downward", self.told.text(thing, "force_down")
                yield f"{thing.key}: sideways", self.told.text(thing, "force_sideways")

    def stock(self) -> Iterator[StockLine]:
        """The house's bricks, over all its sets, the heaviest first."""
        for one in heaviest_first(self.facts, self.audit.rig.house):
            yield StockLine(
                size=one.key,
                weight=self.told.as_recorded(one, "weight"),
                needed=self.told.text(one, "needed"),
                stock=self.told.text(one, "stock"),
            )

    def to_spare(self) -> str:
        """What is left of the stock, or short."""
        return self.told.text(show_plot(self.audit), "bricks_to_spare")

    def stand_in(self) -> Iterator[str]:
        """Which bricks make up exactly one of another size, in weight and in height."""
        held = heaviest_first(self.facts, self.audit.rig.house)
        for thick in held:
            for thin in held:
                times = [self._times(thick, thin, fact) for fact in ("weight", "thickness")]
                if times[0] is not None and times[0] == times[1] and times[0] > 1:
                    yield f"Where {thick.key} runs out, {times[0]} of {thin.key} stand in for one."

    def _times(self, thick: Thing, thin: Thing, fact: str) -> int | None:
        """How many of one make up the other, where that is a whole number."""
        one, other = self.facts.value(thick, fact), self.facts.value(thin, fact)
        if (
            not isinstance(one, Bounds)
            or not isinstance(other, Bounds)
            or not 0 < other.low <= other.high < inf
        ):
            return None
        times = (one.low + one.high) / (other.low + other.high)
        return round(times) if abs(times - round(times)) < _WHOLE else None

    def loaded(self, sizes: Sequence[str]) -> tuple[str, ...]:
        """Bricks of each size that go on by these papers; nothing where none are told."""
        if not self.loadings:
            return ()
        counts = [dict(zip(one.sizes, one.load, strict=True)) for one in self.loadings.values()]
        return tuple(str(sum(one[size] for one in counts)) for size in sizes)


def _is_same(one: object, other: object) -> bool:
    """Whether two heights are one mark on the hand line."""
    if not isinstance(one, Bounds) or not isinstance(other, Bounds):
        return False
    return same(one.low, other.low) and same(one.high, other.high)


def _once(reasons: Iterable[ShowReason]) -> tuple[ShowReason, ...]:
    return tuple(dict.fromkeys(reasons))
