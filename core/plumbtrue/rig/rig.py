"""A house or a plot as it was read: the tree of things, and what else its file says."""

from collections.abc import Iterator
from dataclasses import field

from plumbtrue.documents.place import Place, Problem
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.rig.thing import Thing
from plumbtrue.rig.vocabulary import Vocabulary


@unchanging
class OpenReference:
    """A name that stands for a thing of another document: a plot's names of sets, weights and beams of the
    house.
    """

    thing: Thing
    fact: str
    kind: str
    names: tuple[str, ...]
    places: tuple[Place, ...]


@unchanging(eq=False)
class Rig:
    """One house. Everything in it: `house.below()`; its sets: `house.parts["line_sets"]`."""

    house: Thing
    file: str
    files: tuple[tuple[str, str], ...]
    """Every file that was read, with the SHA-256 digest of its content."""
    typical: tuple[str, ...]
    """Names of its typical things."""
    vocabulary: Vocabulary
    rule_packs: tuple[str, ...] = ()
    rule_packs_at: tuple[Place, ...] = ()
    """Where each of them is named."""
    units: str = "us"
    """System in which figures are printed: us, si, metric or both."""
    documents: tuple[tuple[str, str], ...] = ()
    """Text of every file that was read, by the name that places use."""
    indexed: dict[str, dict[str, tuple[Thing, ...]]] = field(default_factory=dict, repr=False)
    """Kept by `finding_things`."""
    plot: Thing | None = None
    """The plot that is laid over it (see `laying`); it stands in the house, which does not hold it."""
    accepted: Thing | None = None
    """That plot in the earlier revision that somebody accepted, laid over the same house; nothing where this one is
    accepted, or nobody put the other beside it.
    """
    not_in_house: tuple[tuple[Thing, Problem], ...] = ()
    """What the plot names and the house lacks, each with the thing that names it; only where it was laid all the
    same.
    """

    def things(self) -> Iterator[Thing]:
        """Everything there is: the house with all in it, and then the plot laid over it."""
        yield from self.house.below()
        if self.plot is not None:
            yield from self.plot.below()


@unchanging(eq=False)
class Plot:
    """What one show wants to hang. Things of the house that it names are not known until it is laid over
    one.
    """

    plot: Thing
    file: str
    files: tuple[tuple[str, str], ...]
    typical: tuple[str, ...]
    vocabulary: Vocabulary
    house_file: str | None = None
    open_references: tuple[OpenReference, ...] = ()
    documents: tuple[tuple[str, str], ...] = ()
    accepted: "Plot | None" = None
    """The earlier revision that somebody accepted, where it was read beside this one."""
