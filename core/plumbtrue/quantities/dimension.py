"""Dimensions of quantities, as exponents of length, force, time, temperature and angle.

The trade says "lb" for a weight and for a pull, so weight and force are one dimension: pounds, kilograms and
tonnes are read as the pull that they make under standard gravity. Mass itself is needed only where something
moves (energy, swing, stopping); there `mechanics` divides by g and says so. Angle is kept apart from ratio,
so that 5 degrees is never compared with 5 per cent.
"""

from plumbtrue.quantities.unchanging import unchanging


@unchanging
class Dimension:
    """Exponents of the base dimensions; all zero is a plain ratio or count."""

    length: int = 0
    force: int = 0
    time: int = 0
    temperature: int = 0
    angle: int = 0

    def __mul__(self, other: "Dimension") -> "Dimension":
        return Dimension(
            self.length + other.length,
            self.force + other.force,
            self.time + other.time,
            self.temperature + other.temperature,
            self.angle + other.angle,
        )

    def __truediv__(self, other: "Dimension") -> "Dimension":
        return Dimension(
            self.length - other.length,
            self.force - other.force,
            self.time - other.time,
            self.temperature - other.temperature,
            self.angle - other.angle,
        )


RATIO = Dimension()
LENGTH = Dimension(length=1)
AREA = Dimension(length=2)
VOLUME = Dimension(length=3)
SECOND_MOMENT = Dimension(length=4)
FORCE = Dimension(force=1)
FORCE_PER_LENGTH = Dimension(length=-1, force=1)
FORCE_PER_AREA = Dimension(length=-2, force=1)
FORCE_PER_VOLUME = Dimension(length=-3, force=1)
MOMENT = Dimension(length=1, force=1)
BENDING_STIFFNESS = Dimension(length=2, force=1)
ANGLE = Dimension(angle=1)
DURATION = Dimension(time=1)
SPEED = Dimension(length=1, time=-1)
TEMPERATURE = Dimension(temperature=1)

BY_NAME: dict[str, Dimension] = {
    "ratio": RATIO,
    "length": LENGTH,
    "area": AREA,
    "volume": VOLUME,
    "second_moment": SECOND_MOMENT,
    "force": FORCE,
    "force_per_length": FORCE_PER_LENGTH,
    "force_per_area": FORCE_PER_AREA,
    "force_per_volume": FORCE_PER_VOLUME,
    "moment": MOMENT,
    "bending_stiffness": BENDING_STIFFNESS,
    "angle": ANGLE,
    "duration": DURATION,
    "speed": SPEED,
    "temperature": TEMPERATURE,
}

_NAMES = {dimension: name for name, dimension in BY_NAME.items()}


def name_of(dimension: Dimension) -> str:
    """The trade's name of a dimension, or its exponents where it has none.

    >>> name_of(LENGTH * FORCE)
    'moment'
    """
    named = _NAMES.get(dimension)
    if named is not None:
        return named.replace("_", " ")
    exponents = (
        ("length", dimension.length),
        ("force", dimension.force),
        ("time", dimension.time),
        ("temperature", dimension.temperature),
        ("angle", dimension.angle),
    )
    return " ".join(f"{name}^{power}" for name, power in exponents if power)
