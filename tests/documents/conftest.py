"""A document stands in its test as somebody would write it, marked `#! slug` on each line where a problem
must be found.
"""

import re
from collections.abc import Callable
from textwrap import dedent

import pytest

from plumbtrue.documents.place import CannotRead, Problem
from plumbtrue.documents.reading import read_text

_MARK = re.compile(r"#! (?P<slugs>[\w, -]+)$", re.MULTILINE)


@pytest.fixture
def refused() -> Callable[[str | bytes], tuple[Problem, ...]]:
    """Read a text that cannot be used, and give the problems."""

    def refuse(text: str | bytes) -> tuple[Problem, ...]:
        with pytest.raises(CannotRead) as refusal:
            read_text(text, "house.yaml")
        return refusal.value.problems

    return refuse


@pytest.fixture
def refused_as_marked(refused: Callable[[str], tuple[Problem, ...]]) -> Callable[[str], tuple[Problem, ...]]:
    """Read a marked document; exactly the marked problems must be found, on the marked lines."""

    def refuse(text: str) -> tuple[Problem, ...]:
        text = dedent(text).lstrip("\n")
        problems = refused(text)
        found = sorted((problem.where.line, problem.slug) for problem in problems)
        marked = sorted(
            (number, slug.strip())
            for number, line in enumerate(text.split("\n"), start=1)
            for mark in _MARK.finditer(line)
            for slug in mark["slugs"].split(",")
        )
        assert found == marked
        return problems

    return refuse
