"""An answer about a thing, with what is missing and how it was found, so that it can be followed with a
pocket calculator.
"""

from plumbtrue.quantities.dimension import Dimension
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Value
from plumbtrue.rig.thing import Recorded, Thing


@unchanging
class Missing:
    """A fact that would help to settle a question."""

    thing: Thing
    fact: str
    why: str = "not recorded"
    """For print: not recorded, looked at and could not be told, recorded only within bounds, hidden …"""


@unchanging
class Input:
    """One input of a step: its label in the trade's words, its value, and where it comes from."""

    label: str
    value: Value
    dimension: Dimension | None
    recorded: Recorded | None = None
    working: "Working | None" = None


@unchanging
class Working:
    """How a value was found: the formula in words or symbols, its inputs, intermediate figures, and on whose
    authority.
    """

    what: str
    """Name of the computation, such as `batten-reactions`."""
    formula: str
    inputs: tuple[Input, ...]
    steps: tuple[tuple[str, str], ...] = ()
    """Intermediate values: label and figure as printed."""
    result: Value | None = None
    dimension: Dimension | None = None
    source: str = ""
    assumptions: tuple[str, ...] = ()


@unchanging
class Answer:
    """What is known of one fact of one thing."""

    value: Value
    missing: tuple[Missing, ...] = ()
    recorded: Recorded | None = None
    working: Working | None = None
    refusal: str | None = None
    """A named refusal of a computation asked beyond its validity: the value is unknown and this says why."""
