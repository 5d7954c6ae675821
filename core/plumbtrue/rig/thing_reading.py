"""Nodes to things: every mistake told, every fact with the place where it was written.

A thing is read from layers (see `layers`): its own lines, what an exception says of it, and what its
typical thing lends. Nothing here knows what a house or a plot is.
"""

from math import inf
from typing import Final

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import NONE, UNKNOWN, Each, Name
from plumbtrue.rig.complaints import Complaints, a
from plumbtrue.rig.fact_recording import FactRecorder, recorded_as
from plumbtrue.rig.fact_values import none_refused
from plumbtrue.rig.keys import key_in_list, key_of_single, lists_called_by_role, number_alike
from plumbtrue.rig.layers import Entry, Loan, Sketch, Slot, Unidentified, Written
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.node_forms import is_word, scalars, value_node
from plumbtrue.rig.offering import instead_of_key
from plumbtrue.rig.seeing import SeenBlocks
from plumbtrue.rig.sketching import Sketcher
from plumbtrue.rig.thing import Recorded, Seen, Thing
from plumbtrue.rig.typical_things import TypicalThings
from plumbtrue.rig.vocabulary import Fact, Kind, Nature, Vocabulary

THING_KEYS: Final = ("like", "part", "kind", "seen", "key")
"""Keys that a thing may have beside its facts."""

PATH: Final = Fact("path", "parts in order from the rope's end outward", "path", "identity")
"""What a typical path is read as."""


@unchanging
class ReadingRules:
    """What may be written in a document of this sort."""

    lent: frozenset[Nature] = frozenset({"identity"})
    """Natures of facts that a typical thing may carry."""
    siblings_lend: bool = False
    """Whether `like:` may also name another thing of the same list, as in a plot."""
    computed_too: bool = False
    """Whether facts may be written that the program computes, as in the examples of a rule."""
    keys_needed: bool = True
    """Whether a thing that cannot be told apart without a key has to have one."""


OF_A_RIG: Final = ReadingRules()


@unchanging
class Reference:
    """A fact that names other things, to be looked up when every thing is read."""

    thing: Thing
    fact: Fact
    nodes: tuple[Scalar, ...]


@unchanging
class Around:
    """What a thing takes from the things around it."""

    parent: Thing | None = None
    seen: Seen | None = None
    vouched_by: Seen | None = None


