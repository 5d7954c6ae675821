"""Each kind of message about rigs has its paragraph, here or with the messages of all documents."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import plumbtrue.rig
from plumbtrue.documents import messages as of_documents
from plumbtrue.documents.messages import Explanation
from plumbtrue.rig.messages import EXPLANATIONS

FOLDER = Path(plumbtrue.rig.__file__).parent
POSITION = {"say": 1, "Problem": 0, "problem": 0}
"""Where a call that makes a problem carries its slug."""


def slugs_in(path: Path) -> Iterator[str]:
    for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(call, ast.Call):
            name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
            slug = call.args[POSITION[name]] if len(call.args) > POSITION.get(name, 99) else None
            if isinstance(slug, ast.Constant):
                yield str(slug.value)


def test_every_slug_has_its_paragraph_and_every_paragraph_its_slug() -> None:
    used = {slug for path in FOLDER.glob("*.py") for slug in slugs_in(path)}
    ours = {explanation.slug for explanation in EXPLANATIONS}
    shared = {explanation.slug for explanation in of_documents.EXPLANATIONS}
    assert used - shared == ours
    assert ours & shared == set()


def test_paragraphs_stand_in_the_order_of_the_alphabet_each_once() -> None:
    slugs = [explanation.slug for explanation in EXPLANATIONS]
    assert slugs == sorted(set(slugs))


@pytest.mark.parametrize("explanation", EXPLANATIONS, ids=lambda explanation: explanation.slug)
def test_a_paragraph_is_made_of_whole_sentences(explanation: Explanation) -> None:
    for part in (explanation.cause, explanation.meaning, explanation.what_to_do):
        assert part[0].isupper()
        assert part.endswith((".", "?"))
