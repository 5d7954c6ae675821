"""A revision that nobody accepted, beside the one that somebody did: `check --plot` says what was changed, added and
cut since, and asks to have that accepted. Told apart: the pieces are judged by themselves.

What counts as a change is common practice: another set, place, pick, size, trim, motion, rigging, cable or person, and
a weight that is another by over 5 % or over 10 lb, but never by 2 lb or less.
"""

import re
from datetime import date
from pathlib import Path

import pytest
from tests.show.laid_shows import DEMO

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.house_check import check_house
from plumbtrue.audit.item_verdicts import whole_matters
from plumbtrue.audit.outcome import Outcome, Result
from plumbtrue.audit.since_accepted import since_accepted
from plumbtrue.documents.place import CannotRead
from plumbtrue.facts.store import Facts
from plumbtrue.reporting.showing import show_of

HOUSE = """
plumbtrue: rig/1
house: {name: Barn, seen: {by: A, on: 2026-01-02, how: by-hand, in_order: yes, tested: yes}}
line_sets:
  - {number: 1, system: single-purchase}
  - {number: 2, system: single-purchase}
"""
PLOT = """
plumbtrue: plot/1
plot:
  show: S
  revision: {revision}
  accepted: {accepted}
  items:
    - {{key: "1", name: drop, on: {on}, category: drop, weight: {weight}, trims: [20 ft], note: {note}}}
    - {{key: "2", name: sign, on: 2, category: sign, weight: 40 lb}}
"""
TAKEN = "[{by: rigger, role: rigger, on: 2026-04-02, revision: A, plot_file: first.yaml}]"
AS_IT_WAS = {"on": "1", "weight": "200 lb", "note": "hung first", "more": ""}


def audited(tmp_path: Path, *, accepted: str = TAKEN, revision: str = "B", **now: str) -> Audit:
    """Revision B, with revision A beside it, over a barn."""
    (tmp_path / "barn.yaml").write_text(HOUSE, encoding="utf-8")
    first = PLOT.format(revision="A", accepted="none", **AS_IT_WAS)
    (tmp_path / "first.yaml").write_text(first, encoding="utf-8")
    said = AS_IT_WAS | now
    second = PLOT.format(revision=revision, accepted=accepted, **said) + said["more"]
    (tmp_path / "second.yaml").write_text(second, encoding="utf-8")
    return check_house(
        tmp_path / "barn.yaml", on=date(2026, 4, 13), third_party=False, plot=tmp_path / "second.yaml"
    )


def told(audit: Audit) -> Outcome:
    [found] = [one for one in audit.outcomes if one.rule == "changed-since-accepted"]
    return found


def in_words(audit: Audit) -> str:
    since = since_accepted(audit.rig, Facts(audit.rig, audit.on))
    assert since is not None
    return since.in_words()


@pytest.mark.parametrize(
    ("now", "words"),
    [
        pytest.param({"on": "2"}, "1 (where it hangs)", id="another set"),
        pytest.param({"weight": "211 lb"}, "1 (weight)", id="over 5 %, and over 10 lb"),
        pytest.param({"weight": "189 lb"}, "1 (weight)", id="lighter wants other bricks too"),
        pytest.param({"more": '    - {key: "3", on: 1}\n'}, "new: 3", id="a new piece"),
    ],
)
def test_what_is_another(tmp_path: Path, now: dict[str, str], words: str) -> None:
    audit = audited(tmp_path, **now)
    assert in_words(audit) == words
    assert told(audit).result is Result.FINDING
    assert words in told(audit).message


@pytest.mark.parametrize(
    "now",
    [
        pytest.param({"weight": "210 lb"}, id="exactly 10 lb, exactly 5 %"),
        pytest.param({"weight": "202 lb"}, id="2 lb are no change"),
        pytest.param({"note": "hung second"}, id="a note"),
    ],
)
def test_what_is_the_same(tmp_path: Path, now: dict[str, str]) -> None:
    audit = audited(tmp_path, **now)
    assert in_words(audit) == ""
    assert told(audit).result is Result.MET


