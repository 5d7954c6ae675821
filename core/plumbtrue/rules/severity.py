"""How serious a breach is."""

from enum import Enum
from typing import Final


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

    @property
    def is_urgent(self) -> bool:
        """Whether it asks for something before the next use."""
        return self in URGENT


URGENT: Final = (Severity.OUT_OF_SERVICE, Severity.BEFORE_NEXT_USE)
"""What has to be done before anything is used again."""
