"""Figures in rules, where the text itself says what they measure: `1/4 in`, `12 months`, `5 %`, `2018-07-14`.

The rule's check decides whether the dimension fits; here nothing is wanted of it.
"""

from functools import lru_cache

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import RATIO, Dimension
from plumbtrue.quantities.figures import LONGEST, plain
from plumbtrue.quantities.reading_dates import is_date, read_date
from plumbtrue.quantities.reading_quantities import bounds_of, read_ends
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.unreadable import Unreadable, kind_of, quoted


@unchanging
class Literal_:  # noqa: N801  (the plain name is taken by `typing`)
    """A figure of a rule [SI, or days of a date]; a date has no dimension."""

    bounds: Bounds
    dimension: Dimension | None
    text: str

    @property
    def is_date(self) -> bool:
        return self.dimension is None


@lru_cache(maxsize=4096)
def read_literal(text: str) -> Literal_ | Unreadable:
    """A quantity of any dimension, a plain number, or a date to the month or nearer.

    >>> read_literal("12 in").bounds == read_literal("1 ft").bounds
    True
    >>> read_literal("2018-07-14").is_date, read_literal("2018").is_date
    (True, False)
    """
    if len(text) <= LONGEST and is_date(plain(text)):
        day = read_date(text)
        return day if isinstance(day, Unreadable) else Literal_(day, None, text)
    ends = read_ends(text, None)
    if isinstance(ends, Unreadable):
        return ends
    dimensions = [end.unit.dimension if end.unit else RATIO for end in ends if end is not None]
    if len(set(dimensions)) > 1:
        what = f"the ends of {quoted(plain(text))} are {kind_of(dimensions[0])} and {kind_of(dimensions[-1])}"
        return Unreadable(what, "two ends of one kind, such as 20..25 lb", "dimension-wrong")
    bounds = bounds_of(text, ends)
    return bounds if isinstance(bounds, Unreadable) else Literal_(bounds, dimensions[0], text)
