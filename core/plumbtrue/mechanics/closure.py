"""The heaviest set of events that may have happened, when some events must come before others.

A set is closed when with each event it holds all that must come before. The heaviest closed set is found by a
minimum cut (Picard, Maximal closure of a graph, Management Science 22, 1976: from memory); it is the worst
moment of the worst order.
"""

from collections import deque
from collections.abc import Sequence


def heaviest_closed_set(weights: Sequence[float], before: Sequence[tuple[int, int]]) -> frozenset[int]:
    """Events (counted from 0) of the closed set with the largest sum of weights; empty when no set is above
    0.

    Args:
        weights: what each event adds, of either sign, in any one unit.
        before: pairs (a, b): event a must come before event b.
    Raises:
        ValueError: a pair names an event that is not there, or the pairs run in a circle.

    Event 1 frees 5, but event 0, which costs 3, must come first:

    >>> sorted(heaviest_closed_set([-3.0, 5.0, -1.0], [(0, 1)]))
    [0, 1]
    """
    count = len(weights)
    for a, b in before:
        if not (0 <= a < count and 0 <= b < count):
            raise ValueError(f"there are {count} events, but a pair names {a + 1} before {b + 1}")
    if _runs_in_a_circle(count, before):
        raise ValueError("the pairs of what must come before what run in a circle")
    source, sink = count, count + 1
    room: list[dict[int, float]] = [{} for _ in range(count + 2)]
    for event, weight in enumerate(weights):
        start, end = (source, event) if weight > 0 else (event, sink)
        room[start][end] = room[start].get(end, 0.0) + abs(weight)
        room[end].setdefault(start, 0.0)
    for a, b in before:
        room[b][a] = float("inf")
        room[a].setdefault(b, 0.0)
    grain = 1e-12 * max([1e-300, *(abs(weight) for weight in weights)])
    while path := _path(room, source, sink, grain):
        width = min(room[start][end] for start, end in path)
        for start, end in path:
            room[start][end] -= width
            room[end][start] = room[end].get(start, 0.0) + width
    return frozenset(_reached(room, source, grain)) - {source}


def _path(room: list[dict[int, float]], source: int, sink: int, grain: float) -> list[tuple[int, int]]:
    came_from = _reached(room, source, grain)
    if sink not in came_from:
        return []
    path = []
    at = sink
    while at != source:
        path.append((came_from[at], at))
        at = came_from[at]
    return path


def _reached(room: list[dict[int, float]], source: int, grain: float) -> dict[int, int]:
    came_from = {source: source}
    waiting = deque([source])
    while waiting:
        here = waiting.popleft()
        for there, width in room[here].items():
            if width > grain and there not in came_from:
                came_from[there] = here
                waiting.append(there)
    return came_from


def _runs_in_a_circle(count: int, before: Sequence[tuple[int, int]]) -> bool:
    left = set(range(count))
    while left:
        free = {event for event in left if not any(b == event and a in left for a, b in before)}
        if not free:
            return True
        left -= free
    return False
