"""One document in several files: what joins, and what is refused."""

from pathlib import Path

import pytest

from plumbtrue.documents.limits import Limits
from plumbtrue.documents.nodes import Mapping, Sequence
from plumbtrue.documents.place import CannotRead, Place, Problem
from plumbtrue.documents.reading import open_document, read_document, read_text


def laid_out(folder: Path, **files: str) -> Path:
    """Files by name, `__` for `/`; the first is the document."""
    for name, text in files.items():
        path = folder / (name.replace("__", "/") + ".yaml")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder / (next(iter(files)).replace("__", "/") + ".yaml")


def problems_in(path: Path, limits: Limits = Limits()) -> tuple[Problem, ...]:  # noqa: B008 (frozen)
    with pytest.raises(CannotRead) as refusal:
        read_document(path, shown=path.name, limits=limits)
    return refusal.value.problems


def test_lists_are_put_one_after_the_other_and_keep_their_files(tmp_path: Path) -> None:
    path = laid_out(
        tmp_path,
        house="plumbtrue: rig/1\ninclude: [sets/rail.yaml]\nline_sets: [{number: 1}]\n",
        sets__rail="plumbtrue: rig/1\nline_sets:\n  - {number: 2}\n",
    )
    sets = read_document(path, shown="shows/house.yaml").get("line_sets")
    assert isinstance(sets, Sequence)
    assert [item.place for item in sets] == [
        Place("shows/house.yaml", 3, 13),
        Place("shows/sets/rail.yaml", 3, 5),
    ]


def test_mappings_are_united(tmp_path: Path) -> None:
    path = laid_out(
        tmp_path,
        house="include: [ropes.yaml]\ntypical: {end-w: x}\n",
        ropes="typical: {gac: y}\nhouse: {name: z}\n",
    )
    root = read_document(path)
    typical = root.get("typical")
    assert isinstance(typical, Mapping)
    assert [key.text for key, _ in typical] == ["end-w", "gac"]
    assert [key.text for key, _ in root] == ["typical", "house"]


def test_what_is_written_in_two_files_is_told_with_both_places(tmp_path: Path) -> None:
    path = laid_out(
        tmp_path, house="include: [more.yaml]\ntypical: {gac: x}\n", more="a: 1\ntypical: {gac: y}\n"
    )
    (problem,) = problems_in(path)
    assert (problem.slug, problem.where) == ("include-clash", Place("more.yaml", 2, 11))
    assert problem.used_by == ("first written at house.yaml:2:11",)


def test_parts_of_another_kind_of_document_are_refused(tmp_path: Path) -> None:
    path = laid_out(tmp_path, house="plumbtrue: rig/1\ninclude: [show.yaml]\n", show="plumbtrue: plot/1\n")
    assert [problem.slug for problem in problems_in(path)] == ["include-clash"]


def test_problems_in_all_files_are_told_at_once_in_the_order_of_the_files(tmp_path: Path) -> None:
    path = laid_out(
        tmp_path,
        house="include: [b.yaml, a.yaml, missing.yaml]\nx: 1\nx: 2\n",
        a="y: [1\n",
        b="- list\n",
    )
    problems = problems_in(path)
    assert [(problem.slug, problem.where.file) for problem in problems] == [
        ("file-missing", "house.yaml"),
        ("key-twice", "house.yaml"),
        ("top-level-wrong", "b.yaml"),
        ("bracket-not-closed", "a.yaml"),
    ]
    assert problems[2].used_by == ("included at house.yaml:1:11",)


def test_a_missing_include_is_told_at_its_name_with_the_nearest_file(tmp_path: Path) -> None:
    path = laid_out(tmp_path, house="include: [rops.yaml]\n", ropes="a: 1\n")
    (problem,) = problems_in(path)
    assert (problem.where, problem.length, problem.instead) == (
        Place("house.yaml", 1, 11),
        9,
        "did you mean ropes.yaml?",
    )


@pytest.mark.parametrize(
    "name",
    [
        "../secret.yaml",
        "a/../../secret.yaml",
        "/etc/hostname",
        "~/x.yaml",
        "C:/x.yaml",
        "a\\b.yaml",
        "link.yaml",
        "loop.yaml",
    ],
)
def test_nothing_outside_the_folder_is_read(tmp_path: Path, name: str) -> None:
    (tmp_path / "secret.yaml").write_text("secret: 1\n")
    folder = tmp_path / "house"
    folder.mkdir()
    (folder / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    (folder / "loop.yaml").symlink_to(folder / "loop.yaml")
    path = laid_out(folder, house=f"include: ['{name}']\n")
    (problem,) = problems_in(path)
    assert problem.slug in ("include-outside", "file-unreadable")
    assert problem.where == Place("house.yaml", 1, 11)


def test_a_link_inside_the_folder_is_followed(tmp_path: Path) -> None:
    path = laid_out(tmp_path, house="include: [link.yaml]\n", parts__ropes="a: 1\n")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "parts" / "ropes.yaml")
    assert read_document(path).get("a")


def test_an_included_file_may_include_and_names_are_seen_from_it(tmp_path: Path) -> None:
    path = laid_out(
        tmp_path,
        house="include: [parts/all.yaml]\n",
        parts__all="include: [ropes.yaml]\n",
        parts__ropes="a: 1\n",
    )
    document = open_document(path, shown="house.yaml")
    assert [source.shown for source in document.files] == ["house.yaml", "parts/all.yaml", "parts/ropes.yaml"]
    assert document.root.get("a")


def test_a_circle_of_includes_is_refused(tmp_path: Path) -> None:
    path = laid_out(
        tmp_path, house="include: [a.yaml]\n", a="include: [b.yaml]\n", b="include: [house.yaml]\n"
    )
    (problem,) = problems_in(path)
    assert (problem.slug, problem.where.file) == ("include-circle", "b.yaml")


def test_a_file_included_twice_is_refused(tmp_path: Path) -> None:
    """The sets in it would stand in the house twice."""
    path = laid_out(tmp_path, house="include: [a.yaml, ./a.yaml]\n", a="line_sets: [x]\n")
    (problem,) = problems_in(path)
    assert (problem.slug, problem.where.column) == ("include-twice", 19)


@pytest.mark.parametrize("listed", ["a.yaml", "{a: 1}", "[[a.yaml]]", "['']"])
def test_include_takes_names_of_files(tmp_path: Path, listed: str) -> None:
    path = laid_out(tmp_path, house=f"include: {listed}\n", a="x: 1\n")
    assert [problem.slug for problem in problems_in(path)] == ["include-not-a-list"]


def test_the_limits_hold_for_all_files_together(tmp_path: Path) -> None:
    path = laid_out(tmp_path, house="include: [a.yaml]\n", a="x: [1, 2, 3, 4, 5, 6]\n")
    assert read_document(path, limits=Limits(nodes=13, bytes=100))
    assert [problem.slug for problem in problems_in(path, Limits(nodes=12))] == ["node-limit"]
    assert [problem.slug for problem in problems_in(path, Limits(bytes=30))] == ["file-too-long"]


def test_a_text_without_a_folder_includes_nothing() -> None:
    with pytest.raises(CannotRead) as refusal:
        read_text("include: [house.yaml]\n", "-")
    assert [problem.slug for problem in refusal.value.problems] == ["include-outside"]
