"""The one door to what is read from text: quantities, counts, ratios, dates and places along a batten.

Nothing here raises: what cannot be read comes back as `Unreadable`, with what to write instead.
"""

from plumbtrue.quantities.reading_dates import read_date
from plumbtrue.quantities.reading_places import read_spot, read_spots
from plumbtrue.quantities.reading_quantities import read_count, read_quantity, read_ratio
from plumbtrue.quantities.unreadable import Unreadable

__all__ = ["Unreadable", "read_count", "read_date", "read_quantity", "read_ratio", "read_spot", "read_spots"]
