"""`like:` lends what is written of a typical thing; every value still knows where it was written and used."""

from textwrap import dedent

import pytest

from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import Place, Problem
from plumbtrue.documents.reading import read_text
from plumbtrue.documents.typical import TypicalThings, lent_entries


def typical_in(root: Mapping, whole: tuple[str, ...] = ()) -> TypicalThings:
    named = root.get("typical")
    return TypicalThings(named.entries if isinstance(named, Mapping) else (), whole=whole)


def resolved(text: str, whole: tuple[str, ...] = ()) -> tuple[Node, tuple[Problem, ...]]:
    """What stands under `use:` with every like undone, and all problems."""
    root = read_text(dedent(text), "house.yaml")
    typical, use = typical_in(root, whole), root.get("use")
    assert use is not None
    outcome = typical.resolve(use)
    return outcome.node, typical.problems + outcome.problems


def sound(text: str, whole: tuple[str, ...] = ()) -> Mapping:
    node, problems = resolved(text, whole)
    assert problems == ()
    assert isinstance(node, Mapping)
    return node


def plain(node: Node) -> object:
    match node:
        case Scalar():
            return node.text
        case Sequence():
            return [plain(item) for item in node]
        case Mapping():
            return {key.text: plain(value) for key, value in node}


def test_own_keys_win_over_lent_ones() -> None:
    use = sound("""
        typical: {gac: {diameter: 1/4 in, material: galvanized}}
        use: {like: gac, material: stainless, installed: 1979}
    """)
    assert plain(use) == {"material": "stainless", "installed": "1979", "diameter": "1/4 in"}


def test_where_like_stands_among_the_keys_makes_no_difference() -> None:
    first = sound("typical: {gac: {a: 1, b: 2}}\nuse: {like: gac, b: 3}\n")
    last = sound("typical: {gac: {a: 1, b: 2}}\nuse: {b: 3, like: gac}\n")
    assert plain(first) == plain(last) == {"b": "3", "a": "1"}


def test_a_lent_value_keeps_its_place_and_says_where_it_took_effect() -> None:
    use = sound("typical:\n  gac: {diameter: 1/4 in}\nuse:\n  like: gac\n")
    lent = use.get("diameter")
    assert lent is not None
    assert lent.like is not None
    assert (lent.place, lent.used) == (Place("house.yaml", 2, 19), Place("house.yaml", 4, 9))
    assert (lent.like.name, lent.like.where) == ("gac", Place("house.yaml", 4, 9))


def test_lent_entries_are_told_apart_from_written_ones() -> None:
    use = sound("typical: {gac: {a: 1}}\nuse: {like: gac, b: 2}\n")
    assert {key: loan.name for key, loan in lent_entries(use).items()} == {"a": "gac"}
    assert [(key.text, key.like and key.like.name) for key, _ in use] == [("b", None), ("a", "gac")]


def test_everything_below_a_lent_value_is_lent_too() -> None:
    use = sound("typical: {end: {path: [{part: thimble}]}}\nuse: {like: end}\n")
    path = use.get("path")
    assert isinstance(path, Sequence)
    (thimble,) = path
    assert isinstance(thimble, Mapping)
    part = thimble.get("part")
    assert part is not None
    assert part.like is not None
    assert (part.like.name, part.used) == ("end", Place("house.yaml", 2, 13))


def test_a_typical_thing_may_be_like_another() -> None:
    use = sound("""
        typical:
          gac: {diameter: 1/4 in, material: galvanized}
          bright: {like: gac, material: bright}
        use: {like: bright}
    """)
    assert plain(use) == {"material": "bright", "diameter": "1/4 in"}
    diameter = use.get("diameter")
    assert diameter is not None
    assert diameter.like is not None
    assert diameter.like.names() == ("bright", "gac")
    assert diameter.used == Place("house.yaml", 5, 13)


def test_a_list_is_lent_whole() -> None:
    node, problems = resolved(
        "typical: {end-w: [sleeve, {like: t}], t: {part: thimble}}\nuse: {like: end-w}\n"
    )
    assert problems == ()
    assert plain(node) == ["sleeve", {"part": "thimble"}]


def test_a_mapping_inside_is_filled_up() -> None:
    """The head block is drawn with its bolts; the witness mark was seen on the real ones."""
    use = sound("""
        typical: {hb: {bolts: {count: 4, grade: j429-5}}}
        use: {like: hb, bolts: {witness_mark: in-line}}
    """)
    assert plain(use) == {"bolts": {"witness_mark": "in-line", "count": "4", "grade": "j429-5"}}
    bolts = use.get("bolts")
    assert isinstance(bolts, Mapping)
    assert set(lent_entries(bolts)) == {"count", "grade"}


def test_a_mapping_that_says_what_it_is_like_is_not_mixed_with_the_lent_one() -> None:
    """A manila rope does not get the construction of the wire rope that stands in the typical set."""
    use = sound("""
        typical:
          wire: {family: wire, construction: 7x19}
          manila: {family: manila}
          line: {rope: {like: wire}}
        use: {like: line, rope: {like: manila, installed: 2021}}
    """)
    assert plain(use) == {"rope": {"installed": "2021", "family": "manila"}}


def test_a_mapping_that_is_one_value_is_replaced_whole() -> None:
    text = "typical: {a: {weights: {brick-28: 14}}}\nuse: {like: a, weights: {brick-14: 1}}\n"
    assert plain(sound(text, whole=("weights",))) == {"weights": {"brick-14": "1"}}


