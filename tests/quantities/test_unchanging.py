"""Values that nobody changes: equal and hashed by their fields, and refused to whoever would change them."""

import pickle
from dataclasses import replace

from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.values import Spot


def test_a_value_is_equal_to_its_like_and_found_by_it() -> None:
    assert {Spot(True, Bounds(1.0, 2.0)): "here"}[Spot(True, Bounds(1.0, 2.0))] == "here"
    assert Spot(True, Bounds(1.0, 2.0)) != Spot(False, Bounds(1.0, 2.0))


def test_a_value_shows_its_fields() -> None:
    assert repr(Spot(True, Bounds(1.0, 2.0))) == "Spot(from_centre=True, distance=Bounds(low=1.0, high=2.0))"


def test_a_value_goes_to_another_process_whole() -> None:
    spot = Spot(False, Bounds(1.0, 2.0))
    assert pickle.loads(pickle.dumps(spot)) == spot


def test_a_changed_value_is_another_one() -> None:
    spot = Spot(True, Bounds(1.0, 2.0))
    assert replace(spot, from_centre=False) == Spot(False, Bounds(1.0, 2.0))
    assert spot.from_centre


def test_the_type_checker_refuses_to_change_a_value() -> None:
    """An unused exception is an error to the checker: the day it stops refusing, this line fails there."""
    bounds = Bounds(1.0, 2.0)
    bounds.low = 1.5  # type: ignore[misc]
    assert bounds == Bounds(1.5, 2.0)
