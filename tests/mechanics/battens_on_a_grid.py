"""Random battens whose lines, loads and splices stand on a grid of 5 cm, so that no other solver is asked for
members too short for its arithmetic.
"""

from hypothesis import strategies as st

from plumbtrue.mechanics.batten import Batten, Line, Load, Piece, PointLoad, Splice, SpreadLoad

Hung = tuple[Batten, tuple[Line, ...], tuple[Load, ...]]
GRID = 0.05


@st.composite
def battens_on_a_grid(
    draw: st.DrawFn,
    *,
    elastic: bool | None = None,
    offsets: bool = True,
    splices: tuple[str, ...] = (),
    most_lines: int = 12,
) -> Hung:
    """Pipes of 2 to 12 lines with overhangs, doubled pieces, splices and loads of every kind.

    Args:
        elastic: whether lines stretch; None for some that do and some that do not.
        splices: models that a splice may have, `hinge` or `spring`; none where empty.
    """
    spans = draw(st.lists(st.integers(16, 80), min_size=1, max_size=most_lines - 1))
    first, over = draw(st.integers(0, 24)), draw(st.integers(0, 24))
    places = [first]
    for span in spans:
        places.append(places[-1] + span)
    end = places[-1] + over
    EI = draw(st.floats(5e3, 1e5))
    lines = tuple(
        Line(
            at=GRID * place,
            stiffness=draw(st.floats(2e4, 2e5))
            if (draw(st.booleans()) if elastic is None else elastic)
            else None,
            offset=draw(st.floats(-0.01, 0.01)) if offsets else 0.0,
        )
        for place in places
    )
    pieces: tuple[Piece, ...] = ()
    if draw(st.booleans()):
        start = draw(st.integers(1, end - 8))
        pieces = (Piece(GRID * start, GRID * (start + 7), 2.5 * EI),)
    spliced: tuple[Splice, ...] = ()
    if splices:
        # Between two lines, so that no piece hangs on a hinge alone.
        span = draw(st.integers(0, len(spans) - 1))
        at = places[span] + draw(st.integers(2, spans[span] - 2))
        model = draw(st.sampled_from(splices))
        # A hinge needs a third line to hold its piece.
        if model == "spring" or len(spans) > 1:
            spliced = (Splice(GRID * at, EI * draw(st.floats(0.1, 20.0)) if model == "spring" else 0.0),)
    batten = Batten(GRID * end, EI, draw(st.floats(10.0, 100.0)), pieces, spliced)
    return batten, lines, tuple(draw(st.lists(loads_on(end), max_size=4)))


@st.composite
def loads_on(draw: st.DrawFn, end: int) -> Load:
    """A point load, or one spread evenly or unevenly over a part of the batten; `end` in steps of the grid."""
    start = draw(st.integers(0, end - 2))
    last = draw(st.integers(start + 1, end))
    match draw(st.sampled_from(["point", "uniform", "linear"])):
        case "point":
            return PointLoad(GRID * start, draw(st.floats(1.0, 3000.0)))
        case "uniform":
            return SpreadLoad.uniform(GRID * start, GRID * last, draw(st.floats(1.0, 3000.0)))
        case _:
            q = st.floats(1.0, 500.0)
            return SpreadLoad(GRID * start, GRID * last, draw(q), draw(q))
