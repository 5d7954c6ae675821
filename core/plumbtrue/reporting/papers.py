"""The load-in papers of a show, as every format prints them: worded, counted, and in the order in which a crew
needs them. Made by `plumbtrue.reporting.load_in`.
"""

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.unchanging import unchanging
from plumbtrue.reporting.show_report import ShowItem, ShowReason


@unchanging
class PaperStep:
    """One step of load-in or load-out."""

    number: int
    do: str
    side: str
    """How the set then stands, at the hand line: `even`, `pipe heavy by 1040 lb`."""
    note: str
    out: Bounds | None = None
    """The same [N], above nought where the pipe is heavy; nothing where it cannot be told."""
    resting: str = ""
    """`pipe` where the pipe is in and can go no lower, `arbor` where it is out; else empty."""


@unchanging
class Order:
    """The steps of load-in, or of load-out."""

    title: str
    whose: str
    """`the plot's own order`, or by common practice."""
    steps: tuple[PaperStep, ...]
    warning: str


@unchanging
class BrickLine:
    """Bricks of one size."""

    size: str
    there: str
    """In the arbor with the bare pipe."""
    load: str
    in_all: str


@unchanging
class Bricks:
    """Counterweight of one set."""

    needed: str
    span: str
    """What it may be over the doubt about the weights; empty where there is none."""
    lines: tuple[BrickLine, ...]
    load: str
    """In one line: `37 brick-28 and 1 brick-14`."""
    there_from: str
    left_over: str
    stack: str
    plate: str


@unchanging
class Trim:
    """One height to spike."""

    item: str
    what: str
    pipe: str
    bottom: str
    hand_line: str
    """How far the hand line has moved from the low trim."""


@unchanging
class LinePull:
    """What one lift line carries."""

    key: str
    at: str
    pull: str
    least: str
    limit: str
    used: str


@unchanging
class SetPaper:
    """The paper of one set."""

    key: str
    anchor: str
    title: str
    system: str
    items: tuple[ShowItem, ...]
    label: str
    sign: str
    css: str
    no_paper: str
    """Why there is none; empty where there is one."""
    first: tuple[ShowReason, ...]
    """What must be put right, or found out, before it is used."""
    load: str
    """What hangs on it, with its doubt."""
    bricks: Bricks | None
    no_bricks: str
    """Why no bricks are told."""
    orders: tuple[Order, ...]
    trims: tuple[Trim, ...]
    heights: tuple[tuple[str, str], ...]
    lines: tuple[LinePull, ...]
    notes: tuple[str, ...]
    reach: str
    """Where the stack stands while it is loaded, and the floors of the bridges; empty where that is not told."""


@unchanging
class SheetLine:
    """One set on the sheet of all sets."""

    key: str
    anchor: str
    items: str
    sign: str
    label: str
    css: str
    load: str
    """What hangs on it; empty where the set gets no paper."""
    bricks: tuple[tuple[str, str], ...]
    """Bricks to load and in all, of each size; empty where none are told."""
    side: str
    trims: str
    """Heights of the pipe: `in 15'-1", out 52'-0"`."""


@unchanging
class OtherPaper:
    """A piece that hangs on no set: on a truss, a point or the deck."""

    item: ShowItem
    figures: tuple[tuple[str, str], ...]
    no_paper: str


@unchanging
class StockLine:
    """Bricks of one size over the whole house."""

    size: str
    weight: str
    needed: str
    stock: str


@unchanging
class Papers:
    """The papers of one show in one house."""

    house: str
    show: str
    on: str
    file: str
    sentence: str
    stops: tuple[ShowItem, ...]
    whole: tuple[ShowReason, ...]
    load_in: str
    """Day and hour of load-in; empty where nobody says."""
    stock: tuple[StockLine, ...]
    to_spare: str
    stand_in: tuple[str, ...]
    """Which bricks stand in for others, in words."""
    sheet: tuple[SheetLine, ...]
    """All sets on one sheet, as people count them."""
    sheet_total: tuple[str, ...]
    """Bricks of each size that these papers load."""
    sets: tuple[SetPaper, ...]
    others: tuple[OtherPaper, ...]
    not_run: tuple[str, ...]
    packs: tuple[str, ...]
    read: tuple[tuple[str, str], ...]
    common: tuple[str, ...]
    """What holds for every set."""
    lock: float | None
    """What a rope lock is trusted with in these steps, at the hand line [N]; nothing where no rule says so."""
    lock_text: str
    cautions: tuple[str, ...]
    version: str
