"""Nodes to sketches: which things are written, of which kind, in which layers; every short form undone.

No fact is read here. What stands under a fact of a thing is one thing, or a list or path of things, each
written in place, named as typical, or changed by a layer above.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from plumbtrue.documents.nearest_word import nearest
from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import Problem
from plumbtrue.rig.complaints import Complaints, a, did_you_mean, listed, shown
from plumbtrue.rig.fact_values import nobody_knows
from plumbtrue.rig.layers import Entry, Layer, Loan, Sketch, Slot, Unidentified, Written
from plumbtrue.rig.node_forms import by_key, is_word
from plumbtrue.rig.offering import is_nobody_knows, list_offered, thing_offered
from plumbtrue.rig.short_forms import LineTemplate, is_template, written_out_bolts, written_out_weights
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.typical_things import TypicalThings, Wanted
from plumbtrue.rig.vocabulary import Fact, Kind, Vocabulary


class Sketcher:
    """Sketches the things of one document.

    With `siblings_lend`, `like:` may also name another thing of the same list, as in a plot.
    """

    def __init__(self, vocabulary: Vocabulary, complaints: Complaints, *, siblings_lend: bool) -> None:
        self.vocabulary = vocabulary
        self.complaints = complaints
        self.siblings_lend = siblings_lend
        self.typical = TypicalThings(vocabulary, complaints)

    def single(self, thing: Thing, fact: Fact, written: list[Written]) -> Sketch | None:
        """One thing, with the layers under it as far as they add to it.

        A layer that says what the thing is like stands for all of it, and so does a layer of another kind.
        """
        layers: list[Layer] = []
        kind: Kind | None = None
        for one in written:
            if kind is not None and is_word(one.node, "none", "unknown"):
                break
            sketch = self._sketch(one.node, Slot(fact, thing, one.loan))
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
        return Sketch(kind, tuple(layers), written[0].node.place, loan=written[0].loan)

    def entries(self, thing: Thing, fact: Fact, written: list[Written]) -> list[Entry] | None:
        """The things of a list or path, with what the layers above change of single parts; nothing with the
        problem told where there is no list to change.
        """
        if fact.of == "bolts":
            return self._bolts(thing, fact, written)
        patches: list[Written] = []
        for one in written:
            if self._is_patch(fact, one.node):
                patches.append(one)
            elif patches and is_word(one.node, "none", "unknown"):
                break
            else:
                entries = self.listed_in(one.node, Slot(fact, thing, one.loan))
                for patch in reversed(patches):
                    entries = self._patched(entries, patch, fact)
                return entries
        what = f"this changes parts of {fact.name}, but no list of parts is written for it"
        instead = f"write {list_offered(fact, self.vocabulary)}"
        self.complaints.say(patches[0].node, "patch-of-nothing", what, instead)
        return None

    def _bolts(self, thing: Thing, fact: Fact, written: list[Written]) -> list[Entry]:
        """Bolts, layer over layer: what a map says of those of a place stands above what is drawn of them.

        So `bolts: {count: 3}` leaves the drawn number as it is. A list, or a word, replaces them all.
        """
        found: list[list[Entry]] = []
        for one in written:
            if found and is_word(one.node, "none", "unknown"):
                break
            found.append(self.listed_in(one.node, Slot(fact, thing, one.loan)))
            if not isinstance(one.node, Mapping) or one.node.get("like") is not None:
                break
        entries: list[Entry] = []
        for above in reversed(found):
            entries = _laid_over(above, entries)
        return entries

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
            if is_word(value, "none"):
                removed.append(index)
            elif is_word(value, "unknown"):
                found[index] = Unidentified(value)
            else:
                found[index] = self._patched_part(found[index], name, value, patch.loan)
        return [entry for index, entry in enumerate(found) if index not in removed]

    def _part_meant(self, entries: list[Entry], name: Scalar, fact: Fact) -> int | None:
        """Which part a patch is about: the first of its kind, or the one with the number (`shackle.2`)."""
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
        layers, lent = self.layers(value, loan, None)
        if lent is not None and lent is not entry.kind:
            self.like_of_another_kind(value, entry.kind, lent)
            return entry
        under = entry.layers if lent is None else ()
        return replace(entry, layers=(*layers, *under))

    def _sketch(self, node: Node, slot: Slot) -> Sketch | None:
        """The thing that a node stands for: written in place, or a typical thing's or a kind's bare name."""
        fact = slot.fact
        if isinstance(node, Sequence):
            what = f"{fact.name} takes one thing here, not a list"
            self.complaints.say(node, "value-of-wrong-form", what, "write one thing: {…}")
            return None
        if isinstance(node, Scalar):
            return self._named(node, slot)
        named = self.kind_named(node)
        if isinstance(named, Problem):
            self.complaints.add(named)
            return None
        layers, lent = self.layers(node, slot.loan, slot.user, fact)
        kind = named or self.vocabulary.kinds.get(fact.of or "") or lent
        if kind is None:
            if node.get("like") is None:
                self._kind_missing(node, fact)
            return None
        if lent is not None and lent is not kind:
            self.like_of_another_kind(node, kind, lent)
            return None
        sketch = Sketch(kind, layers, node.place, loan=self.typical.around(node, slot.loan))
        return sketch if self._may_stand(kind, node, fact) else None

    def _kind_missing(self, node: Node, fact: Fact) -> None:
        what = f"{fact.name} does not say what kind of part this is"
        instead = f"write part: and one of {listed(self._words_under(fact))}"
        self.complaints.say(node, "part-kind-missing", what, instead)

    def like_of_another_kind(self, node: Mapping, wanted: Kind, lent: Kind) -> None:
        """Tell that a thing is said to be like a thing of another kind."""
        what = f"{a(wanted)} cannot be like {a(lent)}"
        self.complaints.say(node.get("like") or node, "like-kind", what, f"name a typical {wanted.word}")

    def layers(
        self, node: Mapping, loan: Loan | None, user: Thing | None, fact: Fact | None = None
    ) -> tuple[tuple[Layer, ...], Kind | None]:
        """A thing's own layer with those under it, and the kind of what it is like. `fact` is the one under
        which it stands, where it stands under one.
        """
        loan = self.typical.around(node, loan)
        own = Layer(node, loan)
        like = self.typical.heads.of(node).like
        if like is None:
            return (own,), None
        if not isinstance(like, Scalar) or not like.text:
            what = "like: takes the name of a typical thing"
            self.complaints.say(like, "like-not-a-name", what, "write like: and its name")
            return (own,), None
        lent = self.typical.lend(like, loan, user, self._lenders(fact) if fact is not None else None)
        return (own, *(lent.layers if lent else ())), lent.kind if lent else None

    def _lenders(self, fact: Fact) -> Wanted:
        """Which typical things could have been meant under a fact, and what else could be written."""
        kind = self.vocabulary.kinds.get(fact.of or "")
        offer = f"write {thing_offered(fact, self.vocabulary)}, or " if kind and fact.type == "thing" else ""
        return Wanted(self.vocabulary.kinds_of(fact.of or "part"), kind, offer)

    def kind_named(self, node: Mapping) -> Kind | Problem | None:
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
        what = f"{a(kind)} cannot stand under {fact.name}"
        self.complaints.say(node, "kind-elsewhere", what, f"write one of {listed(words)}")
        return False

    def _words_under(self, fact: Fact) -> list[str]:
        return sorted(
            self.vocabulary.kinds[name].word for name in self.vocabulary.kinds_of(fact.of or "part")
        )

    def _named(self, node: Scalar, slot: Slot) -> Sketch | None:
        """What a bare name stands for: a typical thing, or a part of which no more is said (`- thimble`)."""
        fact = slot.fact
        if node.is_empty:
            self.complaints.say(
                node, "value-not-written", f"nothing is written for {fact.name}", "leave it out, or write {…}"
            )
            return None
        if is_nobody_knows(node.text):
            nobody_knows(fact, node, self.complaints)
            return None
        several_kinds = self._holds_parts(fact)
        kind = self.vocabulary.kinds.get(node.text.replace("-", "_"))
        if kind is not None and several_kinds and not self.typical.has(node.text):
            bare = Sketch(
                kind, (Layer(Mapping((), node.place, node.used), slot.loan),), node.place, loan=slot.loan
            )
            return bare if self._may_stand(kind, node, fact) else None
        lent = self.typical.lend(
            node, slot.loan, slot.user, self._lenders(fact), self._words_under(fact) if several_kinds else ()
        )
        if lent is None or lent.kind is None or not self._may_stand(lent.kind, node, fact):
            return None
        return Sketch(lent.kind, lent.layers, node.place, loan=slot.loan)

    def _holds_parts(self, fact: Fact) -> bool:
        """Whether a path or list holds things of several kinds, so that each has to say its own."""
        return fact.type == "path" or fact.of in self.vocabulary.classes

    def listed_in(self, node: Node, slot: Slot) -> list[Entry]:
        """The things of a list or path before they are read, every short form undone."""
        fact, slot = slot.fact, slot.through(self.typical.around(node, slot.loan))
        if isinstance(node, Mapping):
            return list(self._from_mapping(node, slot))
        if isinstance(node, Scalar):
            if self.typical.is_path(node.text) and self._holds_parts(fact):
                return self._typical_path(node, slot)
            self._not_a_list(node, fact)
            return []
        self.typical.siblings.append(by_key(node) if self.siblings_lend else None)
        found = [entry for item in node.items for entry in self._entry(item, slot)]
        self.typical.siblings.pop()
        return found

    def _typical_path(self, name: Scalar, slot: Slot) -> list[Entry]:
        def entries(node: Sequence, lent: Loan) -> list[Entry]:
            return self.listed_in(node, Slot(slot.fact, None, lent))

        return self.typical.path(name, slot.loan, slot.user, entries)

    def _entry(self, item: Node, slot: Slot) -> Iterable[Entry]:
        fact = slot.fact
        self.typical.count(item.place)
        if is_word(item, "unknown"):
            return (Unidentified(item),)
        if is_word(item, "none"):
            instead = f"write {fact.name}: none when there is nothing at all"
            self.complaints.say(item, "none-in-list", "none cannot stand in a list", instead)
            return ()
        if isinstance(item, Scalar) and self.typical.is_path(item.text) and self._holds_parts(fact):
            return self._typical_path(item, slot)
        if isinstance(item, Mapping) and fact.of == "weights":
            return self._from_mapping(item, slot)
        sketch = self._sketch(item, slot)
        return () if sketch is None else (sketch,)

    def _from_mapping(self, node: Mapping, slot: Slot) -> Iterator[Entry]:
        fact = slot.fact
        if fact.of == "weights":
            for one in written_out_weights(node):
                yield from self._one(one, None, slot)
        elif fact.of == "bolts":
            for key, value in written_out_bolts(node, self.vocabulary.kinds["bolts"]):
                yield from self._one(value, key, slot)
        elif fact.of == "lift_line" and is_template(node):
            kind = self.vocabulary.kinds["lift_line"]
            for mark, layers in LineTemplate(node, slot.loan, self.complaints).lines():
                expanded = [
                    one for layer in layers for one in self.layers(layer.node, layer.loan, slot.user)[0]
                ]
                yield Sketch(kind, tuple(expanded), mark.place, loan=slot.loan)
        else:
            self.complaints.say(
                node,
                "value-of-wrong-form",
                f"{fact.name} takes a list",
                f"write {list_offered(fact, self.vocabulary)}",
            )

    def _not_a_list(self, node: Scalar, fact: Fact) -> None:
        """Tell that a text stands where a list of things does."""
        parts = self._holds_parts(fact)
        what = f"{fact.name} takes a list{', or the name of a typical path' if parts else ''}"
        if self.typical.has(node.text) or (parts and node.text in self._words_under(fact)):
            instead = f"write {fact.name}: [{node.text}]"
        else:
            names = [name for name in self.typical.nodes if self.typical.is_path(name)] if parts else []
            near = nearest(node.text, self._words_under(fact)) if parts else None
            offered = (
                f"{fact.name}: [{near}, …], its parts in order from the rope's end"
                if near and fact.type == "path"
                else list_offered(fact, self.vocabulary)
            )
            instead = did_you_mean(node.text, names, f"write {offered}")
        self.complaints.say(node, "value-of-wrong-form", what, instead)

    def _one(self, node: Node, key: Scalar | None, slot: Slot) -> Iterator[Entry]:
        if is_word(node, "unknown"):
            yield Unidentified(node)
        elif (sketch := self._sketch(node, slot)) is not None:
            yield replace(sketch, key=key)


def _laid_over(above: list[Entry], below: list[Entry]) -> list[Entry]:
    """Bolts of each place with what a layer above says of them; bolts of other places than those drawn
    replace them.
    """
    drawn = {_place_of(one): one for one in below if isinstance(one, Sketch)}
    said = {_place_of(one): one for one in above if isinstance(one, Sketch)}
    if len(drawn) < len(below) or len(said) < len(above) or (None in said) != (None in drawn):
        return above
    laid: dict[str | None, Entry] = dict(drawn)
    for place, one in said.items():
        under = drawn[place].layers if place in drawn else ()
        laid[place] = replace(one, layers=(*one.layers, *under))
    return list(laid.values())


def _place_of(bolts: Sketch) -> str | None:
    return bolts.key.text if bolts.key is not None else None
