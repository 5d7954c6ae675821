"""Each kind of message about documents has its paragraph in the manual, and each paragraph its message."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import plumbtrue.documents
from plumbtrue.documents.messages import EXPLANATIONS, Explanation

FOLDER = Path(plumbtrue.documents.__file__).parent
# Functions and tables of this floor whose first text, or the value of `slug`, is a slug.
MAKERS = {"Problem", "_Wording", "_about_file", "problem", "_note"}


def slugs_in(path: Path) -> Iterator[str]:
    """Every slug with which a module makes a problem."""
    for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(call, ast.Call):
            continue
        name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
        position = 1 if name == "problem_with" else 0 if name in MAKERS else None
        if position is not None and len(call.args) > position:
            slug = call.args[position]
            if isinstance(slug, ast.Constant) and isinstance(slug.value, str):
                yield slug.value


def test_every_slug_has_its_paragraph_and_every_paragraph_its_slug() -> None:
    used = {slug for path in FOLDER.glob("*.py") for slug in slugs_in(path)}
    assert used == {explanation.slug for explanation in EXPLANATIONS}


def test_paragraphs_stand_in_the_order_of_the_alphabet_each_once() -> None:
    slugs = [explanation.slug for explanation in EXPLANATIONS]
    assert slugs == sorted(set(slugs))


@pytest.mark.parametrize("explanation", EXPLANATIONS, ids=lambda explanation: explanation.slug)
def test_a_paragraph_is_made_of_whole_sentences(explanation: Explanation) -> None:
    for part in (explanation.cause, explanation.meaning, explanation.what_to_do):
        assert part[0].isupper()
        assert part.endswith((".", "?"))
