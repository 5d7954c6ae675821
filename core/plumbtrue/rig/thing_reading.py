"""Nodes to things: every short form undone, every mistake told, every fact with the place where it was
written.

A thing is read from layers (see `layers`): its own lines, what an exception says of it, and what its
typical thing lends. Nothing here knows what a house or a plot is.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.values import NONE, UNKNOWN, Each, Name, Value
from plumbtrue.rig.complaints import Complaints, did_you_mean, listed, shown
from plumbtrue.rig.fact_values import none_refused, read_value
from plumbtrue.rig.keys import key_in_list, key_of_single, lists_called_by_role, number_alike
from plumbtrue.rig.layers import Layer, Loan, Sketch, Unidentified
from plumbtrue.rig.seeing import SeenBlocks
from plumbtrue.rig.short_forms import LineTemplate, is_template, written_out_bolts, written_out_weights
from plumbtrue.rig.thing import Origin, Recorded, Seen, Thing
from plumbtrue.rig.typical_things import TypicalThings
from plumbtrue.rig.vocabulary import Fact, Kind, Nature, Vocabulary

THING_KEYS: Final = ("like", "part", "kind", "seen", "key")
"""Keys that a thing may have beside its facts."""

LONG_FORM: Final = ("is", "seen", "note", "photo")
"""Keys of a fact in its long form."""

TEXT_LENGTH: Final = 80
"""Longest text of a fact that is kept for print."""

MOST_THINGS: Final = 200_000
"""Most things that are read of one document. A house of a hundred sets holds some 7,000."""

PATH: Final = Fact("path", "parts in order from the rope's end outward", "path", "identity")
"""What a typical path is read as."""

Entry = Sketch | Unidentified


class TooManyThings(Exception):  # noqa: N818 (no error of ours: the problem is already noted)
    """Going on would take for ever: typical things made of one another stand for too many parts."""


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Reference:
    """A fact that names other things, to be looked up when every thing is read."""

    thing: Thing
    fact: Fact
    nodes: tuple[Scalar, ...]


@dataclass(frozen=True, slots=True)
class Written:
    """One fact of a thing as it stands in one layer."""

    key: Scalar
    node: Node
    loan: Loan | None


class Beside(NamedTuple):
    """Who saw a fact, and what is said about it."""

    seen: Seen | None
    note: str | None = None
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
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
        self.typical = TypicalThings(vocabulary, complaints)
        self.references: list[Reference] = []
        self._drawing = False
        self._order: dict[str, dict[str, int]] = {}
        self._called_by_role: dict[str, frozenset[str]] = {}
        self._recorded: dict[tuple[int, int, int, int], Recorded | None] = {}
        self._kept: list[Node] = []
        self._made = 0

    # ---- things

    def thing(self, sketch: Sketch, key: str, role: str, around: Around) -> Thing:
        """One thing with everything in it.

        Raises:
            TooManyThings: with the problem told.
        """
        self._count(sketch.place)
        kind = sketch.kind
        thing = Thing(kind, key, sketch.place, around.parent, role)
        written = self._written(sketch)
        thing.seen, thing.vouched_by = self._seen(written.pop("seen", None), thing, around)
        inner = Around(thing, thing.seen, thing.vouched_by)
        for name in sorted(written, key=self._order_of(kind).__getitem__):
            fact = kind.facts[name]
            if fact.holds_things:
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
                    self._read_list(drawing, PATH, self._entries(PATH, node, None, drawing), Around(drawing))
                elif isinstance(node, Mapping):
                    self._typical_thing(name, node)
        self.complaints.typical = None
        self._drawing = False

    def _typical_thing(self, name: str, node: Mapping) -> None:
        named = self._kind_named(node)
        if isinstance(named, Problem):
            self.complaints.add(named)
            return
        layers, lent = self._layers(node, None, None)
        kind = named or lent
        if kind is None:
            if node.get("like") is None:
                what = f"{name} does not say what kind of thing it is"
                self.complaints.say(node, "typical-kind", what, "write kind: in it, such as kind: rope")
        elif lent is not None and lent is not kind:
            self._like_of_another_kind(node, kind, lent)
        else:
            self.thing(Sketch(kind, layers, node.place), name, name, Around())

    def _written(self, sketch: Sketch) -> dict[str, list[Written]]:
        """What is written about a thing, by fact, the uppermost layer first; lower ones only where they may
        add to it.
        """
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
                elif self._drawing and not _is_drawing(loan) and fact.nature not in self.rules.lent:
                    self._not_lent(sketch.kind, key, fact)
                elif name not in found:
                    found[name] = [Written(key, node, loan)]
                elif fact.holds_things:
                    found[name].append(Written(key, node, loan))
        return found

    def _no_such_fact(self, kind: Kind, key: Scalar, fact: Fact | None) -> None:
        if fact is not None:
            what = f"{key.text} of a {kind.word} is computed, not written"
            self.complaints.say(
                key, "fact-is-computed", what, f"write what it is computed from ({fact.source})"
            )
            return
        permitted = [*(name for name, one in kind.facts.items() if not one.is_computed), *THING_KEYS]
        elsewhere = [other.word for other in self.vocabulary.kinds.values() if key.text in other.facts]
        otherwise = (
            f"it is a fact of {listed(elsewhere, 6)}" if elsewhere else f"write one of {listed(permitted)}"
        )
        self.complaints.say(
            key,
            "key-unknown",
            f"a {kind.word} has no {key.text}",
            did_you_mean(key.text, permitted, otherwise),
        )

    def _not_lent(self, kind: Kind, key: Scalar, fact: Fact) -> None:
        why = {
            "condition": "is a state that only somebody who looked at the very thing can tell",
            "record": "is on record for one thing, not for all that are like it",
            "posted": "is laid down for one thing, not for all that are like it",
            "now": "is how one thing stands today",
        }.get(fact.nature, "is not what a thing is")
        what = f"{key.text} of a {kind.word} {why}, so a typical thing cannot carry it"
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
        thing.photos += tuple(one.text for one in _scalars(photos)) if photos is not None else ()
        if seen.in_order:
            return seen, seen
        return seen, None if seen.says_in_order else around.vouched_by

    def _count(self, where: Place) -> None:
        self._made += 1
        if self._made > MOST_THINGS:
            what = f"with every typical thing written out, this stands for more than {MOST_THINGS:,} things"
            instead = "let typical things name fewer others"
            self.complaints.add(Problem("like-limit", where, what, instead))
            raise TooManyThings

    def _keep_notes(self, thing: Thing) -> None:
        note = thing.facts.get("note")
        if note is not None and isinstance(note.value, Name):
            thing.note = note.value.text
        thing.photos += _names(thing.facts.get("photos"))
        thing.formerly = _names(thing.facts.get("formerly"))

    # ---- facts

    def _fact(self, thing: Thing, fact: Fact, written: Written) -> None:
        recorded = self._record(fact, written, thing.seen)
        if recorded is None:
            return
        thing.facts[fact.name] = recorded
        names_things = fact.type in ("reference", "list of reference") and isinstance(
            recorded.value, Name | Each
        )
        if names_things and not self._drawing:
            self.references.append(Reference(thing, fact, _scalars(_value_node(written.node))))

    def _record(self, fact: Fact, written: Written, seen: Seen | None) -> Recorded | None:
        """A fact as somebody wrote it. What stands in many things (`each`, `like`) is read once."""
        node, loan = written.node, written.loan
        key = (id(node), id(fact), id(loan), id(seen))
        if key not in self._recorded:
            self._kept.append(node)  # An id means something only as long as the node is there.
            self._recorded[key] = self._fresh_record(fact, node, loan, seen)
        return self._recorded[key]

    def _fresh_record(self, fact: Fact, node: Node, loan: Loan | None, seen: Seen | None) -> Recorded | None:
        value = read_value(fact, _value_node(node), self.complaints)
        beside = self._beside(node, seen)
        return None if value is None else _recorded(value, _value_node(node), loan, beside)

    def _beside(self, node: Node, seen: Seen | None) -> Beside:
        """What stands beside a value in the long form of a fact; in its short form nothing does."""
        if not isinstance(node, Mapping) or node.get("is") is None:
            return Beside(seen)
        note: str | None = None
        photos: tuple[str, ...] = ()
        for name, value in node:
            if name.text not in LONG_FORM:
                what = f"a fact in its long form has no {name.text}"
                self.complaints.say(name, "long-form-key", what, did_you_mean(name.text, LONG_FORM))
            elif name.text == "seen":
                seen = self.seen_blocks.read(value)
            elif name.text == "photo":
                photos = tuple(one.text for one in _scalars(value))
            elif name.text == "note" and isinstance(value, Scalar):
                note = value.text
            elif name.text == "note":
                self.complaints.say(
                    value, "value-of-wrong-form", "a note is a text", "write note: and the text"
                )
        return Beside(seen, note, photos)

    # ---- parts

    def _part(self, thing: Thing, fact: Fact, written: list[Written], around: Around) -> None:
        top = written[0]
        if _is_word(top.node, "none", "unknown") or self._long_form_word(top.node):
            self._not_there(thing, fact, top)
        elif fact.type == "thing":
            sketch = self._single(thing, fact, written)
            if sketch is not None:
                thing.parts[fact.name] = self.thing(sketch, key_of_single(fact.name), fact.name, around)
        else:
            entries = self._list(thing, fact, written)
            if entries is not None:
                self._read_list(thing, fact, entries, around)

    def _long_form_word(self, node: Node) -> bool:
        """Whether a part is written as `{is: none, note: …}` or `{is: unknown, note: …}`."""
        return isinstance(node, Mapping) and _is_word(node.get("is"), "none", "unknown")

    def _not_there(self, thing: Thing, fact: Fact, written: Written) -> None:
        node = _value_node(written.node)
        beside = self._beside(written.node, thing.seen)
        value = UNKNOWN if _is_word(node, "unknown") else NONE
        if value is NONE and not fact.may_be_none:
            none_refused(fact, node, self.complaints)
            return
        thing.facts[fact.name] = _recorded(value, node, written.loan, beside)
        thing.parts[fact.name] = value

    def _single(self, thing: Thing, fact: Fact, written: list[Written]) -> Sketch | None:
        """One thing, with the layers under it as far as they add to it.

        A layer that says what the thing is like stands for all of it, and so does a layer of another kind.
        """
        layers: list[Layer] = []
        kind: Kind | None = None
        for one in written:
            if kind is not None and _is_word(one.node, "none", "unknown"):
                break
            sketch = self._sketch(one.node, fact, one.loan, thing)
            if sketch is None:
                return None
            if kind is not None and sketch.kind is not kind:
                break
            kind = sketch.kind
            layers.extend(sketch.layers)
            if isinstance(one.node, Scalar) or (
                isinstance(one.node, Mapping) and one.node.get("like") is not None
            ):
                break
        assert kind is not None
        return Sketch(kind, tuple(layers), written[0].node.place)

    def _sketch(self, node: Node, fact: Fact, loan: Loan | None, thing: Thing | None) -> Sketch | None:
        """The thing that a node stands for: written in place, or a typical thing's or a kind's bare name."""
        if isinstance(node, Sequence):
            what = f"{fact.name} takes one thing here, not a list"
            self.complaints.say(node, "value-of-wrong-form", what, "write one thing: {…}")
            return None
        if isinstance(node, Scalar):
            return self._named(node, fact, loan, thing)
        named = self._kind_named(node)
        if isinstance(named, Problem):
            self.complaints.add(named)
            return None
        layers, lent = self._layers(node, loan, thing)
        kind = named or self.vocabulary.kinds.get(fact.of or "") or lent
        if kind is None:
            if node.get("like") is None:
                self._kind_missing(node, fact)
            return None
        if lent is not None and lent is not kind:
            self._like_of_another_kind(node, kind, lent)
            return None
        return Sketch(kind, layers, node.place) if self._may_stand(kind, node, fact) else None

    def _kind_missing(self, node: Node, fact: Fact) -> None:
        what = f"{fact.name} does not say what kind of part this is"
        instead = f"write part: and one of {listed(self._words_under(fact))}"
        self.complaints.say(node, "part-kind-missing", what, instead)

    def _like_of_another_kind(self, node: Mapping, wanted: Kind, lent: Kind) -> None:
        what = f"a {wanted.word} cannot be like a {lent.word}"
        self.complaints.say(node.get("like") or node, "like-kind", what, f"name a typical {wanted.word}")

    def _layers(
        self, node: Mapping, loan: Loan | None, thing: Thing | None
    ) -> tuple[tuple[Layer, ...], Kind | None]:
        """A thing's own layer with those under it, and the kind of what it is like."""
        loan = self.typical.around(node, loan)
        own = Layer(node, loan)
        like = self.typical.heads.of(node).like
        if like is None:
            return (own,), None
        if not isinstance(like, Scalar) or not like.text:
            what = "like: takes the name of a typical thing"
            self.complaints.say(like, "like-not-a-name", what, "write like: and its name")
            return (own,), None
        lent = self.typical.lend(like, loan, thing)
        return (own, *(lent.layers if lent else ())), lent.kind if lent else None

    def _kind_named(self, node: Mapping) -> Kind | Problem | None:
        """The kind that a thing names itself under `part:` or `kind:`."""
        head = self.typical.heads.of(node)
        said = head.part or head.kind
        if said is None:
            return None
        kind = self.typical.kind_of(node)
        if kind is not None:
            return kind
        words = [one.word for one in self.vocabulary.kinds.values()]
        length = said.length if isinstance(said, Scalar) else 1
        instead = did_you_mean(shown(said), words, "the manual lists every kind")
        return Problem(
            "kind-unknown", said.place, f"there is no kind of part called {shown(said)}", instead, length
        )

    def _may_stand(self, kind: Kind, node: Node, fact: Fact) -> bool:
        of = fact.of or "part"
        if kind.name == of or of in kind.classes:
            return True
        words = self._words_under(fact)
        what = f"a {kind.word} cannot stand under {fact.name}"
        self.complaints.say(node, "kind-elsewhere", what, f"write one of {listed(words)}")
        return False

    def _words_under(self, fact: Fact) -> list[str]:
        return sorted(
            self.vocabulary.kinds[name].word for name in self.vocabulary.kinds_of(fact.of or "part")
        )

    def _named(self, node: Scalar, fact: Fact, loan: Loan | None, thing: Thing | None) -> Sketch | None:
        """What a bare name stands for: a typical thing, or a part of which nothing more is said (`-
        thimble`).
        """
        if node.is_empty:
            self.complaints.say(
                node, "value-not-written", f"nothing is written for {fact.name}", "leave it out, or write {…}"
            )
            return None
        several_kinds = self._holds_parts(fact)
        kind = self.vocabulary.kinds.get(node.text.replace("-", "_"))
        if kind is not None and several_kinds and not self.typical.has(node.text):
            bare = Sketch(kind, (Layer(Mapping((), node.place, node.used), loan),), node.place)
            return bare if self._may_stand(kind, node, fact) else None
        lent = self.typical.lend(node, loan, thing, also=self._words_under(fact) if several_kinds else ())
        if lent is None or lent.kind is None or not self._may_stand(lent.kind, node, fact):
            return None
        return Sketch(lent.kind, lent.layers, node.place)

    # ---- lists and paths

    def _list(self, thing: Thing, fact: Fact, written: list[Written]) -> list[Entry] | None:
        patches: list[Written] = []
        for one in written:
            if self._is_patch(fact, one.node):
                patches.append(one)
            elif patches and _is_word(one.node, "none", "unknown"):
                break
            else:
                entries = self._entries(fact, one.node, one.loan, thing)
                for patch in reversed(patches):
                    entries = self._patched(entries, patch, fact)
                return entries
        what = f"this changes parts of {fact.name}, but no list of parts is written for it"
        instead = f"write {fact.name}: and its parts as a list"
        self.complaints.say(patches[0].node, "patch-of-nothing", what, instead)
        return None

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
        thing.parts[fact.name] = tuple(things)

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
                what = f"this {sketch.kind.word} has no {wanted}, so nothing lasting can be said about it"
                instead = f"write {wanted}: in it ({sketch.kind.key})"
                self.complaints.add(Problem("key-missing", sketch.place, what, instead))
            return
        if key in first:
            what, instead = f"{key} is written twice", f"give one of the two another {wanted}"
            earlier = (f"first written at {first[key]}",)
            self.complaints.add(Problem("key-given-twice", own.place, what, instead, own.length, earlier))
        first.setdefault(key, own.place)

    def _holds_parts(self, fact: Fact) -> bool:
        """Whether a path or list holds things of several kinds, so that each has to say its own."""
        return fact.type == "path" or fact.of in self.vocabulary.classes

    def _is_patch(self, fact: Fact, node: Node) -> bool:
        """Whether a map changes single parts (`lower: {trim_chain: {…}}`) rather than being a thing."""
        if not isinstance(node, Mapping) or not self._holds_parts(fact):
            return False
        return not any(key.text in ("like", "part", "kind") for key, _ in node)

    def _patched(self, entries: list[Entry], patch: Written, fact: Fact) -> list[Entry]:
        assert isinstance(patch.node, Mapping)
        found = list(entries)
        removed: list[int] = []
        for name, value in patch.node:
            index = self._part_meant(found, name, fact)
            if index is None:
                continue
            if _is_word(value, "none"):
                removed.append(index)
            elif _is_word(value, "unknown"):
                found[index] = Unidentified(value)
            else:
                found[index] = self._patched_part(found[index], name, value, patch.loan)
        return [entry for index, entry in enumerate(found) if index not in removed]

    def _part_meant(self, entries: list[Entry], name: Scalar, fact: Fact) -> int | None:
        """Which part a patch is about: the only one of its kind, or the one whose number it gives
        (`shackle.2`).
        """
        word, _, number = name.text.replace("_", "-").partition(".")
        alike = [at for at, one in enumerate(entries) if isinstance(one, Sketch) and one.kind.word == word]
        which = int(number) if number.isdigit() else 1
        if 1 <= which <= len(alike):
            return alike[which - 1]
        words = [entry.kind.word for entry in entries if isinstance(entry, Sketch)]
        what = (
            f"{fact.name} has no {name.text}" if not alike else f"{fact.name} has only {len(alike)} of {word}"
        )
        otherwise = f"its parts are {listed(words)}; a list replaces them all"
        instead = otherwise if alike else did_you_mean(word, words, otherwise)
        self.complaints.say(name, "patch-unknown", what, instead)
        return None

    def _patched_part(self, entry: Entry, name: Scalar, value: Node, loan: Loan | None) -> Entry:
        if not isinstance(entry, Sketch):
            return entry
        if not isinstance(value, Mapping):
            what = f"{name.text} takes the facts that are otherwise there"
            self.complaints.say(value, "patch-wrong", what, f"write {name.text}: {{fact: value}}")
            return entry
        layers, lent = self._layers(value, loan, None)
        if lent is not None and lent is not entry.kind:
            self._like_of_another_kind(value, entry.kind, lent)
            return entry
        under = entry.layers if lent is None else ()
        return Sketch(entry.kind, (*layers, *under), entry.place, entry.key)

    def _entries(self, fact: Fact, node: Node, loan: Loan | None, thing: Thing | None) -> list[Entry]:
        """The things of a list or path before they are read, every short form undone."""
        loan = self.typical.around(node, loan)
        if isinstance(node, Mapping):
            return list(self._from_mapping(fact, node, loan, thing))
        if isinstance(node, Scalar):
            if self.typical.is_path(node.text) and self._holds_parts(fact):
                return self._typical_path(fact, node, loan, thing)
            what = (
                f"{fact.name} takes a list, or the name of a typical path"
                if self._holds_parts(fact)
                else f"{fact.name} takes a list"
            )
            names = [name for name in self.typical.nodes if self.typical.is_path(name)]
            self.complaints.say(
                node, "value-of-wrong-form", what, did_you_mean(node.text, names, "write […]")
            )
            return []
        self.typical.siblings.append(_by_key(node) if self.rules.siblings_lend else None)
        found = [entry for item in node.items for entry in self._entry(fact, item, loan, thing)]
        self.typical.siblings.pop()
        return found

    def _typical_path(self, fact: Fact, name: Scalar, loan: Loan | None, thing: Thing | None) -> list[Entry]:
        return self.typical.path(name, loan, thing, lambda node, lent: self._entries(fact, node, lent, None))

    def _entry(self, fact: Fact, item: Node, loan: Loan | None, thing: Thing | None) -> Iterable[Entry]:
        self._count(item.place)
        if _is_word(item, "unknown"):
            return (Unidentified(item),)
        if _is_word(item, "none"):
            instead = f"write {fact.name}: none when there is nothing at all"
            self.complaints.say(item, "none-in-list", "none cannot stand in a list", instead)
            return ()
        if isinstance(item, Scalar) and self.typical.is_path(item.text) and self._holds_parts(fact):
            return self._typical_path(fact, item, loan, thing)
        if isinstance(item, Mapping) and fact.of == "weights":
            return self._from_mapping(fact, item, loan, thing)
        sketch = self._sketch(item, fact, loan, thing)
        return () if sketch is None else (sketch,)

    def _from_mapping(
        self, fact: Fact, node: Mapping, loan: Loan | None, thing: Thing | None
    ) -> Iterator[Entry]:
        if fact.of == "weights":
            for one in written_out_weights(node):
                yield from self._one(one, None, fact, loan, thing)
        elif fact.of == "bolts":
            for key, value in written_out_bolts(node, self.vocabulary.kinds["bolts"]):
                yield from self._one(value, key, fact, loan, thing)
        elif fact.of == "lift_line" and is_template(node):
            kind = self.vocabulary.kinds["lift_line"]
            for mark, layers in LineTemplate(node, loan, self.complaints).lines():
                expanded = [one for layer in layers for one in self._layers(layer.node, layer.loan, thing)[0]]
                yield Sketch(kind, tuple(expanded), mark.place)
        else:
            self.complaints.say(
                node, "value-of-wrong-form", f"{fact.name} takes a list", f"write {fact.name}: [{{…}}]"
            )

    def _one(
        self, node: Node, key: Scalar | None, fact: Fact, loan: Loan | None, thing: Thing | None
    ) -> Iterator[Entry]:
        if _is_word(node, "unknown"):
            yield Unidentified(node)
        elif (sketch := self._sketch(node, fact, loan, thing)) is not None:
            yield Sketch(sketch.kind, sketch.layers, sketch.place, key)


