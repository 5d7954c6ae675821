"""Every check case comes out as expected, each under its own id.

`mechanics-cases` were obtained by at least one independent way each (named there: closed forms, a stiffness
and a three-moment script, general-purpose structural and numerical libraries); `worked-examples` come from
print, with source; `more-cases` cover what those leave open.
"""

import copy
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from plumbtrue.mechanics.cases import computations
from plumbtrue.mechanics.cases.__main__ import main
from plumbtrue.mechanics.cases.running import read_cases, run_case
from plumbtrue.mechanics.cases.unit_keys import UNITS, endings, units_of

FOLDER = Path(__file__).parent / "cases"
FILES = ("mechanics-cases", "worked-examples", "more-cases")


def cases_of(name: str) -> list[tuple[str, object]]:
    """Each case of a file with its id, or its number where it has none."""
    return [
        (str(case.get("id")) if isinstance(case, Mapping) else f"case {number}", case)
        for number, case in enumerate(read_cases(FOLDER / f"{name}.yaml"), 1)
    ]


@pytest.mark.parametrize(
    "case", [pytest.param(case, id=name) for file in FILES for name, case in cases_of(file)]
)
def test_a_case_comes_out_as_expected(case: object) -> None:
    outcome = run_case(case)
    assert outcome.verdict == "agrees", "\n".join(outcome.notes)


@pytest.mark.parametrize("case", [pytest.param(case, id=name) for name, case in cases_of("broken-cases")])
def test_what_is_wrong_with_a_case_is_named(case: object) -> None:
    outcome = run_case(case)
    told = (outcome.verdict, "\n".join(outcome.notes))
    if not isinstance(case, Mapping):
        assert told[0] == "not run"
        assert "a case has keys" in told[1]
        return
    assert told[0] == case["verdict"], told[1]
    assert str(case.get("says", "")) in told[1]


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
    assert "not run: unknown computation balance-of-power" in out
    assert "agrees   sling-60" in out


@pytest.mark.parametrize(
    ("text", "says"),
    [
        pytest.param("cases: [", "while parsing", id="no YAML"),
        pytest.param("form: 1\n", "a list of cases is wanted", id="no cases"),
        pytest.param("", "a list of cases is wanted", id="empty"),
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
        if name not in ("units-01", "lost-01", "trim-07")
    ],
)
def test_a_case_comes_out_the_same_in_other_units(case: Mapping[str, object], choice: int) -> None:
    turned = {**case, "inputs": in_other_units(case["inputs"], choice)}
    outcome = run_case(turned)
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
                assert run_case(broken).verdict in ("agrees", "differs", "not run")
            del inside[place[-1]]
            assert run_case(broken).verdict in ("agrees", "differs", "not run")
