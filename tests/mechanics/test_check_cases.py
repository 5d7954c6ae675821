"""Every check case comes out as expected, each under its own id.

`mechanics-cases` were obtained by at least one independent way each (named there: closed forms, a stiffness
and a three-moment script, general-purpose structural and numerical libraries); `worked-examples` come from
print, with source; `more-cases` cover what those leave open; `beam-cases` and `closed-form-cases` were
computed by scripts that know nothing of this project, with other numbers and other choices of inputs;
`drawn-cases` likewise, with inputs drawn at random, and with what must be refused or left unknown.
"""

import copy
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from plumbtrue.mechanics.cases import computations
from plumbtrue.mechanics.cases.__main__ import main
from plumbtrue.mechanics.cases.reading import WrittenCase, read_cases
from plumbtrue.mechanics.cases.running import Outcome, run_case
from plumbtrue.mechanics.cases.unit_keys import UNITS, endings, units_of

FOLDER = Path(__file__).parent / "cases"
FILES = ("mechanics-cases", "worked-examples", "more-cases", "beam-cases", "closed-form-cases", "drawn-cases")


def cases_of(name: str) -> list[tuple[str, object]]:
    """Each case of a file with its id, or its number where it has none."""
    return [
        (
            str(case.written.get("id")) if isinstance(case.written, Mapping) else f"case {case.number}",
            case.written,
        )
        for case in read_cases(FOLDER / f"{name}.yaml")
    ]


def outcome_of(written: object) -> Outcome:
    return run_case(WrittenCase(written))


@pytest.mark.parametrize(
    "case", [pytest.param(case, id=name) for file in FILES for name, case in cases_of(file)]
)
def test_a_case_comes_out_as_expected(case: object) -> None:
    outcome = outcome_of(case)
    assert outcome.verdict == "agrees", "\n".join(outcome.notes)


@pytest.mark.parametrize(
    "case", read_cases(FOLDER / "broken-cases.yaml"), ids=lambda case: case.place.partition(":")[2]
)
def test_what_is_wrong_with_a_case_is_named(case: WrittenCase) -> None:
    outcome = run_case(case)
    told = (outcome.verdict, "\n".join(outcome.notes))
    if not isinstance(case.written, Mapping):
        assert told[0] == "not run"
        assert "a case has keys" in told[1]
        return
    assert told[0] == case.written["verdict"], told[1]
    assert str(case.written.get("says", "")) in "; ".join(outcome.notes)


def test_every_case_has_its_own_id() -> None:
    names = [name for file in FILES for name, _ in cases_of(file)]
    assert len(names) == len(set(names))


def test_every_computation_has_a_case() -> None:
    run = {
        str(case["computation"])
        for file in FILES
        for _, case in cases_of(file)
        if isinstance(case, Mapping) and "computation" in case
    }
    assert set(computations.COMPUTATIONS) == run


def test_computations_that_take_ranges_exist() -> None:
    assert set(computations.COMPUTATIONS) >= computations.RANGED


def test_a_file_of_sound_cases_ends_with_a_count_and_status_0(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(FOLDER / "worked-examples.yaml")]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[-1] == f"{len(lines) - 1} cases: {len(lines) - 1} agree, 0 differ, 0 not run"


def test_a_wrong_case_stops_no_other_and_gives_status_1(capsys: pytest.CaptureFixture[str]) -> None:
    sound, broken = FOLDER / "worked-examples.yaml", FOLDER / "broken-cases.yaml"
    assert main([str(broken), str(sound)]) == 1
    out = capsys.readouterr().out
    assert "unknown computation balance-of-power" in out
    assert "agrees   sling-60" in out


@pytest.mark.parametrize(
    ("text", "says"),
    [
        pytest.param("cases: [", ":1:9: no YAML: ", id="no YAML"),
        pytest.param("form: 1\n", "a list of cases is wanted", id="no cases"),
        pytest.param("", "a list of cases is wanted", id="empty"),
        pytest.param("cases: []\ncases: []\n", "cases is written twice", id="cases twice"),
        pytest.param("cases:\n\t- a\n", ":2:1: no YAML: ", id="tabs"),
        pytest.param("form: 1\n---\ncases: []\n", ":2:1: no YAML: ", id="two documents"),
        pytest.param("cases:\n- !thing {}\n", ":2:3: no YAML: ", id="a tag of its own"),
        pytest.param("cases: {a: 1}\n", "a list of cases is wanted", id="cases that are no list"),
    ],
)
def test_a_file_that_holds_no_cases_gives_status_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, says: str
) -> None:
    file = tmp_path / "cases.yaml"
    file.write_text(text)
    assert main([str(file)]) == 2
    assert says in capsys.readouterr().err


def test_a_file_of_other_bytes_gives_status_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "cases.yaml"
    file.write_bytes(b"cases: [\xff\xfe]")
    assert main([str(file), str(tmp_path)]) == 2
    told = capsys.readouterr().err.splitlines()
    assert told[0].startswith(f"{file}: no text in UTF-8")
    assert told[1].startswith(f"{tmp_path}: ")


