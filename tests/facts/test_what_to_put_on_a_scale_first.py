"""Of a verdict that cannot be told, which fact holds most of the doubt: shares worked out by hand."""

import json
from pathlib import Path

import pytest
from tests.facts.rigs_in_text import BRICKS, Ask, a_set
from tests.reporting.small_house import written
from tests.show.small_show import audited, plot, write_show

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.first_to_weigh import Share, of_fact, of_outcome, ranked_doubts
from plumbtrue.audit.house_check import check_house
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.facts.store import Facts
from plumbtrue.facts.working_text import working_text
from plumbtrue.reporting.building import report_of
from plumbtrue.reporting.explanations import fact_text


def shares(found: tuple[Share, ...]) -> dict[str, float | None]:
    return {f"{one.missing.thing.key}: {one.missing.fact}": one.of_the_doubt for one in found}


IN_DOUBT = "fixed_load: 140 lb .. 150 lb"


def test_an_imbalance_is_in_doubt_by_what_hangs_there_most(one_set: Ask) -> None:
    """Batten side 140 to 150 and 200 to 290 lb, arbor 60 to 64 lb and three bricks of 28: U is 10 + 90 + 4 lb wide."""
    text = a_set(more=IN_DOUBT, arbor="weight: 60 lb .. 64 lb, weights: {brick-28: 3}").replace(
        "present_load: none", "present_load: 200 lb .. 290 lb"
    )
    rig = one_set(text)
    found = of_fact(rig.facts, rig.thing("14"), "imbalance_computed")
    assert next(iter(found)).missing.fact == "present_load"
    assert shares(found) == pytest.approx(
        {"14: present_load": 90 / 104, "14: fixed_load": 10 / 104, "arbor: weight": 4 / 104}, abs=1e-6
    )


def test_explaining_a_figure_names_the_shares_in_their_order(one_set: Ask) -> None:
    text = a_set(more=IN_DOUBT, arbor="weight: 60 lb .. 64 lb, weights: {brick-28: 3}").replace(
        "present_load: none", "present_load: 200 lb .. 290 lb"
    )
    rig = one_set(text)
    told = "\n".join(fact_text(rig.thing("14"), "imbalance_computed", rig.facts, "us"))
    wanted = told[told.index("would settle or narrow it:") :].splitlines()[1:4]
    assert [line.rpartition("; ")[2] for line in wanted] == [
        "87% of the doubt",
        "10% of the doubt",
        "4% of the doubt",
    ]
    assert "of the doubt" not in working_text(rig.answer("14", "imbalance_computed"))


RULES = """
    - rule: line-is-not-overloaded
      title: A line pulls no more than a hundred and seventy-two pounds
      about: lift_line
      require: reaction_hung <= 172 lb
      severity: before-next-use
      finding: "It pulls {reaction_hung}."
      remedy: Take weight off it.
      source: common-practice

    - rule: stands-in-balance
      title: A set stands in balance
      about: line_set
      require: out_of_balance <= 25 lb
      severity: before-next-use
      finding: "It stands {out_of_balance} out of balance."
      remedy: Balance it.
      source: common-practice
"""

TWO_LINES = "{1: SR 20'-0\", 2: SL 20'-0\"}"


def house(more: str = "", **made: str) -> str:
    from textwrap import indent

    text = a_set(places=TWO_LINES, more=more, **made)
    return (
        f"plumbtrue: rig/1\nhouse:\n  name: Test house\n  batten_zero: stage-right\n  {BRICKS}\nline_sets:\n"
        f"  - number: 14\n    from_plaster_line: 10'-0\"\n{indent(text, '    ')}\n"
    )


def piece(key: str, at: str, weight: str) -> str:
    """A piece with one pull, which nobody weighed by itself."""
    return (
        f'{{key: "{key}", name: piece {key}, on: 14, people: none, category: framed, '
        f"loads: [{{at: {at}, weight: {weight}}}]}}"
    )


def outcome_of(audit: Audit, rule: str, path: str) -> Outcome:
    return next(one for one in audit.outcomes if one.rule == rule and one.thing.path == path)


def test_of_a_plot_the_piece_whose_doubt_reaches_the_line(tmp_path: Path) -> None:
    """Two lines 40 ft apart. A piece of 80 to 120 lb at SR 10 ft leans on line 1 with 3/4 of its weight: 30 lb of
    doubt; one of 30 to 70 lb at SL 10 ft with 1/4: 10 lb. Pipe and ends are known: 40 lb in all.
    """
    audit = audited(
        tmp_path,
        plot(piece("1", "SR 10'-0\"", "80 lb .. 120 lb"), piece("2", "SL 10'-0\"", "30 lb .. 70 lb")),
        house(),
        rules=RULES,
    )
    outcome = outcome_of(audit, "line-is-not-overloaded", "14 / line 1")
    assert outcome.result is Result.UNDETERMINED
    found = of_outcome(outcome, audit)
    by_piece = {one.missing.thing.path: one.of_the_doubt for one in found}
    assert by_piece["plot / item 1 / load"] == pytest.approx(0.75, abs=1e-3)
    assert by_piece["plot / item 2 / load"] == pytest.approx(0.25, abs=1e-3)
    assert found[0].missing.thing.path == "plot / item 1 / load"


