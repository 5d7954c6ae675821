"""What is not known never passes: laws that hold of every chain, whatever is written of it."""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.audit.audits_in_text import CHAIN_RULES, house
from tests.packs.packs_in_text import ON, book_of, write_pack

from plumbtrue.audit.auditing import audit
from plumbtrue.audit.outcome import Result
from plumbtrue.rules.packs.pack import RuleBook

DECIDED = (Result.MET, Result.FINDING, Result.NOT_APPLICABLE, Result.ERROR)

CHAINS = st.fixed_dictionaries(
    {
        "grade": st.sampled_from(["30", "43", "80", "none"]),
        "gauge_length": st.sampled_from(
            ["100 in", "102.9 in", "103 in", "103.1 in", "101..104 in", "at most 102 in"]
        ),
        "gauge_length_new": st.sampled_from(["100 in", "99..101 in"]),
        "attachment": st.sampled_from(["wrap", "choke"]),
        "distance_to_pipe_end": st.sampled_from(["9 in", "12 in", "3 ft", "at least 1 in"]),
        "keeper_bolt": st.sampled_from(["fitted", "none"]),
    }
)


@cache
def book(most: str = "3 %") -> RuleBook:
    with TemporaryDirectory() as folder:
        write_pack(Path(folder), "trade", rules=CHAIN_RULES.replace("value: 3 %", f"value: {most}"))
        return book_of(Path(folder), "trade")


def results(chain: dict[str, str], most: str = "3 %") -> dict[str, Result]:
    """The outcome of each rule for a chain."""
    written = ", ".join(f"{fact}: {value}" for fact, value in chain.items()) or "wraps: 2"
    return {one.rule: one.result for one in audit(house(written), book(most), ON).outcomes}


@settings(max_examples=60, deadline=None)
@given(
    chain=CHAINS,
    kept=st.sets(st.sampled_from(sorted(["grade", "gauge_length", "attachment", "keeper_bolt"]))),
)
def test_knowing_less_never_makes_another_outcome_than_undetermined(
    chain: dict[str, str], kept: set[str]
) -> None:
    known = results(chain)
    less = results({fact: value for fact, value in chain.items() if fact in kept})
    assert all(
        less[rule] in (result, Result.UNDETERMINED) for rule, result in known.items() if result in DECIDED
    )


@settings(max_examples=60, deadline=None)
@given(chain=CHAINS)
def test_tightening_a_limit_never_removes_a_finding(chain: dict[str, str]) -> None:
    before, after = results(chain, "3 %"), results(chain, "2.5 %")
    found = {rule for rule, result in before.items() if result is Result.FINDING}
    assert all(after[rule] is Result.FINDING for rule in found)


def test_nothing_known_is_never_met() -> None:
    assert set(results({}).values()) == {Result.UNDETERMINED}
