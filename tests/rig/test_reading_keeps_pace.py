"""Time to read grows with the house, not with its square."""

from time import perf_counter

from tests.rig.houses import RIG, SOUND_SET, TYPICAL

from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.vocabulary_loading import load_vocabulary

ONE_SET = SOUND_SET.removeprefix("line_sets:\n")


def house_of(sets: int) -> str:
    return (
        RIG
        + TYPICAL
        + "line_sets:\n"
        + "".join(ONE_SET.replace("number: 14", f"number: {n}") for n in range(sets))
    )


def seconds_to_read(text: str) -> float:
    vocabulary = load_vocabulary()
    times = []
    for _ in range(3):
        begun = perf_counter()
        read_rig_text(text, "house.yaml", vocabulary)
        times.append(perf_counter() - begun)
    return min(times)


def test_four_times_the_sets_take_about_four_times_as_long() -> None:
    """Quadratic work would take sixteen times as long."""
    assert seconds_to_read(house_of(60)) < 9 * seconds_to_read(house_of(15))
