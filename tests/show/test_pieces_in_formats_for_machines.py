"""Whether each piece of a show hangs stands in what other programs read, too, and keeps to what others published
(see tests/reporting/published/SOURCES.md).
"""

import json
from collections import Counter
from dataclasses import replace
from pathlib import Path
from xml.etree.ElementTree import Element, fromstring

import pytest
import xmlschema
from jsonschema import Draft4Validator
from tests.show.small_show import BORDER, RULES, SHIP, audited, plot
from tests.show.test_item_by_item import LIGHT_SHIP, called

from plumbtrue.audit.gate import ExitStatus, exit_status
from plumbtrue.rules.severity import Severity

PUBLISHED = Path(__file__).parents[1] / "reporting" / "published"
OPEN_BORDER = BORDER.replace("people: none, ", "")


def test_sarif_tells_each_piece_at_its_line_and_is_as_published(tmp_path: Path) -> None:
    """The JSON Schema of SARIF 2.1.0."""
    log = json.loads(called(tmp_path, "check", "--format", "sarif", plot_text=plot(SHIP, OPEN_BORDER)).stdout)
    schema = json.loads((PUBLISHED / "sarif-2.1.0-rtm.5.json").read_text(encoding="utf-8"))
    Draft4Validator(schema).validate(log)
    told = log["runs"][0]["invocations"][0]["toolExecutionNotifications"]
    verdicts = [one for one in told if one["descriptor"]["id"] == "item-verdict"]
    assert [(one["properties"]["item"], one["properties"]["verdict"], one["level"]) for one in verdicts] == [
        ("02", "cannot-be-told", "warning"),
        ("21", "does-not-hang", "error"),
    ]
    region = verdicts[1]["locations"][0]["physicalLocation"]["region"]
    lines = (tmp_path / "tour.yaml").read_text(encoding="utf-8").splitlines()
    assert '"21"' in lines[region["startLine"] - 1]
    assert "does not hang" in verdicts[1]["message"]["text"]


def cases(text: str) -> dict[str, Element]:
    root = fromstring(text)
    return {
        case.get("name", ""): case
        for case in root.iter("testcase")
        if "the show" in case.get("classname", "")
    }


def test_junit_has_a_case_for_each_piece_and_is_as_published(tmp_path: Path) -> None:
    text = called(tmp_path, "check", "--format", "junit", plot_text=plot(SHIP, OPEN_BORDER)).stdout
    xmlschema.XMLSchema(next(PUBLISHED.glob("*.xsd"))).validate(text)
    found = cases(text)
    assert found["item 21, ship profile"].find("failure") is not None
    assert found["item 02, border"].find("error") is not None
    assert len(cases(called(tmp_path, "check", "--format", "junit", plot_text=plot(BORDER)).stdout)) == 1


def test_remarks_stand_at_the_line_of_the_piece(tmp_path: Path) -> None:
    text = called(tmp_path, "check", "--format", "annotations", plot_text=plot(SHIP, BORDER)).stdout
    [ship] = [line for line in text.splitlines() if "title=item 21" in line]
    assert ship.startswith("::error ")
    assert "tour.yaml" in ship.split("::")[1]
    assert not [line for line in text.splitlines() if "title=item 02" in line]
    counted = Counter(line.split()[0] for line in text.splitlines())
    assert counted["::notice"] >= 2  # The house and the show, each in a sentence.


RIDDEN = LIGHT_SHIP.replace("people: none", "people: rides")


@pytest.mark.parametrize(
    ("items", "status"),
    [(LIGHT_SHIP, ExitStatus.CANNOT_TELL), (RIDDEN, ExitStatus.FINDINGS)],
    ids=["nobody looked", "somebody on it"],
)
def test_a_piece_counts_in_the_status_without_any_rule(
    tmp_path: Path, items: str, status: ExitStatus
) -> None:
    """A pack that forgot shows passes none of their pieces, and one with somebody on it is stopped."""
    only_house = RULES[: RULES.index("- rule: nobody-is-lifted")]
    audit = audited(tmp_path, plot(items), rules=only_house)
    assert exit_status(replace(audit, told=()), Severity.BEFORE_NEXT_USE) is status
