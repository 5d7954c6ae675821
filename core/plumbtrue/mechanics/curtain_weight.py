"""Weight of a curtain from its cloth. How it hangs on a batten, open, closed and on its way, is for the beam
modules.

Cloth is sold by weight per area or by weight per *linear* length of the goods, whatever their width: divide
by the width first. Flame treatment, dust and paint add 10 % and more (common practice); wet cloth is a
different load and is never assumed.
Source: area times areal weight (derived).
"""

from plumbtrue.mechanics.refusal import must_be_positive, must_not_be_negative
from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Cloth:
    """A curtain as hung: finished width and height, hems and heading [m], fullness (0.5 is half as wide
    again), cloth and lining [N/m2]."""

    width: float
    height: float
    hems: float
    fullness: float
    per_area: float
    lining_per_area: float = 0.0


@unchanging
class Fittings:
    """What else hangs with a curtain: chain and pipe at its bottom by finished width [N/m], carriers and
    track [N]."""

    chain: float = 0.0
    pipe: float = 0.0
    carriers: float = 0.0
    track: float = 0.0


@unchanging
class CurtainWeight:
    """[N], and [N/m] of finished width."""

    cloth: float
    total: float
    per_width: float


def curtain_weight(cloth: Cloth, fittings: Fittings = Fittings(), *, extra: float = 0.0) -> CurtainWeight:
    """Weight of a curtain: `width (1 + fullness) (height + hems) x areal weight`, with what is sewn to it and
    what carries it.

    Args:
        extra: share added to the cloth for treatment, dust and paint, 0 or more.
    Raises:
        ValueError: a size that is not more than 0, or a weight below 0.

    10 by 24 at half fullness, at 1/9 a unit of area, with chain:

    >>> curtain_weight(Cloth(10.0, 24.0, 0.0, 0.5, 1 / 9), Fittings(chain=0.25))
    CurtainWeight(cloth=40.0, total=42.5, per_width=4.25)
    """
    must_be_positive(width=cloth.width, height=cloth.height)
    must_not_be_negative(
        hems=cloth.hems,
        fullness=cloth.fullness,
        per_area=cloth.per_area,
        lining_per_area=cloth.lining_per_area,
        chain=fittings.chain,
        pipe=fittings.pipe,
        carriers=fittings.carriers,
        track=fittings.track,
        extra=extra,
    )
    area = cloth.width * (1 + cloth.fullness) * (cloth.height + cloth.hems)
    fabric = area * (cloth.per_area + cloth.lining_per_area) * (1 + extra)
    total = fabric + (fittings.chain + fittings.pipe) * cloth.width + fittings.carriers + fittings.track
    return CurtainWeight(fabric, total, total / cloth.width)


def areal_weight(per_linear_length: float, cloth_width: float) -> float:
    """Weight per area [N/m2] of goods quoted per linear length [N/m], by the width of the goods [m].

    >>> areal_weight(20.0, 1.5)
    13.333333333333334
    """
    must_not_be_negative(per_linear_length=per_linear_length)
    must_be_positive(cloth_width=cloth_width)
    return per_linear_length / cloth_width


def chain_in_gathered_hem(chain_per_length: float, fullness: float) -> float:
    """Weight per finished width [N/m] of a chain sewn into a gathered hem, where it follows the folds.

    >>> chain_in_gathered_hem(2.0, 0.5)
    3.0
    """
    must_not_be_negative(chain_per_length=chain_per_length, fullness=fullness)
    return chain_per_length * (1 + fullness)
