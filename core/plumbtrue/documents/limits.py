"""How large a document may be, so that a short hostile file cannot stand for a huge one."""

from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Limits:
    """The most that is read of one file.

    A house of 6,000 sets in one file, far more than any known, stays under each (common practice).
    """

    bytes: int = 8_000_000
    depth: int = 64
    """Lists and mappings inside one another, counted with every alias written out."""
    nodes: int = 1_000_000
    """Keys, values, lists and mappings, counted with every alias written out."""
    aliases: int = 10_000
    problems: int = 200
    """Problems told of one file before the rest is only counted."""


LIMITS = Limits()