@pytest.mark.parametrize("own", ["none", "[]"])
def test_a_text_or_list_replaces_what_is_lent(own: str) -> None:
    use = sound(f"typical: {{a: {{splices: {{at: 1}}}}}}\nuse: {{like: a, splices: {own}}}\n")
    assert plain(use.get("splices") or use) in ("none", [])


def test_a_part_without_like_is_handed_back_as_it_is() -> None:
    root = read_text("typical: {a: {b: 1}}\nuse: {c: [{d: 1}], e: {like: a}}\n", "h")
    use = root.get("use")
    assert isinstance(use, Mapping)
    node = typical_in(root).resolve(use).node
    assert isinstance(node, Mapping)
    assert node.get("c") is use.get("c")


def test_a_misspelt_name_is_offered_the_nearest() -> None:
    _, (problem,) = resolved("typical: {gac: {a: 1}}\nuse: {like: gax}\n")
    assert (problem.slug, problem.where, problem.length) == ("like-unknown", Place("house.yaml", 2, 13), 3)
    assert problem.instead == "did you mean gac?"


def test_a_name_that_is_near_to_none_is_shown_some() -> None:
    names = ", ".join(f"t{number}: {{x: 1}}" for number in range(10))
    _, (problem,) = resolved(f"typical: {{{names}}}\nuse: {{like: swage-sleeve}}\n")
    assert problem.instead == "write one of those under typical:, such as t0, t1, t2, t3, t4, t5, t6, t7"
    _, (problem,) = resolved("use: {like: gac}\n")
    assert problem.instead == "write it down under typical: first"


def test_a_misspelt_name_inside_a_typical_thing_is_told_once_used_or_not() -> None:
    _, problems = resolved("typical: {a: {like: bb}, bc: {x: 1}}\nuse: [{like: a}, {like: a}]\n")
    assert [(problem.slug, problem.where.line) for problem in problems] == [("like-unknown", 1)]


def test_a_circle_is_told_once_with_its_names() -> None:
    _, problems = resolved("""
        typical:
          a: {x: {like: b}}
          b: {like: c, y: 1}
          c: {z: [{like: a}]}
        use: [{like: a}, {like: b}]
    """)
    assert [problem.slug for problem in problems] == ["like-circle"]
    assert "a, which is like b, which is like c, which is like a" in problems[0].what


def test_a_thing_like_itself_is_a_circle() -> None:
    _, (problem,) = resolved("typical: {a: {like: a}}\nuse: {like: a}\n")
    assert problem.slug == "like-circle"


def test_two_things_like_a_third_are_no_circle() -> None:
    assert sound("typical: {a: {p: {like: c}, q: {like: b}}, b: {like: c}, c: {x: 1}}\nuse: {like: a}\n")


def test_a_long_chain_does_not_break_the_search_for_circles() -> None:
    links = "".join(f"  t{n}: {{like: t{n + 1}}}\n" for n in range(3000))
    _, problems = resolved("typical:\n" + links + "  t3000: {like: t0}\nuse: {like: t3000}\n")
    assert [problem.slug for problem in problems] == ["like-circle", "like-limit"]


@pytest.mark.parametrize("name", ["[a]", "{a: 1}", "", "''"])
def test_like_takes_one_name(name: str) -> None:
    _, (problem,) = resolved(f"typical: {{a: {{x: 1}}}}\nuse: {{like: {name}}}\n")
    assert problem.slug == "like-not-a-name"


def test_keys_beside_the_name_of_a_list_have_nothing_to_belong_to() -> None:
    _, (problem,) = resolved("typical: {end-w: [thimble]}\nuse: {like: end-w, count: 3}\n")
    assert problem.slug == "like-does-not-fit"


def test_a_bare_name_is_lent_when_somebody_knows_that_it_may_stand_there() -> None:
    root = read_text("typical: {end-w: [{like: t}, t], t: {part: thimble}}\nuse: [end-w, trim-chain]\n", "h")
    typical, use = typical_in(root), root.get("use")
    assert isinstance(use, Sequence)
    name, other = use
    assert isinstance(name, Scalar)
    assert isinstance(other, Scalar)
    lent = typical.lend(name)
    assert lent is not None
    assert plain(lent.node) == [{"part": "thimble"}, "t"]
    assert (lent.node.used, typical.lend(other)) == (Place("h", 2, 7), None)


def test_a_bare_name_inside_a_lent_list_keeps_the_outermost_use_and_finds_circles() -> None:
    root = read_text("typical: {a: [b], b: [a]}\nuse: a\n", "h")
    typical, name = typical_in(root), root.get("use")
    for _ in range(2):
        assert isinstance(name, Scalar)
        lent = typical.lend(name)
        assert lent is not None
        assert isinstance(lent.node, Sequence)
        (name,) = lent.node
        assert name.used == Place("h", 2, 6)
    assert isinstance(name, Scalar)
    closing = typical.lend(name)
    assert closing is not None
    assert [problem.slug for problem in closing.problems] == ["like-circle"]


def test_what_an_alias_names_says_where_the_alias_stood() -> None:
    """Two likes reach one rope by an alias: what is lent took effect where the alias stands."""
    use = sound("typical: {gac: {d: 1}}\nkeep: &r {like: gac}\nuse: {rope: *r}\n")
    rope = use.get("rope")
    assert isinstance(rope, Mapping)
    lent = rope.get("d")
    assert lent is not None
    assert (rope.used, lent.used) == (Place("house.yaml", 3, 13), Place("house.yaml", 3, 13))
