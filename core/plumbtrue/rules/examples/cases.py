"""Examples of a rule as cases: the thing that each describes, the day judged, and the outcome that must
come out.
"""

from datetime import date
from typing import Final

from plumbtrue.documents.nodes import Mapping, Node, Scalar
from plumbtrue.documents.place import Place, Problem
from plumbtrue.facts.store import Facts
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.reading import read_one_thing
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.thing_reading import ReadingRules
from plumbtrue.rig.vocabulary import Kind, Vocabulary
from plumbtrue.rules.examples.placing import Placed, Sketch, place
from plumbtrue.rules.packs.form import Form
from plumbtrue.rules.result import Result
from plumbtrue.rules.rule import Rule

JUDGED_ON: Final = date(2026, 1, 1)
"""The day on which an example is judged where it names none."""

_OUTCOMES: Final = tuple(result.value for result in Result if result is not Result.NOT_RUN)
_ABOUT_THE_CASE: Final = ("outcome", "note", "on", "part")
_AS_IN_EXAMPLES: Final = ReadingRules(computed_too=True, keys_needed=False)


@unchanging
class ExampleRig:
    """What lies around the thing of an example, down from its root."""

    house: Thing
    vocabulary: Vocabulary
    plot: Thing | None = None
    units: str = "us"


@unchanging
class Case:
    """One example, put together."""

    expected: Result
    thing: Thing
    rig: ExampleRig
    on: date
    note: str
    place: Place

    def facts(self) -> Facts:
        """A fresh store of the facts of its things."""
        return Facts(self.rig, self.on)


def read_cases(rule: Rule, vocabulary: Vocabulary, problems: list[Problem]) -> tuple[Case, ...]:
    """The examples of a rule; one that cannot be put together is left out, with its problems noted.

    Raises:
        ValueError: the rule was read without its examples.
    """
    if rule.examples is None:
        raise ValueError(f"the rule {rule.slug} was read without its examples")
    cases = (_read_case(rule, example, vocabulary, problems) for example in rule.examples)
    return tuple(case for case in cases if case is not None)


def _read_case(rule: Rule, example: Mapping, vocabulary: Vocabulary, problems: list[Problem]) -> Case | None:
    noted = len(problems)
    form = Form(example, f"an example of {rule.slug}", problems)
    outcome = form.word("outcome", _OUTCOMES, wanted=True)
    on, note = form.date("on"), form.text("note")
    facts = tuple((key, node) for key, node in example if key.text not in _ABOUT_THE_CASE)
    kind = _kind(rule, form, facts, vocabulary)
    if kind is None or outcome is None or len(problems) > noted:
        return None
    placed = place(kind, facts, example.place, vocabulary, problems)
    if placed is None or len(problems) > noted:
        return None
    thing = _read(placed, vocabulary, problems)
    if thing is None or len(problems) > noted:
        return None
    return Case(
        Result(outcome),
        thing,
        ExampleRig(_outermost(thing), vocabulary, thing.enclosing("plot")),
        on or JUDGED_ON,
        note,
        example.place,
    )


def _kind(
    rule: Rule, form: Form, facts: tuple[tuple[Scalar, Node], ...], vocabulary: Vocabulary
) -> Kind | None:
    """The kind of the example's thing: the only one, the one it names, or the first that has all facts
    written.
    """
    named = form.scalar("part")
    kinds = [vocabulary.kinds[name] for name in sorted(rule.kinds)]
    if named is not None:
        kind = vocabulary.kinds.get(named.text.replace("-", "_"))
        if kind is None or kind.name not in rule.kinds:
            what = f"the rule {rule.slug} is not about {named.text}"
            form.problem(
                "example-kind", named.place, what, f"write one of {', '.join(one.word for one in kinds)}"
            )
            return None
        return kind
    first_steps = {key.text.split(".")[0] for key, _ in facts}
    known = first_steps & {fact for kind in kinds for fact in kind.facts}
    fitting = [kind for kind in kinds if known <= kind.facts.keys()]
    if not fitting:
        form.problem("example-kind", form.place, "no one kind of thing has all these facts", "name the part:")
        return None
    return fitting[0]


def _read(placed: Placed, vocabulary: Vocabulary, problems: list[Problem]) -> Thing | None:
    """Read the example as a rig file is read, and find its thing."""
    thing = _thing_of(placed.root, vocabulary, problems)
    _refer(placed.root, thing, vocabulary, problems)
    for fact, at in placed.steps:
        held = thing.parts.get(fact)
        found = held[at] if isinstance(held, tuple) and at < len(held) else held
        if not isinstance(found, Thing):
            return None
        thing = found
    return thing


def _thing_of(sketch: Sketch, vocabulary: Vocabulary, problems: list[Problem]) -> Thing:
    thing, found = read_one_thing(sketch.kind.name, sketch.node(), vocabulary, _AS_IN_EXAMPLES)
    problems.extend(found)
    return thing


def _refer(sketch: Sketch, thing: Thing, vocabulary: Vocabulary, problems: list[Problem]) -> None:
    """Give things what they name, where the example describes it."""
    for fact, named in sketch.references.items():
        thing.references[fact] = _thing_of(named, vocabulary, problems)
    for fact, inner in sketch.single.items():
        held = thing.parts.get(fact)
        if isinstance(held, Thing):
            _refer(inner, held, vocabulary, problems)
    for fact, several in sketch.lists.items():
        held_things = thing.parts.get(fact)
        sketches = [one for one in several if not (isinstance(one, Scalar) and one.text == "unknown")]
        for one, inner_thing in zip(
            sketches, held_things if isinstance(held_things, tuple) else (), strict=False
        ):
            if isinstance(one, Sketch):
                _refer(one, inner_thing, vocabulary, problems)


def _outermost(thing: Thing) -> Thing:
    while thing.parent is not None:
        thing = thing.parent
    return thing