def test_an_allowance_is_a_doubt_like_bounds(tmp_path: Path) -> None:
    """A piece of 60 lb estimated to 25 % beside one weighed to 2 %, both at line 1: 30 against 2.4 lb."""
    guessed = piece("1", "SR 20'-0\"", "60 lb").replace("people:", "weight_basis: estimated, people:")
    weighed = piece("2", "SR 20'-0\"", "60 lb").replace("people:", "weight_basis: weighed, people:")
    audit = audited(tmp_path, plot(guessed, weighed), house(), rules=RULES)
    outcome = outcome_of(audit, "line-is-not-overloaded", "14 / line 1")
    found = of_outcome(outcome, audit)
    assert found[0].missing.thing.key == "item 1"
    first, second = (one.of_the_doubt for one in found[:2])
    assert first is not None
    assert second is not None
    assert (first, second) == pytest.approx((30 / 32.4, 2.4 / 32.4), abs=1e-3)


def test_of_a_house_a_verdict_is_settled_first_by_what_is_widest(tmp_path: Path) -> None:
    """What hangs, 150 to 190 lb, and the arbor, 55 to 65 lb: four fifths and one fifth of 50 lb."""
    text = house("fixed_load: 140 lb", arbor="weight: 55 lb .. 65 lb, weights: {brick-28: 8}")
    at, _ = write_show(
        tmp_path, "", text.replace("present_load: none", "present_load: 150 lb .. 190 lb"), rules=RULES
    )
    from tests.show.small_show import ON

    audit = check_house(at, on=ON, packs=["./trade"], packs_from=tmp_path, third_party=False)
    outcome = outcome_of(audit, "stands-in-balance", "14")
    assert outcome.result is Result.UNDETERMINED
    by_fact = shares(of_outcome(outcome, audit))
    assert by_fact["14: present_load"] is not None
    assert next(iter(by_fact)) == "14: present_load"


def test_the_list_of_questions_says_what_to_weigh_first(tmp_path: Path) -> None:
    """The first piece holds three quarters of the doubt about line 1, by the lever; the second as much of line 2."""
    audit = audited(
        tmp_path,
        plot(piece("1", "SR 10'-0\"", "80 lb .. 120 lb"), piece("2", "SL 10'-0\"", "30 lb .. 70 lb")),
        house(),
        rules=RULES,
    )
    found = {outcome.thing.path: ranked for outcome, ranked in ranked_doubts(audit, facts_of(audit))}
    assert found["14 / line 1"][0].of_the_doubt == pytest.approx(0.75, abs=1e-3)
    [asked] = [one for one in report_of(audit).questions if one.doubts]
    words = (
        "Weigh this first, load of the item 1: it makes 75 % of the doubt of line-is-not-overloaded, set 14"
    )
    assert asked.first.startswith(words)
    assert words in written(audit, "markdown")
    assert words in written(audit, "html")
    assert words[0].lower() + words[1:] in " ".join(written(audit, "terminal").split())
    [of_house] = json.loads(written(audit, "json"))["houses"]
    told = [one["first_for"] for one in of_house["questions"] if one["first_for"]]
    assert (told[0][0]["of"], told[0][0]["on"]) == ("load of the item 1", "set 14")


def facts_of(audit: Audit) -> Facts:
    return Facts(audit.rig, audit.on, audit.further)


def test_nothing_is_said_of_a_doubt_that_an_unknown_fact_is_part_of(tmp_path: Path) -> None:
    """A piece of unknown weight leaves no figure, so that no share of it is told."""
    unknown = piece("2", "SL 10'-0\"", "80 lb").replace(", weight: 80 lb", "")
    assert "weight" not in unknown
    audit = audited(
        tmp_path, plot(piece("1", "SR 10'-0\"", "80 lb .. 120 lb"), unknown), house(), rules=RULES
    )
    assert [
        one for one, _ in ranked_doubts(audit, facts_of(audit)) if one.rule == "line-is-not-overloaded"
    ] == []


def test_what_nobody_knows_at_all_has_no_share_and_goes_first(one_set: Ask) -> None:
    text = a_set(more=IN_DOUBT, arbor="weights: {brick-28: 3}").replace(
        "present_load: none", "present_load: 200 lb .. 290 lb"
    )
    rig = one_set(text)
    first, *_ = of_fact(rig.facts, rig.thing("14"), "imbalance_computed")
    assert (first.missing.fact, first.of_the_doubt) == ("weight", None)
