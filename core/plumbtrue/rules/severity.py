"""How serious a breach is."""

from enum import Enum


class Severity(Enum):
    """What must happen, and by when; gravest first."""

    OUT_OF_SERVICE = "out-of-service"
    BEFORE_NEXT_USE = "before-next-use"
    NEXT_MAINTENANCE = "next-maintenance"
    ADVISORY = "advisory"

    # As with results: the object itself says which it is.
    __hash__ = object.__hash__

    @property
    def rank(self) -> int:
        """0 for the gravest."""
        return list(Severity).index(self)
