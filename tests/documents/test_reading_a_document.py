"""A document is read with the place of every value, and refused with every problem in it."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from plumbtrue.documents.decoding import lines_of
from plumbtrue.documents.nodes import Mapping, Node, Scalar, Sequence
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.documents.reading import (
    open_document,
    open_text,
    read_document,
    read_list,
    read_list_text,
    read_text,
)

Refuse = Callable[[str | bytes], tuple[Problem, ...]]
RefuseAsMarked = Callable[[str], tuple[Problem, ...]]


def scalars_in(node: Node) -> Iterator[Scalar]:
    match node:
        case Scalar():
            yield node
        case Sequence():
            for item in node:
                yield from scalars_in(item)
        case Mapping():
            for key, value in node:
                yield key
                yield from scalars_in(value)


def value(root: Mapping, *keys: str) -> Node:
    node: Node = root
    for key in keys:
        assert isinstance(node, Mapping)
        found = node.get(key)
        assert found is not None
        node = found
    return node


def test_a_value_knows_its_line_and_column() -> None:
    root = read_text("house:\n  name: Tarn Hollow   # invented\n  built: 1962\n", "house.yaml")
    assert value(root, "house", "built") == Scalar("1962", Place("house.yaml", 3, 10), length=4)


def test_columns_count_characters_not_bytes() -> None:
    """`é` takes two bytes, the mask four; an editor counts one for each."""
    root = read_text("{é: 🎭, größe: x}", "house.yaml")
    assert value(root, "größe").place == Place("house.yaml", 1, 15)


@pytest.mark.parametrize(
    "written",
    ["012", "1.10", "1_000", "no", "yes", "~", "1:30", "2026-02-10", "12'-6 1/2\"", "1/4 in", "0x10", "1e3"],
)
def test_text_stays_as_written(written: str) -> None:
    """YAML 1.1 reads `012` as ten, `no` as false and `1:30` as ninety (YAML 1.1 type repository, from
    memory).
    """
    node = value(read_text(f"a: {written}\n", "house.yaml"), "a")
    assert isinstance(node, Scalar)
    assert (node.text, node.quoted) == (written, False)


def test_quotes_are_told_apart_and_underlined() -> None:
    node = value(read_text('a: "010"\n', "house.yaml"), "a")
    assert node == Scalar("010", Place("house.yaml", 1, 4), quoted=True, length=5)


@pytest.mark.parametrize(("written", "is_empty"), [("", True), ("''", False), ("none", False)])
def test_a_value_that_is_not_written_is_empty(written: str, is_empty: bool) -> None:
    node = value(read_text(f"a: {written}\n", "house.yaml"), "a")
    assert isinstance(node, Scalar)
    assert node.is_empty is is_empty


def test_an_alias_keeps_both_places() -> None:
    root = read_text("gac: &gac {diameter: 1/4 in}\nrope: *gac\n", "house.yaml")
    rope = value(root, "rope")
    assert rope.place == Place("house.yaml", 1, 11)
    assert rope.used == Place("house.yaml", 2, 7)
    assert value(root, "gac").used is None
    assert value(root, "rope", "diameter") is value(root, "gac", "diameter")


@pytest.mark.parametrize(
    ("text", "line", "column", "length"),
    [
        pytest.param("a: &x foo\n", 1, 7, 3, id="on its line"),
        pytest.param("a: &x   # remark\n   'foo'\n", 2, 4, 5, id="on the next line"),
        pytest.param("a: &x\nb: 1\n", 1, 6, 1, id="nothing written"),
        pytest.param("a: &x |\n  long\n", 1, 7, 1, id="block of text"),
        pytest.param("a: &x\n  b: 1\n", 2, 3, 1, id="mapping"),
        pytest.param("a: &x [b]\n", 1, 7, 1, id="list"),
    ],
)
def test_the_place_of_an_anchored_value_is_the_value(text: str, line: int, column: int, length: int) -> None:
    node = value(read_text(text, "h"), "a")
    assert node.place == Place("h", line, column)
    assert getattr(node, "length", 1) == length


def test_line_ends_of_all_systems_count_alike() -> None:
    for end in ("\n", "\r\n", "\r"):
        root = read_text(f"a: 1{end}# remark{end}b: 2{end}", "house.yaml")
        assert value(root, "b").place.line == 3


def test_a_byte_order_mark_is_passed_over() -> None:
    root = read_text(b"\xef\xbb\xbfname: x\n", "house.yaml")
    assert root.entries[0][0] == Scalar("name", Place("house.yaml", 1, 1), length=4)


def test_all_problems_of_a_file_are_told_at_once(refused_as_marked: RefuseAsMarked) -> None:
    refused_as_marked("""
        house: {name: x, name: y}       #! key-twice
        rope: !!str 012                 #! tag-refused
        <<: {a: 1}                      #! merge-key
        line_sets:
          - number: 14
            number: 15                  #! key-twice
            lower: *end-w               #! alias-unknown
            name: Border #3             #! number-lost
          - &loop [*loop]               #! alias-of-itself
        notes: "bell \\a"                #! control-character
        [a]: 1                          #! key-not-text
        "": 1                           #! key-empty
    """)


def test_what_a_refused_key_holds_is_looked_at_too(refused_as_marked: RefuseAsMarked) -> None:
    refused_as_marked("""
        a: 1
        a:                              #! key-twice
          b: *nobody                    #! alias-unknown
    """)


def test_what_was_found_before_a_syntax_error_is_told_with_it(refused: Refuse) -> None:
    problems = refused("a: 1\na: 2\nb: [1, 2\nc: 3\n")
    assert [(problem.slug, problem.where.line) for problem in problems] == [
        ("key-twice", 2),
        ("bracket-not-closed", 4),
    ]
    assert "reading stopped here, so there may be more to mend below" in problems[1].used_by


def test_a_duplicate_key_names_both_places(refused: Refuse) -> None:
    (problem,) = refused("rope: a\nblock: b\nrope: c\n")
    assert (problem.where, problem.length) == (Place("house.yaml", 3, 1), 4)
    assert problem.used_by == ("first written at house.yaml:1:1",)


def test_a_misspelt_alias_is_offered_the_nearest_anchor(refused: Refuse) -> None:
    (problem,) = refused("a: &end-w 1\nb: *end-v\n")
    assert (problem.where.column, problem.length, problem.instead) == (4, 6, "did you mean *end-w?")


def test_a_part_inside_itself_is_underlined_where_it_is_named(refused: Refuse) -> None:
    (problem,) = refused("line: &line [*line]\n")
    assert (problem.where.column, problem.length) == (14, 5)
    assert problem.used_by == ("&line stands at house.yaml:1:7",)


def test_an_anchor_that_stands_twice_names_both_places(refused: Refuse) -> None:
    (problem,) = refused("a: &x 1\nb: &x 2\nc: *x\n")
    assert (problem.slug, problem.where.line, problem.length) == ("anchor-twice", 2, 2)
    assert problem.used_by == ("first at house.yaml:1:4",)


def test_a_merge_key_is_pointed_to_like(refused: Refuse) -> None:
    (problem,) = refused("a: &a {x: 1}\nb:\n  <<: *a\n")
    assert "like:" in problem.instead


def test_a_quoted_merge_key_is_a_key_like_any_other() -> None:
    assert value(read_text('"<<": 1\n', "h"), "<<")


@pytest.mark.parametrize(
    ("text", "slug", "line", "column"),
    [
        pytest.param("a:\n\tb: 1\n", "tab-for-indenting", 2, 1, id="tab"),
        pytest.param("a: 1\nb: [1,\n", "bracket-not-closed", 2, 7, id="list not closed"),
        pytest.param("a: {b: 08:00}\n", "sign-needs-quotes", 1, 10, id="time of day in braces"),
        pytest.param("a: [who?]\n", "sign-needs-quotes", 1, 8, id="question in brackets"),
        pytest.param("a: {b: 1, c]}\n", "bracket-not-closed", 1, 12, id="wrong bracket"),
        pytest.param("a: 'x\nb: 1\n", "quote-not-closed", 1, 4, id="quote not closed"),
        pytest.param('a: "b" c\n', "indent-uneven", 1, 8, id="text after a closing quote"),
        pytest.param("a: one: two\n", "colon-out-of-place", 1, 7, id="colon in a text"),
        pytest.param("a: 1\nb\nc: 1\n", "colon-missing", 2, 1, id="colon missing"),
        pytest.param("a: - b\n", "dash-out-of-place", 1, 4, id="dash behind a key"),
        pytest.param("a:\n  - b\n c: d\n", "indent-uneven", 3, 2, id="uneven"),
        pytest.param("a: @x\n", "character-cannot-begin", 1, 4, id="at sign"),
        pytest.param("a: *\n", "character-cannot-begin", 1, 5, id="star alone"),
        pytest.param('a: "b\\q"\n', "escape-unknown", 1, 6, id="backslash"),
        pytest.param("a: 1\n---\nb: 1\n", "documents-several", 2, 1, id="second document"),
        pytest.param("- a\n", "top-level-wrong", 1, 1, id="list at the top"),
        pytest.param("a text\n", "top-level-wrong", 1, 1, id="text at the top"),
        pytest.param("# only a remark\n", "file-empty", 1, 1, id="empty"),
        pytest.param("---\n", "file-empty", 1, 1, id="nothing behind the dashes"),
        pytest.param("a: b\x07c\n", "control-character", 1, 5, id="bell"),
        pytest.param("a: b\u2028c: d\n", "control-character", 1, 5, id="line separator"),
        pytest.param("a: b\ufeff\n", "control-character", 1, 5, id="byte order mark inside"),
        pytest.param(b"a: b\x00c\n", "file-is-not-text", 1, 5, id="zero byte"),
        pytest.param(b"a: 1\nb: caf\xe9\n", "file-is-not-utf-8", 2, 7, id="latin-1"),
        pytest.param("a: 1".encode("utf-16"), "file-is-utf-16", 1, 1, id="utf-16"),
        pytest.param("a: 1".encode("utf-16-be"), "file-is-utf-16", 1, 1, id="utf-16 without its mark"),
    ],
)
def test_one_mistake_is_one_problem_at_its_place(
    refused: Refuse, text: str | bytes, slug: str, line: int, column: int
) -> None:
    (problem,) = refused(text)
    assert (problem.slug, problem.where) == (slug, Place("house.yaml", line, column))


def test_tabs_are_told_once_with_all_their_lines(refused: Refuse) -> None:
    (problem,) = refused("a:\n\tb: 1\n\tc: 2\n  d: |\n\te\n")
    assert problem.used_by[0] == "tabs also stand at the beginning of lines 3, 5"


def test_a_file_in_an_older_encoding_names_the_letter_and_is_read_on(refused: Refuse) -> None:
    """In Windows-1252 the byte E9 is é (WHATWG Encoding Standard, index windows-1252)."""
    (alone,) = refused(b"a: caf\xe9\n")
    assert alone.used_by == ()
    (first,) = refused(b"a: caf\xe9\nb: \xe9\nc: \xe9\n")
    assert first.used_by == ("the same in lines 2, 3",)
    problems = refused(b"a: caf\xe9\nb: 1\nb: 2\nc: \xfc\n")
    assert [problem.slug for problem in problems] == ["file-is-not-utf-8", "key-twice"]
    assert "é in an older encoding" in problems[0].what
    assert problems[0].used_by == ("the same in line 4",)


@pytest.mark.parametrize(
    "text",
    ["a: Border # 3\n", 'a: "Border #3"\n', "a: Border#3\n", "# see #3\na: 1\n", "a: |\n  Border #3\n"],
)
def test_a_hash_that_loses_no_number_is_let_be(text: str) -> None:
    assert read_text(text, "house.yaml").get("a")


def test_the_open_bracket_is_named(refused: Refuse) -> None:
    (problem,) = refused("a: 1\nb: {c: [1,\n  2,\n")
    assert problem.used_by[0] == "what it belongs to begins at house.yaml:2:8"


def test_where_a_list_began_is_named_when_the_fault_is_noticed_later(refused: Refuse) -> None:
    (problem,) = refused("a: [1, 2\nb: 3\n")
    assert problem.used_by[0] == "what it belongs to begins at house.yaml:1:4"
    (problem,) = refused("a: [1 2] 3\n")
    assert len(problem.used_by) == 1


def test_a_text_of_several_lines_is_underlined_to_the_end_of_its_first(refused: Refuse) -> None:
    node = value(read_text('a: "one\n  two"\n', "h"), "a")
    assert isinstance(node, Scalar)
    assert (node.text, node.length) == ("one two", 4)


def test_a_missing_file_is_offered_its_nearest_neighbour(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_text("a: 1\n")
    with pytest.raises(CannotRead) as refusal:
        read_document(tmp_path / "huose.yaml")
    assert refusal.value.problems[0].slug == "file-missing"
    assert refusal.value.problems[0].instead == "did you mean house.yaml?"


def test_a_folder_is_not_a_document(tmp_path: Path) -> None:
    with pytest.raises(CannotRead) as refusal:
        read_document(tmp_path)
    assert refusal.value.problems[0].slug == "file-unreadable"


def test_a_document_keeps_what_it_was_made_from(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_bytes(b"a: 1\r\n")
    (source,) = open_document(tmp_path / "house.yaml", shown="house.yaml").files
    assert (source.path, source.shown, source.text) == (tmp_path / "house.yaml", "house.yaml", "a: 1\r\n")


def test_the_digest_is_that_of_the_bytes() -> None:
    """The digest was computed with sha256sum of GNU coreutils."""
    digest = open_text("a: 1\n", "-").files[0].sha256
    assert digest == open_text(b"a: 1\n", "-").files[0].sha256
    assert digest == "37b128c59f1f5097f73f82691cb519f1f568667faab5ced1b4ab979d36837eae"


def test_a_list_of_rules_is_read_from_a_file_or_a_text(tmp_path: Path) -> None:
    (tmp_path / "chain.yaml").write_text("- rule: a\n- rule: b\n")
    assert len(read_list(tmp_path / "chain.yaml").items) == 2
    assert read_list(tmp_path / "chain.yaml", shown="chain").place.file == "chain"
    assert read_list_text("- rule: a\n", "chain.yaml").items[0].place == Place("chain.yaml", 1, 3)


def test_a_mapping_is_no_list_of_rules() -> None:
    with pytest.raises(CannotRead) as refusal:
        read_list_text("rule: a\n", "chain.yaml")
    assert refusal.value.problems[0].slug == "top-level-wrong"


def test_every_place_points_at_its_text() -> None:
    text = "line_sets:\n  - {number: 14, \"name\": 'Border'}\n  - number: H1\n    at: {1: SR 21'-0\"}\n"
    lines = lines_of(text)
    for scalar in scalars_in(read_text(text, "h")):
        line = lines[scalar.place.line - 1]
        begins = scalar.place.column - 1
        assert scalar.text in line[begins : begins + scalar.length]


@pytest.mark.parametrize(
    ("text", "column", "instead"),
    [
        pytest.param("name: Border #3\n", 14, 'write "Border #3" in quotes', id="number"),
        pytest.param("name: Leg #A\n", 11, 'write "Leg #A" in quotes', id="letter"),
        pytest.param("name: Leg #SL2 # old\n", 11, 'write "Leg #SL2" in quotes', id="mark, then a comment"),
        pytest.param("{name: Border #3, on: 4\n}\n", 15, 'write "Border #3" in quotes', id="in braces"),
        pytest.param('name: 2" pipe #3\n', 15, "write '2\" pipe #3' in quotes", id="with an inch mark"),
    ],
)
def test_a_number_behind_a_text_is_not_lost_and_the_message_writes_it_out(
    text: str, column: int, instead: str, refused: Refuse
) -> None:
    """Two borders, #3 and #4, would both have been called Border."""
    problem = refused(text)[0]
    assert (problem.slug, problem.where) == ("number-lost", Place("house.yaml", 1, column))
    assert problem.instead.startswith(instead)


@pytest.mark.parametrize("text", ["a: b # 3\n", "a: b #checked\n", "a: b #Checked by eye\n", "a: b # A\n"])
def test_a_comment_stays_a_comment(text: str) -> None:
    assert read_text(text, "house.yaml").entries[0][1] == Scalar("b", Place("house.yaml", 1, 4))


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("{at: 08:00}\n", 'write "08:00" in quotes'),
        ("[2026-04-14 08:00]\n", 'write "2026-04-14 08:00" in quotes'),
        ("{at: 8:30 pm, on: 3}\n", 'write "8:30 pm" in quotes'),
        ("{name: a:b}\n", 'write "a:b" in quotes'),
    ],
)
def test_a_time_in_braces_is_told_with_its_quotes(text: str, instead: str, refused: Refuse) -> None:
    (problem,) = refused(text)
    assert problem.slug == "sign-needs-quotes"
    assert problem.instead.startswith(instead)
