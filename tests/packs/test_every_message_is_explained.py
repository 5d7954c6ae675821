"""Each kind of message about packs and waivers has its paragraph, here or with those of all documents."""

import ast
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

import plumbtrue.audit
import plumbtrue.rules
from plumbtrue.audit import messages as of_waivers
from plumbtrue.documents import messages as of_documents
from plumbtrue.documents.messages import Explanation
from plumbtrue.quantities.unreadable import SLUGS
from plumbtrue.rig import messages as of_rigs
from plumbtrue.rules.packs import messages as of_packs

RULES, AUDIT = (Path(package.__file__ or "").parent for package in (plumbtrue.rules, plumbtrue.audit))
POSITION = {"problem": 0, "_problem": 0, "Problem": 0, "problem_with": 1, "_wrong": 1}
"""Where a call that makes a problem carries its slug."""

SHARED = {one.slug for floor in (of_documents, of_rigs) for one in floor.EXPLANATIONS} | set(SLUGS)


def slugs_in(*folders: Path) -> Iterator[str]:
    for path in (path for folder in folders for path in folder.glob("*.py")):
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(call, ast.Call):
                name = (
                    call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
                )
                slug = call.args[POSITION[name]] if len(call.args) > POSITION.get(name, 99) else None
                if isinstance(slug, ast.Constant):
                    yield str(slug.value)


def test_every_message_about_packs_is_explained_and_nothing_else() -> None:
    used = set(slugs_in(RULES / "packs", RULES / "examples")) - SHARED
    assert used == {one.slug for one in of_packs.EXPLANATIONS}


def test_every_message_about_waivers_is_explained_and_nothing_else() -> None:
    packs = {one.slug for one in of_packs.EXPLANATIONS}
    assert set(slugs_in(AUDIT)) - SHARED - packs == {one.slug for one in of_waivers.EXPLANATIONS}


@pytest.mark.parametrize("floor", [of_packs, of_waivers])
def test_paragraphs_stand_in_the_order_of_the_alphabet_each_once(floor: ModuleType) -> None:
    slugs = [one.slug for one in floor.EXPLANATIONS]
    assert slugs == sorted(set(slugs))


@pytest.mark.parametrize(
    "explanation",
    [*of_packs.EXPLANATIONS, *of_waivers.EXPLANATIONS],
    ids=lambda explanation: explanation.slug,
)
def test_a_paragraph_is_made_of_whole_sentences(explanation: Explanation) -> None:
    for part in (explanation.cause, explanation.meaning, explanation.what_to_do):
        assert part[0].isupper()
        assert part.endswith((".", "?", "…}]."))