def test_each_case_has_one_line_with_its_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "cases.yaml"
    sound = "computation: fleet-angle\n  inputs: {lateral_in: 3, distance_in: 120, limit_deg: 1.5}\n"
    file.write_text(
        "\ufeff# A mark of byte order, as some editors write it.\n"
        f"- id: first\n  {sound}  expected: {{fleet_angle_deg: 1.432096, least_distance_in: 114.5654}}\n"
        "  tolerance: {rel: 1.0e-5}\n"
        f"-\n  {sound}  expected: {{fleet_angle_deg: 2, least_distance_in: 3}}\n"
        "- just a word\n",
        encoding="utf-8",
    )
    assert main([str(file)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert [" ".join(line.split()) for line in lines] == [
        f"agrees first fleet-angle {file}:2",
        f"differs case 2 fleet-angle {file}:8 fleet_angle_deg: expected 2, got 1.432096; "
        "least_distance_in: expected 3, got 114.5654",
        f"not run case 3 ? {file}:11 a case has keys, but this is 'just a word'",
        "3 cases: 1 agree, 1 differ, 1 not run",
    ]


def test_a_mistake_of_a_computation_stops_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: object) -> dict[str, object]:
        raise KeyError("rope")

    monkeypatch.setitem(computations.COMPUTATIONS, "fleet-angle", broken)
    outcome = outcome_of({"id": "a", "computation": "fleet-angle", "inputs": {}, "expected": {"x": 1}})
    assert outcome.verdict == "not run"
    assert outcome.notes == ("a mistake of this program, please report it: KeyError: 'rope'",)


def test_a_file_that_is_not_there_does_not_stop_the_others(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(FOLDER / "no-such-file.yaml"), str(FOLDER / "worked-examples.yaml")]) == 2
    told = capsys.readouterr()
    assert "no-such-file.yaml" in told.err
    assert "agrees   sling-60" in told.out


def test_a_file_without_any_case_is_no_success(tmp_path: Path) -> None:
    file = tmp_path / "cases.yaml"
    file.write_text("cases: []\n")
    assert main([str(file)]) == 1


def in_other_units(written: object, choice: int) -> object:
    """The same inputs with every quantity in another unit of its kind."""
    if isinstance(written, list):
        return [in_other_units(one, choice) for one in written]
    if not isinstance(written, Mapping):
        return written
    turned: dict[str, object] = {}
    for key, figures in written.items():
        cuts = endings(key)
        if not cuts or key in UNIT_LOOKALIKES:
            turned[key] = in_other_units(figures, choice)
            continue
        stem, unit = cuts[0]
        kind, factor = UNITS[unit]
        # Weight by the linear length of goods is a kind of its own, although its dimension is not.
        others = [other for other in units_of(kind) if "linear" not in other]
        other = others[choice % len(others)]
        turned[f"{stem}_{other}"] = scaled(figures, factor / UNITS[other][1])
    return turned


def scaled(figures: object, factor: float) -> object:
    if isinstance(figures, list):
        return [scaled(one, factor) for one in figures]
    return figures * factor if isinstance(figures, int | float) and not isinstance(figures, bool) else figures


UNIT_LOOKALIKES = ("tension_in_lbf", "threads_per_in")
"""Keys in which `in` is not an inch."""


@pytest.mark.parametrize("choice", [3, 5, 8])
@pytest.mark.parametrize(
    "case",
    [
        pytest.param(case, id=name)
        for file in FILES
        for name, case in cases_of(file)
        # Units are what the first is about; the others give figures in the unit system of their inputs, or
        # take long.
        if isinstance(case, Mapping)
        and case["computation"] not in ("units", "lost-support")
        and name not in ("trim-07", "trim-of-twelve")
    ],
)
def test_a_case_comes_out_the_same_in_other_units(case: Mapping[str, object], choice: int) -> None:
    turned = {**case, "inputs": in_other_units(case["inputs"], choice)}
    outcome = outcome_of(turned)
    assert outcome.verdict == "agrees", "\n".join(outcome.notes)


WRONG: tuple[object, ...] = (
    None, "text", [], {}, -1, 0, float("nan"), 1e30, 1e-30, True, [1, 2], [[1, 2], [3]],
)  # fmt: skip


def places(written: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Every place in a case's inputs, from the outside in."""
    inner = (
        written.items()
        if isinstance(written, Mapping)
        else enumerate(written)
        if isinstance(written, list)
        else ()
    )
    for key, value in inner:
        yield (*path, key)
        yield from places(value, (*path, key))


def test_nothing_that_is_written_into_a_case_stops_the_runner() -> None:
    """Every input of one case for each computation is left out, or becomes something that it cannot be."""
    seen: set[object] = set()
    for _, case in cases_of("mechanics-cases"):
        assert isinstance(case, Mapping)
        if case["computation"] in seen or case["computation"] == "trim-worst-case":
            continue
        seen.add(case["computation"])
        for place in places(case["inputs"]):
            for wrong in WRONG:
                broken = copy.deepcopy(dict(case))
                inside = broken["inputs"]
                for key in place[:-1]:
                    inside = inside[key]
                inside[place[-1]] = wrong
                must_be_answered(broken)
            del inside[place[-1]]
            must_be_answered(broken)


def must_be_answered(broken: Mapping[str, object]) -> None:
    outcome = outcome_of(broken)
    assert not any("a mistake of this program" in note for note in outcome.notes), (broken, outcome)
    assert outcome.verdict == "agrees" or outcome.notes