def _is_drawing(loan: Loan | None) -> bool:
    return loan is not None and loan.is_drawing


def _is_word(node: Node | None, *words: str) -> bool:
    return isinstance(node, Scalar) and not node.quoted and node.text in words


def _value_node(node: Node) -> Node:
    """Where the value of a fact is written: in its long form under `is`."""
    value = node.get("is") if isinstance(node, Mapping) else None
    return node if value is None else value


def _recorded(value: Value, node: Node, loan: Loan | None, beside: Beside) -> Recorded:
    text, place = _text_of(node), node.place
    if loan is None:
        return Recorded(value, text, place, node.used, "written", None, *beside)
    origin: Origin = "like" if loan.is_drawing else "written"
    return Recorded(value, text, place, loan.used, origin, loan.name, *beside)


def _text_of(node: Node) -> str:
    if isinstance(node, Scalar):
        text = node.text
    else:
        text = ", ".join(scalar.text for scalar in _scalars(node))
    return text if len(text) <= TEXT_LENGTH else f"{text[: TEXT_LENGTH - 1]}…"


def _scalars(node: Node) -> tuple[Scalar, ...]:
    items = node.items if isinstance(node, Sequence) else (node,)
    return tuple(item for item in items if isinstance(item, Scalar))


def _names(recorded: Recorded | None) -> tuple[str, ...]:
    if recorded is None or not isinstance(recorded.value, Each):
        return ()
    return tuple(one.text for one in recorded.value.values if isinstance(one, Name))


def _in_layers(sketch: Sketch, name: str) -> Scalar | None:
    """A fact's text in the uppermost layer that has it."""
    for layer in sketch.layers:
        node = layer.node.get(name)
        if node is not None:
            node = _value_node(node)
            return node if isinstance(node, Scalar) and node.text else None
    return None


def _by_key(node: Sequence) -> dict[str, Mapping]:
    keyed = ((item.get("key"), item) for item in node.items if isinstance(item, Mapping))
    return {key.text: item for key, item in keyed if isinstance(key, Scalar)}