def test_a_light_piece_counts_by_its_share(tmp_path: Path) -> None:
    """Of 40 lb 5 % are 2 lb: 3 lb more are a change, though far under 10 lb; 2 lb are not."""
    audited(tmp_path)
    second = tmp_path / "second.yaml"
    text = second.read_text(encoding="utf-8")
    for weight, words in (("42 lb", ""), ("43 lb", "2 (weight)")):
        second.write_text(text.replace("40 lb", weight), encoding="utf-8")
        audit = check_house(tmp_path / "barn.yaml", on=date(2026, 4, 13), third_party=False, plot=second)
        assert in_words(audit) == words


def test_an_accepted_revision_asks_for_nothing(tmp_path: Path) -> None:
    also = TAKEN.removesuffix("]") + ", {by: rigger, role: rigger, on: 2026-04-13, revision: B}]"
    assert told(audited(tmp_path, accepted=also, on="2")).result is Result.NOT_APPLICABLE


def test_without_the_accepted_revision_nobody_can_tell(tmp_path: Path) -> None:
    outcome = told(audited(tmp_path, accepted="[{by: rigger, role: rigger, on: 2026-04-02, revision: A}]"))
    assert outcome.result is Result.UNDETERMINED
    assert "plot_file" in {one.fact for one in outcome.missing}


@pytest.mark.parametrize(
    ("said", "slug", "what"),
    [
        ("gone.yaml", "accepted-plot-missing", "there is no gone.yaml beside this plot"),
        ("second.yaml", "accepted-plot-other", "second.yaml holds revision B, and revision A was accepted"),
    ],
)
def test_the_wrong_file_is_an_error_at_its_place(tmp_path: Path, said: str, slug: str, what: str) -> None:
    with pytest.raises(CannotRead) as refused:
        audited(tmp_path, accepted=TAKEN.replace("first.yaml", said))
    [problem] = refused.value.problems
    assert (problem.slug, problem.what) == (slug, what)
    assert problem.where.line == 6


def test_the_tour_since_revision_a() -> None:
    """Nine changed, two new, one cut, and the other sixteen the same, as a head of flys counted them by hand."""
    audit = check_house(
        DEMO / "house.yaml", on=date(2026, 4, 13), third_party=False, plot=DEMO / "tour-b.yaml"
    )
    facts = Facts(audit.rig, audit.on)
    since = since_accepted(audit.rig, facts)
    assert since is not None
    assert {key: set(what) for key, what in since.changed} == {
        "03": {"weight", "picks", "extent"},
        "04": {"where it hangs", "weight", "picks", "extent"},
        "06": {"weight", "picks", "height", "cue from"},
        "11": {"where it hangs"},
        "13": {"cue time"},
        "14": {"cables", "cable feed"},
        "21": {"weight", "picks", "steps of load-in"},
        "22": {"people"},
        "25": {"truss trim", "bridle apex height", "bridle leg rise"},
    }
    assert (since.new, since.cut) == (("27", "28"), ("26",))
    show = show_of(audit, facts)
    assert show is not None
    assert show.sentence.endswith(
        "Against revision A, which was accepted, of the items 9 changed, 2 new and 1 cut: not accepted yet."
    )
    _, changes, _ = whole_matters(audit)
    assert "changed-since-accepted" in {one.rule for one in changes}
    assert re.search(r"\b5 matters of the whole to be put right before use", show.sentence)


def test_two_pieces_that_took_each_others_set_are_changed_both(tmp_path: Path) -> None:
    """A comparison tells an exchange once; each of the two pieces hangs elsewhere all the same."""
    audited(tmp_path)
    second = tmp_path / "second.yaml"
    text = second.read_text(encoding="utf-8")
    swapped = text.replace("name: drop, on: 1", "name: drop, on: 2").replace(
        "name: sign, on: 2", "name: sign, on: 1"
    )
    assert swapped != text
    second.write_text(swapped, encoding="utf-8")
    found = check_house(tmp_path / "barn.yaml", on=date(2026, 4, 13), third_party=False, plot=second)
    assert in_words(found) == "1 (where it hangs); 2 (where it hangs)"
