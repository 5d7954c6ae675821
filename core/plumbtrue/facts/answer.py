"""An answer about a thing, with what is missing and how it was found, so that it can be followed with a
pocket calculator.
"""

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import Dimension
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.quantities.values import Value
from plumbtrue.quantities.writing import System, write
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
    """One input of a step: what it is, its value, and where it comes from."""

    named: str | tuple[Thing, str]
    """Its label in the trade's words; or the thing and the fact, from which the label follows."""
    value: Value
    dimension: Dimension | None
    recorded: Recorded | None = None
    working: "Working | None" = None
    authority: str = ""
    """Of a figure that is no fact, such as one of a published table: on whose authority it stands."""

    @property
    def label(self) -> str:
        """In the trade's words, put together when a working is read: few ever are."""
        if isinstance(self.named, str):
            return self.named
        thing, fact = self.named
        return f"{fact.replace('_', ' ')} of {thing.path}"


@unchanging
class Worded:
    """A sentence with figures in it, written when somebody reads it: few workings ever are."""

    words: str
    """Ours, with `{}` for each of `told`."""
    told: tuple[str | tuple[Bounds, Dimension], ...]
    system: System = "us"
    """Units of the house that it is about."""

    def __str__(self) -> str:
        figures = (one if isinstance(one, str) else write(*one, self.system) for one in self.told)
        return self.words.format(*figures)


@unchanging
class Working:
    """How a value was found: the formula in words or symbols, its inputs, intermediate figures, and on whose
    authority.
    """

    what: str
    """Name of the computation, such as `batten-reactions`."""
    formula: str
    inputs: tuple[Input, ...]
    steps: tuple[tuple[str | Worded, str | Worded], ...] = ()
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
