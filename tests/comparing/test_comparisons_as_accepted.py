"""A comparison in every format, as it was read and accepted.

A changed one is accepted with `pytest --force-regen`, after reading it.
"""

import json
import re
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from pytest_regressions.file_regression import FileRegressionFixture
from tests.comparing.two_weeks import compared

from plumbtrue import __version__
from plumbtrue.audit.comparing import Comparison
from plumbtrue.documents.data_folder import data_folder
from plumbtrue.reporting.comparison_formats import written
from plumbtrue.rules.severity import Severity


@pytest.fixture(scope="module")
def comparison(tmp_path_factory: pytest.TempPathFactory) -> Comparison:
    return compared(tmp_path_factory.mktemp("weeks"))


def in_format(comparison: Comparison, name: str, width: int = 80) -> str:
    return written(
        comparison,
        name,
        old="monday/show.yaml",
        new="friday/show.yaml",
        gate=Severity.BEFORE_NEXT_USE,
        width=width,
    )


def scrubbed(text: str) -> str:
    """Without version, digests, and the page's own style and script, which change for reasons of their own."""
    text = re.sub(r"(?<=digest )[0-9a-f]{12}\b", "DIGEST", text)
    text = re.sub(r"<style>.*?</style>|<script>.*?</script>", "<!-- ours -->", text, flags=re.S)
    return re.sub(r"sha256-[A-Za-z0-9+/=]+", "sha256-DIGEST", text).replace(__version__, "VERSION")


@pytest.mark.parametrize(("name", "ending"), [("terminal", ".txt"), ("markdown", ".md"), ("html", ".html")])
def test_a_comparison_reads_as_it_was_accepted(
    comparison: Comparison, name: str, ending: str, file_regression: FileRegressionFixture
) -> None:
    file_regression.check(scrubbed(in_format(comparison, name)), extension=ending, encoding="utf-8")


def test_the_same_comparison_gives_the_same_bytes(comparison: Comparison, tmp_path: Path) -> None:
    again = compared(tmp_path)
    for name in ("terminal", "markdown", "html", "json"):
        ours, theirs = in_format(comparison, name), in_format(again, name)
        assert ours == theirs, name


def test_the_json_form_is_the_one_of_its_schema(comparison: Comparison) -> None:
    schema = json.loads((data_folder("schemas") / "comparison-1.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    document = json.loads(in_format(comparison, "json"))
    assert [one.message for one in Draft202012Validator(schema).iter_errors(document)] == []
    lists = (
        "line_sets",
        "pieces",
        "findings",
        "changes",
        "values",
        "check_again",
        "tasks",
        "crew",
        "standing",
    )
    assert [name for name in lists if not document[name]] == [], (
        "the form is tried with something in every list"
    )


def test_every_format_says_what_is_worse_and_that_nothing_is_called_safe(comparison: Comparison) -> None:
    for name in ("terminal", "markdown", "html"):
        text = " ".join(in_format(comparison, name).split())
        assert "Rope in use is not pitted" in text or "The rope is pitted" in text, name
        assert "moon" in text, name
        assert re.search(r"does not say that anything is safe", text), name
        assert not re.search(r"\b(is|are) safe\b", text.replace("anything is safe", "")), name
