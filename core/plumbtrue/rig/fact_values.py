"""What is written for one fact, as a value: by the fact's type, with a problem where it cannot be that.

Things, paths and lists of things are not read here.
"""

from collections.abc import Callable
from math import inf

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import TEMPERATURE
from plumbtrue.quantities.reading import (
    read_count,
    read_date,
    read_quantity,
    read_ratio,
    read_spot,
    read_spots,
)
from plumbtrue.quantities.unreadable import Unreadable, quoted
from plumbtrue.quantities.values import NONE, UNKNOWN, Choice, Each, Name, Spot, Value, WordSet
from plumbtrue.rig.complaints import Complaints, did_you_mean, listed, shown
from plumbtrue.rig.offering import is_nobody_knows
from plumbtrue.rig.vocabulary import Fact

YES_NO = ("yes", "no")

_TEXTS = ("name", "text", "list of name", "list of text", "reference", "list of reference")


def read_value(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
    """The value of a fact, or nothing with the problem told."""
    if isinstance(node, Scalar):
        if node.is_empty:
            complaints.say(
                node, "value-not-written", f"nothing is written for {fact.name}", _how_to_write(fact)
            )
            return None
        if not node.quoted:
            if node.text == "unknown":
                return UNKNOWN
            if node.text == "none" and not (fact.words and "none" in fact.words):
                if fact.may_be_none:
                    return NONE
                none_refused(fact, node, complaints)
                return None
        if fact.type not in _TEXTS and is_nobody_knows(node.text) and node.text not in (fact.words or ()):
            nobody_knows(fact, node, complaints)
            return None
    if isinstance(node, Mapping):
        complaints.say(
            node,
            "value-of-wrong-form",
            f"{fact.name} takes {_a_value(fact)}, not keys and values",
            _how_to_write(fact),
        )
        return None
    return _READERS[fact.type](fact, node, complaints)


def none_refused(fact: Fact, node: Node, complaints: Complaints) -> None:
    """Tell that a fact cannot be `none`."""
    instead = (
        "write no"
        if fact.type == "yes/no"
        else f"leave {fact.name} out, or write unknown and say why in a note"
    )
    complaints.say(node, "none-not-allowed", f"{fact.name} cannot be none: there always is one", instead)


def nobody_knows(fact: Fact, node: Scalar, complaints: Complaints) -> None:
    """Tell how to write that nobody knows."""
    what = f"{fact.name} cannot be {shown(node)}"
    instead = f"leave {fact.name} out, or write unknown when somebody looked and could not tell"
    complaints.say(node, "nobody-knows", what, instead)


def _scalar(fact: Fact, node: Node, complaints: Complaints) -> Scalar | None:
    """The node as a single text; a list of one counts as that one."""
    if isinstance(node, Scalar):
        if node.is_empty:
            complaints.say(
                node, "value-not-written", f"nothing is written for {fact.name}", _how_to_write(fact)
            )
            return None
        return node
    complaints.say(
        node, "value-of-wrong-form", f"{fact.name} takes {_a_value(fact)}, not a list", _how_to_write(fact)
    )
    return None


def _measured(read: Callable[[str, Fact], Bounds | Unreadable]) -> "Reader":
    def one(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
        scalar = _scalar(fact, node, complaints)
        if scalar is None:
            return None
        found = read(scalar.text, fact)
        if isinstance(found, Unreadable):
            asked = found.slug == "count-not-whole" or scalar.text.lower() in ("yes", "no", "true", "false")
            meant = f"; {fact.name} is: {fact.meaning}" if asked else ""
            complaints.say(scalar, found.slug, f"{fact.name}: {found.what}", f"write {found.instead}{meant}")
            return None
        return None if _is_below_nought(fact, found, scalar, complaints) else found

    return _one_or_each(one)


def _is_below_nought(fact: Fact, found: Bounds, scalar: Scalar, complaints: Complaints) -> bool:
    """Whether a figure is less than nothing where that says nothing: a weight below nought would lighten all that it
    is added to. A bound without a lower end, such as `at most 5 kg`, is not, nor is what follows from other figures.
    """
    may_be = fact.signed or fact.is_computed or fact.type == "date" or fact.dimension == TEMPERATURE
    if may_be or not -inf < found.low < 0:
        return False
    complaints.say(
        scalar,
        "figure-below-nought",
        f"{fact.name}: {quoted(scalar.text)} goes below nought; {fact.name} is: {fact.meaning}",
        "write it without the minus, or as a bound that begins at nought or above",
    )
    return True


def _one_or_each(one: "Reader") -> "Reader":
    def read(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
        if fact.one_or_each and isinstance(node, Sequence):
            return _each(fact, node, complaints, one)
        return one(fact, node, complaints)

    return read


def _each(fact: Fact, node: Sequence, complaints: Complaints, one: "Reader") -> Value | None:
    values: list[Value | None] = []
    for item in node.items:
        if isinstance(item, Scalar) and item.text == "unknown" and not item.quoted:
            values.append(UNKNOWN)
        else:
            values.append(one(fact, item, complaints))
    return None if None in values else Each(tuple(value for value in values if value is not None))


def _word(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
    scalar = _scalar(fact, node, complaints)
    if scalar is None:
        return None
    word = _permitted(fact, scalar, complaints)
    return None if word is None else Choice(frozenset({word}))


def _words(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
    items = node.items if isinstance(node, Sequence) else (node,)
    found: list[str] = []
    perhaps = frozenset[str]()
    good = True
    for item in items:
        scalar = _scalar(fact, item, complaints)
        if scalar is not None and scalar.text == "unknown" and not scalar.quoted:
            perhaps = frozenset(fact.words or ())
            continue
        word = None if scalar is None else _permitted(fact, scalar, complaints)
        good = good and word is not None
        found.append(word or "")
    words = frozenset(found)
    return WordSet(words, perhaps - words) if good else None


def _permitted(fact: Fact, scalar: Scalar, complaints: Complaints) -> str | None:
    words = fact.words or {}
    if scalar.text in words:
        return scalar.text
    permitted = [*words, *(("none",) if fact.may_be_none else ())]
    if scalar.text == "no" and fact.may_be_none:
        instead = "write none when it was looked for and is not there"
        complaints.say(scalar, "word-not-permitted", f"{fact.name} is not answered with no", instead)
        return None
    complaints.say(
        scalar,
        "word-not-permitted",
        f"{fact.name} cannot be {shown(scalar)}",
        did_you_mean(scalar.text, permitted, f"write one of {listed(permitted)}"),
    )
    return None


def _yes_no(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
    scalar = _scalar(fact, node, complaints)
    if scalar is None:
        return None
    if scalar.text in YES_NO:
        return Choice(frozenset({scalar.text}))
    instead = {"true": "write yes", "false": "write no"}.get(scalar.text.lower(), "write yes or no")
    complaints.say(scalar, "yes-or-no", f"{fact.name} is yes or no, not {shown(scalar)}", instead)
    return None


def _spot(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
    scalar = _scalar(fact, node, complaints)
    if scalar is None:
        return None
    found = read_spot(scalar.text)
    if isinstance(found, Unreadable):
        complaints.say(scalar, found.slug, f"{fact.name}: {found.what}", f"write {found.instead}")
        return None
    return found


def _spots(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
    values: list[Spot] = []
    good = True
    for item in node.items if isinstance(node, Sequence) else (node,):
        scalar = _scalar(fact, item, complaints)
        found = None if scalar is None else read_spots(scalar.text)
        if isinstance(found, Unreadable):
            assert scalar is not None
            complaints.say(scalar, found.slug, f"{fact.name}: {found.what}", f"write {found.instead}")
            found = None
        good = good and found is not None
        values.extend(found or ())
    return Each(tuple(values)) if good else None


def _name(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
    scalar = _scalar(fact, node, complaints)
    return None if scalar is None else Name(scalar.text)


def _list_of(one: "Reader") -> "Reader":
    def read(fact: Fact, node: Node, complaints: Complaints) -> Value | None:
        if isinstance(node, Sequence):
            return _each(fact, node, complaints, one)
        value = one(fact, node, complaints)
        return None if value is None else Each((value,))

    return read


Reader = Callable[[Fact, Node, Complaints], Value | None]

_quantity = _measured(
    lambda text, fact: read_quantity(text, fact.dimension) if fact.dimension else read_ratio(text)
)

_READERS: dict[str, Reader] = {
    "quantity": _quantity,
    "count": _measured(lambda text, fact: read_count(text)),
    "ratio": _measured(lambda text, fact: read_ratio(text)),
    "date": _measured(lambda text, fact: read_date(text)),
    "yes/no": _yes_no,
    "word": _one_or_each(_word),
    "list of words": _words,
    "place": _spot,
    "list of place": _spots,
    "name": _name,
    "text": _name,
    "list of name": _list_of(_name),
    "list of text": _list_of(_name),
    "list of quantity": _list_of(_quantity),
    "reference": _name,
    "list of reference": _list_of(_name),
    "truth": _yes_no,
}


def _a_value(fact: Fact) -> str:
    return {
        "word": "one word",
        "list of words": "a list of words",
        "yes/no": "yes or no",
        "date": "a date",
        "count": "a whole number",
        "ratio": "a number",
        "place": "a place along the batten",
        "list of place": "places along the batten",
        "name": "a name",
        "text": "a text",
        "reference": "the key of a thing",
    }.get(fact.type, "a value" if fact.type.startswith("list") else "a single value")


def _how_to_write(fact: Fact) -> str:
    if fact.words:
        return f"write one of {listed([*fact.words, *(('none',) if fact.may_be_none else ())])}"
    if fact.type == "yes/no":
        return "write yes or no"
    return f"write {fact.name}: and {_a_value(fact)}, or leave it out when nobody knows"
