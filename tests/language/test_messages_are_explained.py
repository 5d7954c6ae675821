"""Each kind of message about expressions and texts has its paragraph in the manual, and each paragraph its
message.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import plumbtrue.rules.language
from plumbtrue.documents.messages import Explanation
from plumbtrue.quantities.unreadable import SLUGS
from plumbtrue.rig import messages as of_rigs
from plumbtrue.rules.language.messages import EXPLANATIONS

FOLDER = Path(plumbtrue.rules.language.__file__ or "").parent
SHARED = {one.slug for one in of_rigs.EXPLANATIONS} | set(SLUGS)
ADVISERS = ("_advice", "_advice_on_figures")
"""Functions that give back a slug with what to write."""


def slugs_in(tree: ast.AST) -> Iterator[str]:
    """Texts that stand where a slug does."""
    for place in places_in(tree):
        if isinstance(place, ast.Constant) and isinstance(place.value, str):
            yield place.value


def places_in(tree: ast.AST) -> Iterator[ast.expr]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            position = {"Problem": 0, "mistake": 1}.get(name)
            if position is not None and len(node.args) > position:
                yield node.args[position]
        elif isinstance(node, ast.FunctionDef) and node.name in ADVISERS:
            returned = [one.value for one in ast.walk(node) if isinstance(one, ast.Return)]
            yield from (one.elts[0] for one in returned if isinstance(one, ast.Tuple))


def test_every_slug_has_its_paragraph_and_every_paragraph_its_slug() -> None:
    used = {
        slug for path in FOLDER.glob("*.py") for slug in slugs_in(ast.parse(path.read_text(encoding="utf-8")))
    }
    own = {one.slug for one in EXPLANATIONS}
    assert used - SHARED == own
    assert not own & SHARED


def test_paragraphs_stand_in_the_order_of_the_alphabet_each_once() -> None:
    slugs = [one.slug for one in EXPLANATIONS]
    assert slugs == sorted(set(slugs))


@pytest.mark.parametrize("explanation", EXPLANATIONS, ids=lambda explanation: explanation.slug)
def test_a_paragraph_is_made_of_whole_sentences(explanation: Explanation) -> None:
    for part in (explanation.cause, explanation.meaning, explanation.what_to_do):
        assert part[0].isupper()
        assert part.endswith(".")
