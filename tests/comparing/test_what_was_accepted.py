"""What somebody accepted of one revision says nothing of another, and a comparison says so."""

from copy import deepcopy
from pathlib import Path

import pytest
from tests.audit.audits_in_text import CHAIN_RULES
from tests.comparing.houses import HOUSE, VOCABULARY, read
from tests.comparing.revisions import SOUND, book, compared, house
from tests.packs.packs_in_text import ON

from plumbtrue.audit.acceptance_changes import Accepts, Covers
from plumbtrue.audit.comparing import Comparison, Revision, compare, comparison_status
from plumbtrue.audit.gate import ExitStatus
from plumbtrue.audit.waivers import Waiver, read_waivers
from plumbtrue.documents.reading import read_text
from plumbtrue.reporting.comparison_formats import written
from plumbtrue.rig.laying import lay
from plumbtrue.rig.reading import read_plot_text
from plumbtrue.rules.severity import Severity

HOUSE_READ = read(HOUSE)

PLOT = """\
plumbtrue: plot/1
plot:
  show: An invented show
  revision: {revision}
  issued: {issued}
  accepted: {accepted}
  items:
    - {{key: "1", name: border, on: 3, people: none, weight: {weight}}}
{more}"""
CUT_LATER = '    - {key: "2", name: sign, on: 5, people: none, weight: 20 lb}\n'


def plots_compared(folder: Path, accepted: str, *, revision: str = "B", weight: str = "90 lb") -> Comparison:
    """Revision A, and one in which a border is heavier and a sign is cut."""
    rules = book(folder)
    old = PLOT.format(revision="A", issued="2026-03-30", accepted="none", weight="75 lb", more=CUT_LATER)
    new = PLOT.format(revision=revision, issued="2026-04-13", accepted=accepted, weight=weight, more="")
    laid = [lay(HOUSE_READ, read_plot_text(text, "show.yaml", VOCABULARY)) for text in (old, new)]
    return compare(Revision(laid[0], rules), Revision(laid[1], rules), ON)


def page(found: Comparison) -> str:
    text = written(found, "markdown", old="a", new="b", gate=Severity.BEFORE_NEXT_USE)
    return " ".join(text.split())


@pytest.mark.parametrize(
    ("accepted", "of", "said"),
    [
        pytest.param(
            "[{by: rigger, role: rigger, on: 2026-04-02, revision: A}]",
            Accepts.OLD,
            "Accepted by rigger on 2026-04-02 for revision A; not for B: 1 changed, 1 cut (2) since.",
            id="of the one before",
        ),
        pytest.param(
            "[{by: rigger, role: rigger, on: 2026-04-13, revision: B}]",
            Accepts.NEW,
            "Revision B by rigger on 2026-04-13.",
            id="of this one, on the day of its issue",
        ),
        pytest.param(
            "[{by: rigger, role: rigger, on: 2026-04-02, revision: B}]",
            Accepts.TOO_EARLY,
            "Revision B by rigger on 2026-04-02, before this issue of it.",
            id="of this one, before it was issued",
        ),
        pytest.param(
            "[{by: rigger, role: rigger, on: 2026-04-02, revision: C}]",
            Accepts.OTHER,
            "Accepted by rigger on 2026-04-02 for revision C, which is neither of these.",
            id="of another one",
        ),
    ],
)
def test_an_acceptance_is_of_the_revision_that_it_names(
    tmp_path: Path, accepted: str, of: Accepts, said: str
) -> None:
    found = plots_compared(tmp_path, accepted)
    assert [one.of for one in found.acceptances] == [of]
    assert said in page(found)


def test_a_piece_that_is_cut_is_not_yet_accepted(tmp_path: Path) -> None:
    """Only where somebody accepted the revision that had it."""
    old = plots_compared(tmp_path, "[{by: rigger, role: rigger, on: 2026-04-02, revision: A}]")
    assert "(cut and not yet accepted)" in page(old)
    new = plots_compared(tmp_path, "[{by: rigger, role: rigger, on: 2026-04-14, revision: B}]")
    assert "not yet accepted" not in page(new)
    assert "(cut)" in page(new)


def test_nobody_on_record_is_said(tmp_path: Path) -> None:
    assert "Nobody is on record as having accepted revision B." in page(plots_compared(tmp_path, "none"))


def test_one_mark_for_two_files_that_differ_is_no_acceptance(tmp_path: Path) -> None:
    """Somebody changed the plot and left the letter in the title block."""
    found = plots_compared(
        tmp_path, "[{by: rigger, role: rigger, on: 2026-04-14, revision: A}]", revision="A"
    )
    assert [one.of for one in found.acceptances] == [Accepts.EITHER]
    assert "Revision A, and not the same:" in page(found)
    assert "The mark A goes for both files, and they differ" in page(found)


def test_the_same_show_over_another_house_is_accepted_for_the_house_as_it_was(tmp_path: Path) -> None:
    rules = book(tmp_path)
    accepted = "[{by: rigger, role: rigger, on: 2026-04-14, revision: B}]"
    text = PLOT.format(revision="B", issued="2026-04-13", accepted=accepted, weight="75 lb", more="")
    longer = deepcopy(HOUSE)
    longer["line_sets"][0]["batten"]["length"] = "31 ft"
    old, new = (
        lay(under, read_plot_text(text, "show.yaml", VOCABULARY)) for under in (HOUSE_READ, read(longer))
    )
    said = page(compare(Revision(old, rules), Revision(new, rules), ON))
    assert "Revision B: 0 pieces changed, 0 new, 0 cut, 1 the same." in said
    assert "Revision B by rigger on 2026-04-14, over the house as it was then." in said


WAIVER = """\
plumbtrue: waivers/1
waivers:
  - rule: chain-grade-too-low
    thing: 1 / line 1 / lower / trim-chain
    state: {grade: 30}
    until: 2027-01-01
    reason: the chain is on order
    accepted_by: technical director
    meanwhile: nothing over 50 lb hangs on it
"""


def waivers(text: str = WAIVER) -> tuple[Waiver, ...]:
    return read_waivers(read_text(text, "waivers.yaml"))


LOW = SOUND.replace("grade: 80", "grade: 30")


def test_an_acceptance_of_a_finding_that_is_gone_is_told(tmp_path: Path) -> None:
    found = compared(house(LOW), house(SOUND), book(tmp_path, CHAIN_RULES), accepted=waivers())
    assert [(one.before, one.after) for one in found.waived] == [(Covers.COVERS, Covers.NOTHING)]
    assert found.problems == ()
    text = page(found)
    assert "not for this revision" in text
    assert "accepted by technical director until 2027-01-01" in text
    assert comparison_status(found, Severity.ADVISORY) is ExitStatus.NOTHING_AT_THE_GATE


def test_an_acceptance_that_covers_both_revisions_is_no_news(tmp_path: Path) -> None:
    found = compared(house(LOW), house(LOW), book(tmp_path, CHAIN_RULES), accepted=waivers())
    assert found.waived == ()
    assert found.is_alike
