"""The exit status of a comparison, for each sort of change at each gate.

0: nothing at the gate is new or worse; 1: something is; 3: it cannot be told. What stood there before, however grave,
refuses nothing.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from tests.audit.audits_in_text import CHAIN_RULES
from tests.comparing.houses import HOUSE, VOCABULARY, read
from tests.comparing.revisions import SOUND, STRETCH_ACCEPTED, STRETCHED, book, chain, compared, house
from tests.packs.packs_in_text import ON

from plumbtrue.audit.comparing import Comparison, Revision, compare, comparison_status
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rules.packs.pack import RuleBook
from plumbtrue.rules.severity import Severity

Statuses = tuple[int, int, int, int]
"""At the gates out-of-service, before-next-use, next-maintenance and advisory."""


@pytest.fixture(scope="module")
def rules(tmp_path_factory: pytest.TempPathFactory) -> RuleBook:
    return book(tmp_path_factory.mktemp("pack"))


def statuses(found: Comparison) -> Statuses:
    told = [int(comparison_status(found, gate)) for gate in Severity]
    return told[0], told[1], told[2], told[3]


LOW = chain(grade="30")
"""Before the next use."""
LOOSE = chain(distance_to_pipe_end="9 in", keeper_bolt="none")
"""Next maintenance."""
ALL_AT_ONCE = chain(grade="30", gauge_length="10.5 in", distance_to_pipe_end="9 in", keeper_bolt="none")


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        pytest.param(ALL_AT_ONCE, ALL_AT_ONCE, (0, 0, 0, 0), id="everything wrong, as before"),
        pytest.param(SOUND, STRETCHED, (1, 1, 1, 1), id="new: out of service"),
        pytest.param(SOUND, LOW, (0, 1, 1, 1), id="new: before the next use"),
        pytest.param(SOUND, LOOSE, (0, 0, 1, 1), id="new: next maintenance"),
        pytest.param(STRETCHED, chain(gauge_length="11 in"), (1, 1, 1, 1), id="worse by its figure"),
        pytest.param(chain(gauge_length="11 in"), STRETCHED, (0, 0, 0, 0), id="better, and a finding still"),
        pytest.param(ALL_AT_ONCE, SOUND, (0, 0, 0, 0), id="all put right"),
        pytest.param(LOW, chain(grade=""), (0, 3, 3, 3), id="a finding that cannot be told any more"),
        pytest.param(STRETCHED, chain(gauge_length=""), (3, 3, 3, 3), id="a stop that cannot be told any more"),
        pytest.param(SOUND, chain(grade="unknown"), (0, 3, 3, 3), id="a question opened"),
        pytest.param(SOUND, chain(keeper_bolt="", distance_to_pipe_end=""), (0, 0, 3, 3), id="a mild question opened"),
        pytest.param(chain(grade=""), SOUND, (0, 0, 0, 0), id="a question settled well"),
        pytest.param(chain(grade=""), LOW, (0, 1, 1, 1), id="a question settled ill"),
        pytest.param(LOW, chain(grade="43"), (0, 3, 3, 3), id="another value, and nobody can say which way"),
        pytest.param(STRETCHED, LOW, (0, 1, 1, 1), id="a stop put right and something milder new"),
        pytest.param(LOW, STRETCHED, (1, 1, 1, 1), id="something mild put right and a stop new"),
    ],
)  # fmt: skip
def test_what_a_change_of_the_rig_comes_to(rules: RuleBook, old: str, new: str, expected: Statuses) -> None:
    assert statuses(compared(house(old), house(new), rules)) == expected


@pytest.mark.parametrize(
    ("change", "rig", "expected"),
    [
        pytest.param(lambda text: text, ALL_AT_ONCE, (0, 0, 0, 0), id="the same rules"),
        pytest.param(
            lambda text: text.replace("value: 3 %", "value: 1 %"),
            chain(gauge_length="10.2 in"), (1, 1, 1, 1), id="a limit made stricter",
        ),
        pytest.param(
            lambda text: text.replace("value: 3 %", "value: 8 %"), STRETCHED, (0, 0, 0, 0), id="a limit made milder",
        ),
        pytest.param(
            lambda text: text.replace("severity: before-next-use", "severity: out-of-service"),
            LOW, (1, 1, 1, 1), id="a severity made graver",
        ),
        pytest.param(
            lambda text: text.replace("severity: before-next-use", "severity: advisory"),
            LOW, (0, 0, 0, 0), id="a severity made milder",
        ),
        pytest.param(
            lambda text: text.replace("require: grade in", "require: wraps >= 2 and grade in"),
            SOUND, (0, 3, 3, 3), id="a rule that asks for more than is known",
        ),
        pytest.param(
            lambda text: text[text.index("    - rule: chain-stretched") :], LOW, (0, 0, 0, 0), id="a rule left out",
        ),
        pytest.param(
            lambda text: text.replace("The chain is of grade", "Grade of the chain:"), LOW, (0, 0, 0, 0), id="words",
        ),
    ],
)  # fmt: skip
def test_what_a_change_of_the_packs_alone_comes_to(
    tmp_path: Path, change: Callable[[str], str], rig: str, expected: Statuses
) -> None:
    before, after = book(tmp_path / "before"), book(tmp_path / "after", change(CHAIN_RULES))
    same = house(rig)
    assert statuses(compared(same, same, before, new_rules=after)) == expected


def test_a_fault_that_only_the_rules_before_would_find_is_refused_at_its_own_gate(tmp_path: Path) -> None:
    milder = CHAIN_RULES.replace("severity: before-next-use", "severity: advisory")
    found = compared(house(SOUND), house(LOW), book(tmp_path / "a"), new_rules=book(tmp_path / "b", milder))
    assert statuses(found) == (0, 1, 1, 1)


def test_an_accepted_finding_refuses_nothing_until_it_outgrows_what_was_accepted(rules: RuleBook) -> None:
    accepted = STRETCH_ACCEPTED
    assert statuses(compared(house(SOUND), house(STRETCHED), rules, accepted=accepted)) == (0, 0, 0, 0)
    longer = compared(house(STRETCHED), house(chain(gauge_length="11 in")), rules, accepted=accepted)
    assert statuses(longer) == (1, 1, 1, 1)


def test_a_house_from_whose_file_all_sets_went_cannot_be_told_to_be_better(rules: RuleBook) -> None:
    """Nothing is found of what nobody writes any more, and that is no reason to take it."""
    empty = read({"plumbtrue": "rig/1", "house": {"name": "test house"}})
    assert statuses(compared(house(ALL_AT_ONCE), empty, rules)) == (3, 3, 3, 3)


PLOT = 'plumbtrue: plot/1\nplot: {show: x, items: [{key: "1", name: border, on: %s, weight: 75 lb, people: %s}]}\n'


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        pytest.param(("3", "none"), ("3", "rides"), (1, 1, 1, 1), id="somebody is to ride on it"),
        pytest.param(
            ("3", "rides"), ("5", "rides"), (0, 0, 0, 0), id="on another set as before, and not better"
        ),
        pytest.param(
            ("3", "rides"), ("3", "none"), (0, 3, 3, 3), id="nobody rides, and no rule looked at the piece"
        ),
        pytest.param(("3", "none"), ("3", "unknown"), (0, 3, 3, 3), id="changed, and still not to be told"),
    ],
)
def test_what_a_piece_that_hangs_less_well_comes_to(
    rules: RuleBook, old: tuple[str, str], new: tuple[str, str], expected: Statuses
) -> None:
    """Whatever the rules say: the pack of this test has none about shows."""
    under = read(HOUSE)
    laid = [lay(under, read_plot_text(PLOT % said, "show.yaml", VOCABULARY)) for said in (old, new)]
    assert statuses(compare(Revision(laid[0], rules), Revision(laid[1], rules), ON)) == expected
