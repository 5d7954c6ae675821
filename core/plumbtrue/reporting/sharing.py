"""What many cards of a page have in common, put down once: drawings that are the same to the last stroke, and the
parts of workings that sets which are drawn alike have alike.

A page of a hundred sets is read on a phone at the rail; most of its sets are drawn alike.
"""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

from markupsafe import Markup

from plumbtrue.quantities.unchanging import unchanging

_SVG: Final = re.compile(r"(<svg [^>]*>)(.*)</svg>\s*", re.S)
_CLASS: Final = re.compile(r'class="([^"]*)"')
_BOX: Final = re.compile(r'viewBox="([^"]*)"')


@unchanging
class Drawings:
    """Drawings as they stand on their cards, and those that several of them show, by which each is referred to."""

    placed: Mapping[tuple[str, str], Markup]
    """By whatever names them."""
    shared: tuple[Markup, ...]


def drawings(drawn: Mapping[tuple[str, str], str]) -> Drawings:
    """Drawings with what several have in common put down once.

    Args:
        drawn: each as a whole `svg` element of our own templates, in which all text is escaped.
    """
    often = Counter(drawn.values())
    marks = {text: f"drawing-{number}" for number, text in enumerate(t for t in often if often[t] > 1)}
    placed = {
        name: Markup(_reference(text, marks[text]) if text in marks else text) for name, text in drawn.items()
    }
    return Drawings(placed, tuple(Markup(_symbol(text, mark)) for text, mark in marks.items()))


def _reference(text: str, mark: str) -> str:
    head, _ = _parted(text)
    return f'{head}<use href="#{mark}"/></svg>'


def _symbol(text: str, mark: str) -> str:
    head, strokes = _parted(text)
    box, style = _BOX.search(head), _CLASS.search(head)
    assert box is not None
    assert style is not None
    return f'<symbol id="{mark}" viewBox="{box.group(1)}"><g class="{style.group(1)}">{strokes}</g></symbol>'


def _parted(text: str) -> tuple[str, str]:
    found = _SVG.fullmatch(text)
    assert found is not None, text[:80]
    return found.group(1), found.group(2)


@unchanging
class Block:
    """A part of a working: its text, or where the page has it."""

    title: str
    """Its first line."""
    lines: tuple[str, ...]
    """Empty where it is told elsewhere."""
    mark: str
    """Where that is, and empty where it is not."""


@unchanging
class Workings:
    """Workings by card and figure, each in its blocks, and the blocks that several cards have."""

    placed: Mapping[tuple[str, str], tuple[Block, ...]]
    shared: tuple[Block, ...]


def workings(told: Mapping[tuple[str, str], str], file: str) -> Workings:
    """Workings with what several cards have in common put down once.

    Args:
        told: by key of the set and what the figure is about; blocks are divided by an empty line, and one begins
            with what it works out.
        file: the rig file, of which only line and column are told.
    """
    blocks = {name: _blocks(text, name[0], file) for name, text in told.items()}
    cards: dict[str, set[str]] = {}
    for (key, _), its in blocks.items():
        for block in its:
            cards.setdefault(block, set()).add(key)
    marks = {block: f"w{number}" for number, block in enumerate(one for one in cards if len(cards[one]) > 1)}
    placed = {name: tuple(_placed(block, marks) for block in its) for name, its in blocks.items()}
    return Workings(placed, tuple(_block(block, mark) for block, mark in marks.items()))


def _blocks(text: str, key: str, file: str) -> Sequence[str]:
    """Blocks of a working, things named from within their set, so that what is alike reads alike."""
    inside = re.compile(rf"(?<![\w./-]){re.escape(key)} / ")
    return inside.sub("", text.replace(f"{file}:", "")).split("\n\n")


def _placed(block: str, marks: Mapping[str, str]) -> Block:
    if block in marks:
        return Block(block.split("\n", 1)[0], (), marks[block])
    return _block(block, "")


def _block(block: str, mark: str) -> Block:
    first, *rest = block.split("\n")
    return Block(first, tuple(rest), mark)
