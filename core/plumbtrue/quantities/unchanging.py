"""Classes of values that nobody changes, without paying for a lock on each of them.

A frozen dataclass sets its fields past a lock that is looked up for each field: to make one takes five times
as long as to make one that is not, and a check makes half a million. Here the type checker keeps the lock: to
it these classes are frozen, and it refuses every line that would change a value. At run time they are plain
slotted dataclasses, equal and hashed by their fields.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, fields
from typing import Any, TypeVar, dataclass_transform, overload

T = TypeVar("T")


@overload
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def unchanging(cls: type[T], /) -> type[T]: ...
@overload
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def unchanging(*, eq: bool = True, order: bool = False) -> Callable[[type[T]], type[T]]: ...
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def unchanging(
    cls: type[T] | None = None, /, *, eq: bool = True, order: bool = False
) -> type[T] | Callable[[type[T]], type[T]]:
    """A slotted dataclass of values that nobody changes.

    Args:
        eq: equal and hashed by its fields; else each value is equal to itself alone.
        order: compared by its fields too.

    >>> @unchanging
    ... class Span:
    ...     low: float
    ...     high: float = 1.0
    >>> Span(0.5), Span(0.5) == Span(0.5, 1.0), len({Span(0.5), Span(0.5)})
    (Span(low=0.5, high=1.0), True, 1)
    """

    def made(plain: type[T]) -> type[T]:
        if "__repr__" not in plain.__dict__:
            plain.__repr__ = _shown  # type: ignore[method-assign]  # one for all such classes
        if order:
            return dataclass(slots=True, unsafe_hash=True, order=True, repr=False)(plain)
        whole = dataclass(slots=True, eq=False, repr=False)(plain)
        if eq:
            _compare_by_fields(whole)
        return whole

    return made if cls is None else made(cls)


def _compare_by_fields(whole: type[Any]) -> None:
    """Equality and hash by all fields, made ready when the first value asks. A dataclass has both compiled at
    each start, for three hundred classes of which few are ever compared.
    """

    def make_ready() -> None:
        names = "".join(f"value.{one.name}, " for one in fields(whole) if one.compare)
        held = eval(f"lambda value: ({names})")  # The names are those of a class of ours.

        def equal(one: object, other: object) -> bool:
            return held(one) == held(other) if other.__class__ is one.__class__ else NotImplemented

        def hashed(one: object) -> int:
            return hash(held(one))

        whole.__eq__, whole.__hash__ = equal, hashed  # type: ignore[assignment]

    def first_equal(one: object, other: object) -> bool:
        make_ready()
        return one.__eq__(other)

    def first_hashed(one: object) -> int:
        make_ready()
        return hash(one)

    whole.__eq__, whole.__hash__ = first_equal, first_hashed  # type: ignore[assignment]


def _shown(value: Any) -> str:
    """As any dataclass shows itself, without code of its own for each class."""
    shown = ", ".join(f"{one.name}={getattr(value, one.name)!r}" for one in fields(value) if one.repr)
    return f"{type(value).__qualname__}({shown})"
