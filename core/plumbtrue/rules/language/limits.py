"""How large an expression may be, so that no rule, whoever wrote it, can keep the program busy or break it.

All limits are ours; the largest expression of the generic pack stays well under half of each.
"""

from typing import Final

LONGEST: Final = 4000
"""Characters of one expression or text."""

DEEPEST: Final = 32
"""Expressions inside one another."""

MOST_NODES: Final = 500
"""Parts of one expression, named intermediate values not counted."""

MOST_NESTED: Final = 4
"""Quantifiers, sums and counts inside one another: the work grows with the number of things to that power."""

MOST_LETS: Final = 40
"""Named intermediate values of one rule."""

MOST_NODES_IN_ALL: Final = 5000
"""Parts of one expression when each named value is counted as often as it is used."""

DEEPEST_IN_ALL: Final = 96
"""Expressions inside one another, named values included."""
