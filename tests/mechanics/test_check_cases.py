"""Every check case comes out as expected, each under its own id.

`mechanics-cases` were obtained by at least one independent way each (named there: closed forms, a stiffness
and a three-moment script, general-purpose structural and numerical libraries); `worked-examples` come from
print, with source; `more-cases` cover what those leave open.
"""

from collections.abc import Mapping
from pathlib import Path

import pytest

from plumbtrue.mechanics.cases import computations
from plumbtrue.mechanics.cases.__main__ import main
from plumbtrue.mechanics.cases.running import read_cases, run_case

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
