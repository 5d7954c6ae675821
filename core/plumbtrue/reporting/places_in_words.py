"""Where something was found, as people say it: "wire rope clips at both ends of lines 1 to 4".

Things of one line set are named by part and line, with like ones drawn together; things of the house are
named from the inside out.
"""

from collections.abc import Iterable, Sequence

from plumbtrue.reporting.wording import listed, marks, several
from plumbtrue.rig.natural_order import natural_order
from plumbtrue.rig.thing import ROLES_SHOWN, Thing

_Steps = tuple[tuple[str, str], ...]
"""Names from a line inward, each with the end of the line that it sits at, if it sits at one."""


def where(things: Iterable[Thing], inside: Thing | None) -> str:
    """Some things of one line set, or of the house, in words.

    Args:
        inside: the line set, which is not named again; nothing for things of the house.
    """
    ordered = sorted(things, key=lambda one: natural_order(one.path))
    if inside is None:
        return listed([_in_house(thing) for thing in ordered])
    by_part: dict[_Steps, list[Thing]] = {}
    others: list[str] = []
    for thing in ordered:
        line = thing.enclosing("lift_line")
        if thing is inside:
            others.append("the set")
        elif line is None:
            others.append(_from_inside_out(_steps(thing, inside)))
        else:
            by_part.setdefault(_steps(thing, line), []).append(line)
    all_lines = inside.parts.get("lift_lines")
    total = len(all_lines) if isinstance(all_lines, tuple) else 0
    return listed([*others, *_on_lines(by_part, total)])


def name_of(thing: Thing) -> str:
    """What a thing is called where it sits: its key, spelled for print."""
    name, dot, number = thing.key.partition(".")
    plain = name.replace("-", " ") if thing.kind.word == name else name
    return (
        f"{plain} no. {number}"
        if dot and number.isdecimal() and thing.kind.word == name
        else (plain if not dot else thing.key)
    )


def _steps(thing: Thing, outside: Thing) -> _Steps:
    steps: list[tuple[str, str]] = []
    one: Thing | None = thing
    while one is not None and one is not outside:
        steps.append((name_of(one), one.role if one.role in ROLES_SHOWN else ""))
        one = one.parent
    return tuple(reversed(steps))


def _on_lines(by_part: dict[_Steps, list[Thing]], total: int) -> list[str]:
    """Each part with the lines that it was found on; the same part at both ends of the same lines is one."""
    phrases: list[str] = []
    told: set[_Steps] = set()
    for steps, lines in by_part.items():
        if steps in told:
            continue
        ends = [steps[0][1]] if steps else []
        other = _at_other_end(steps)
        if other is not None and by_part.get(other) == lines:
            told.add(other)
            ends.append(other[0][1])
        phrases.append(_on(steps, ends, lines, total))
    return phrases


def _at_other_end(steps: _Steps) -> _Steps | None:
    if not steps or steps[0][1] not in ("lower", "upper"):
        return None
    (name, end), *rest = steps
    return ((name, "upper" if end == "lower" else "lower"), *rest)


def _on(steps: _Steps, ends: Sequence[str], lines: Sequence[Thing], total: int) -> str:
    many = len(lines) > 1
    named = _lines(lines, total)
    if not steps:
        return named
    names = [several(name) if many or len(ends) > 1 else name for name, _ in steps]
    part = " of the ".join(reversed(names))
    if len(ends) > 1:
        return f"{part} at both ends of {named}"
    if ends and ends[0]:
        return f"{part} at the {ends[0].replace('_', ' ')} {'ends' if many else 'end'} of {named}"
    return f"{part} of {named}"


def _lines(lines: Sequence[Thing], total: int) -> str:
    """Lines by their marks.

    All of them are called so, where there are several.
    """
    if len(lines) == 1:
        return lines[0].key
    if len(lines) == total and total > 2:
        return f"all {total} lines"
    return f"lines {marks([line.key.removeprefix('line ') for line in lines])}"


def _from_inside_out(steps: _Steps) -> str:
    return " of the ".join(name for name, _ in reversed(steps))


def _in_house(thing: Thing) -> str:
    if thing.parent is None:
        return "the house itself"
    names: list[str] = []
    one: Thing | None = thing
    while one is not None and one.parent is not None:
        names.append(name_of(one))
        one = one.parent
    return " of ".join(names)