class ThingReader:
    """Reads the things of one document."""

    def __init__(
        self, vocabulary: Vocabulary, complaints: Complaints, rules: ReadingRules = OF_A_RIG
    ) -> None:
        self.vocabulary = vocabulary
        self.complaints = complaints
        self.rules = rules
        self.seen_blocks = SeenBlocks(complaints)
        self._sketcher = Sketcher(vocabulary, complaints, siblings_lend=rules.siblings_lend)
        self._recorder = FactRecorder(complaints, self.seen_blocks)
        self.references: list[Reference] = []
        self._drawing = False
        self._order: dict[str, dict[str, int]] = {}
        self._called_by_role: dict[str, frozenset[str]] = {}

    @property
    def typical(self) -> TypicalThings:
        """The typical things of the document."""
        return self._sketcher.typical

    def thing(self, sketch: Sketch, key: str, role: str, around: Around) -> Thing:
        """One thing with everything in it.

        Raises:
            TooManyThings: with the problem told.
        """
        self.typical.count(sketch.place)
        kind = sketch.kind
        thing = Thing(kind, key, sketch.place, around.parent, role)
        thing.used = sketch.loan.used if sketch.loan is not None else None
        written = self._written(sketch)
        thing.seen, thing.vouched_by = self._seen(written.pop("seen", None), thing, around)
        inner = Around(thing, thing.seen, thing.vouched_by)
        for name in sorted(written, key=self._order_of(kind).__getitem__):
            fact = kind.facts[name]
            if fact.holds_things or (fact.is_computed and fact.type in ("thing", "list of things")):
                self._part(thing, fact, written[name], inner)
            else:
                self._fact(thing, fact, written[name][0])
        self._keep_notes(thing)
        return thing

    def typical_things(self) -> None:
        """Read every typical thing by itself, to tell what is wrong with it, used or not."""
        self._drawing = True
        for name, node in self.typical.nodes.items():
            self.complaints.typical = name
            with self.typical.opened(name):
                if isinstance(node, Sequence):
                    drawing = Thing(self.vocabulary.kinds["lift_line"], name, node.place)
                    self._read_list(
                        drawing,
                        PATH,
                        self._sketcher.listed_in(node, Slot(PATH, drawing, None)),
                        Around(drawing),
                    )
                elif isinstance(node, Mapping):
                    self._typical_thing(name, node)
        self.complaints.typical = None
        self._drawing = False

    def _typical_thing(self, name: str, node: Mapping) -> None:
        named = self._sketcher.kind_named(node)
        if isinstance(named, Problem):
            self.complaints.add(named)
            return
        layers, lent = self._sketcher.layers(node, None, None)
        kind = named or lent
        if kind is None:
            if node.get("like") is None:
                what = f"{name} does not say what kind of thing it is"
                self.complaints.say(node, "typical-kind", what, "write kind: in it, such as kind: rope")
        elif lent is not None and lent is not kind:
            self._sketcher.like_of_another_kind(node, kind, lent)
        else:
            self.thing(Sketch(kind, layers, node.place), name, name, Around())

    def _written(self, sketch: Sketch) -> dict[str, list[Written]]:
        """What is written about a thing, by fact, uppermost layer first; lower ones where they may add."""
        facts = sketch.kind.facts
        found: dict[str, list[Written]] = {}
        for layer, loan in sketch.layers:
            for key, node in layer.entries:
                name = key.text
                fact = facts.get(name)
                if fact is None or (fact.is_computed and not self.rules.computed_too):
                    if name == "seen":
                        found.setdefault(name, [Written(key, node, loan)])
                    elif name not in THING_KEYS:
                        self._no_such_fact(sketch.kind, key, fact)
                elif self._drawing and not _is_drawing(loan) and not self._may_be_lent(fact):
                    self._not_lent(sketch.kind, key, fact)
                elif name not in found:
                    found[name] = [Written(key, node, loan)]
                elif fact.holds_things:
                    found[name].append(Written(key, node, loan))
        return found

    def _no_such_fact(self, kind: Kind, key: Scalar, fact: Fact | None) -> None:
        if fact is not None:
            what = f"{key.text} of {a(kind)} is computed, not written"
            self.complaints.say(
                key, "fact-is-computed", what, f"write what it is computed from ({fact.source})"
            )
            return
        permitted = [*(name for name, one in kind.facts.items() if not one.is_computed), *THING_KEYS]
        instead = instead_of_key(kind, key.text, permitted, self.vocabulary)
        self.complaints.say(key, "key-unknown", f"{a(kind)} has no {key.text}", instead)

    def _may_be_lent(self, fact: Fact) -> bool:
        return fact.lent or fact.nature in self.rules.lent

    def _not_lent(self, kind: Kind, key: Scalar, fact: Fact) -> None:
        why = {
            "condition": "is a state that only somebody who looked at the very thing can tell",
            "record": "is on record for one thing, not for all that are like it",
            "posted": "is laid down for one thing, not for all that are like it",
            "now": "is how one thing stands today",
        }.get(fact.nature, "is not what a thing is")
        what = f"{key.text} of {a(kind)} {why}, so a typical thing cannot carry it"
        self.complaints.say(
            key, "like-carries-state", what, f"write {key.text} where the thing itself is written"
        )

    def _order_of(self, kind: Kind) -> dict[str, int]:
        order = self._order.get(kind.name)
        if order is None:
            order = self._order[kind.name] = {name: number for number, name in enumerate(kind.facts)}
        return order

    def _seen(
        self, written: list[Written] | None, thing: Thing, around: Around
    ) -> tuple[Seen | None, Seen | None]:
        if written is None:
            return around.seen, around.vouched_by
        key, node = written[0].key, written[0].node
        if self._drawing or _is_drawing(written[0].loan):
            what = "a typical thing is a drawing, which nobody has seen"
            self.complaints.say(
                key, "like-carries-state", what, "write seen: where the thing itself is written"
            )
            return around.seen, around.vouched_by
        seen = self.seen_blocks.read(node)
        if seen is None:
            return None, None  # A block that cannot be read vouches for nothing; its problem is told.
        photos = node.get("photos") if isinstance(node, Mapping) else None
        thing.photos += tuple(one.text for one in scalars(photos)) if photos is not None else ()
        if seen.in_order:
            return seen, seen
        return seen, None if seen.says_in_order else around.vouched_by

    def _keep_notes(self, thing: Thing) -> None:
        note = thing.facts.get("note")
        if note is not None and isinstance(note.value, Name):
            thing.note = note.value.text
        thing.photos += _names(thing.facts.get("photos"))
        thing.formerly = _names(thing.facts.get("formerly"))

    def _fact(self, thing: Thing, fact: Fact, written: Written) -> None:
        recorded = self._recorder.record(fact, written, thing.seen)
        if recorded is None:
            return
        thing.facts[fact.name] = recorded
        names_things = fact.type in ("reference", "list of reference") and isinstance(
            recorded.value, Name | Each
        )
        if names_things and not self._drawing:
            self.references.append(Reference(thing, fact, scalars(value_node(written.node))))

    def _part(self, thing: Thing, fact: Fact, written: list[Written], around: Around) -> None:
        top = written[0]
        if is_word(top.node, "none", "unknown") or self._long_form_word(top.node):
            self._not_there(thing, fact, top)
        elif fact.type == "thing":
            sketch = self._sketcher.single(thing, fact, written)
            if sketch is not None:
                thing.parts[fact.name] = self.thing(sketch, key_of_single(fact.name), fact.name, around)
        else:
            entries = self._sketcher.entries(thing, fact, written)
            if entries is not None:
                self._read_list(thing, fact, entries, around)

    def _long_form_word(self, node: Node) -> bool:
        """Whether a part is written as `{is: none, note: …}` or `{is: unknown, note: …}`."""
        return isinstance(node, Mapping) and is_word(node.get("is"), "none", "unknown")

    def _not_there(self, thing: Thing, fact: Fact, written: Written) -> None:
        node = value_node(written.node)
        beside = self._recorder.beside(written.node, thing.seen)
        value = UNKNOWN if is_word(node, "unknown") else NONE
        if value is NONE and not fact.may_be_none:
            none_refused(fact, node, self.complaints)
            return
        thing.facts[fact.name] = recorded_as(value, node, written.loan, beside)
        thing.parts[fact.name] = value

    def _read_list(self, thing: Thing, fact: Fact, entries: list[Entry], around: Around) -> None:
        called = fact.name.replace("_", " ") if fact.name in self._lists_called_by_role(thing.kind) else None
        things: list[Thing] = []
        first: dict[str, Place] = {}
        for entry in entries:
            if isinstance(entry, Unidentified):
                thing.unlisted.add(fact.name)
                continue
            own = self._own_key(entry)
            key = key_in_list(entry.kind, own.text if own else "", called)
            if entry.kind.key_wanted and self.rules.keys_needed:
                self._check_key(entry, own, key, first)
            things.append(self.thing(entry, key, fact.name, around))
        number_alike(things)
        if fact.type != "path" and all(one.kind.key_wanted for one in things):
            # In which order somebody wrote them says nothing, and must not show in what a finding says of all.
            things.sort(key=lambda one: natural_order(one.key))
        if fact.of == "weights" and not fact.signed:
            self._refuse_weights_taken_off(things)
        thing.parts[fact.name] = tuple(things)

    def _refuse_weights_taken_off(self, weights: list[Thing]) -> None:
        """A count below nought says that weights are taken off, which nothing can be that lies somewhere."""
        for one in weights:
            count = one.facts.get("count")
            if count is not None and isinstance(count.value, Bounds) and -inf < count.value.low < 0:
                what = (
                    f"count: “{count.text}” goes below nought; these weights lie there and are not taken off"
                )
                instead = "write how many lie there"
                self.complaints.add(
                    Problem("figure-below-nought", count.place, what, instead, length=len(count.text))
                )

    def _lists_called_by_role(self, kind: Kind) -> frozenset[str]:
        lists = self._called_by_role.get(kind.name)
        if lists is None:
            lists = self._called_by_role[kind.name] = lists_called_by_role(kind)
        return lists

    def _own_key(self, sketch: Sketch) -> Scalar | None:
        """What tells a thing from its like: its key, or else the facts that its kind is keyed by."""
        if sketch.key is not None:
            return sketch.key
        key = self.typical.heads.of(
            sketch.layers[0].node
        ).key  # Never a lent one: a key belongs to one thing.
        if isinstance(key, Scalar) and key.text:
            return key
        if key is not None:
            self.complaints.say(key, "key-wrong", "key: takes a name", "write key: and a short name")
        found = [node for name in sketch.kind.keyed_by if (node := _in_layers(sketch, name)) is not None]
        if not found:
            return None
        return Scalar(" ".join(node.text for node in found), found[0].place, length=found[0].length)

    def _check_key(self, sketch: Sketch, own: Scalar | None, key: str, first: dict[str, Place]) -> None:
        wanted = sketch.kind.keyed_by[0] if sketch.kind.keyed_by else "key"
        if own is None:
            if all(layer.node.get(wanted) is None for layer in sketch.layers):
                called = sketch.kind.word.replace("-", " ")
                what = f"this {called} has no {wanted}, so nothing lasting can be said about it"
                instead = f"write {wanted}: in it ({sketch.kind.key})"
                self.complaints.add(Problem("key-missing", sketch.place, what, instead))
            return
        if key in first:
            what, instead = f"{key} is written twice", f"give one of the two another {wanted}"
            earlier = (f"first written at {first[key]}",)
            self.complaints.add(Problem("key-given-twice", own.place, what, instead, own.length, earlier))
        first.setdefault(key, own.place)


def _is_drawing(loan: Loan | None) -> bool:
    return loan is not None and loan.is_drawing


def _names(recorded: Recorded | None) -> tuple[str, ...]:
    if recorded is None or not isinstance(recorded.value, Each):
        return ()
    return tuple(one.text for one in recorded.value.values if isinstance(one, Name))


def _in_layers(sketch: Sketch, name: str) -> Scalar | None:
    """A fact's text in the uppermost layer that has it."""
    for layer in sketch.layers:
        node = layer.node.get(name)
        if node is not None:
            node = value_node(node)
            return node if isinstance(node, Scalar) and node.text else None
    return None
