"""Rigs for these tests are written as a user would write them."""

from datetime import date
from textwrap import dedent, indent

import pytest
from tests.facts.rigs_in_text import BRICKS, ON, Ask, Asked


@pytest.fixture
def asked() -> Ask:
    """A whole rig file, without its first line."""

    def ask(text: str, on: date = ON) -> Asked:
        return Asked("plumbtrue: rig/1\n" + dedent(text), on)

    return ask


@pytest.fixture
def one_set(asked: Ask) -> Ask:
    """One line set, number 14, of a house whose battens count from stage right; what stands here is written
    in the set.
    """

    def ask(text: str, on: date = ON, house: str = "") -> Asked:
        inner = indent(dedent(text).strip("\n"), "    ")
        return asked(
            "house:\n  name: test house\n  batten_zero: stage-right\n"
            + indent(dedent(house or BRICKS).strip("\n"), "  ")
            + "\nline_sets:\n  - number: 14\n"
            + inner
            + "\n",
            on,
        )

    return ask
