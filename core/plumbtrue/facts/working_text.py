"""A working in plain text, so that a person can follow it with a pocket calculator.

First what came out and by which formula, then every input with the place where it was written, then the
steps, then on whose authority and what was assumed. An input that was computed itself is worked out below,
once, however often it is used.
"""

from collections.abc import Iterable, Iterator

from plumbtrue.facts.answer import Answer, Input, Working
from plumbtrue.quantities.values import Unknown, Value
from plumbtrue.quantities.writing import System, write_value
from plumbtrue.rig.thing import Recorded


def working_text(answer: Answer, system: System = "us") -> str:
    """How an answer was found, or why it was not; lines without an end of line after the last."""
    return "\n".join(_answer_lines(answer, system))


def _answer_lines(answer: Answer, system: System) -> Iterator[str]:
    if answer.working is not None:
        queue, told = [("", answer.working)], {id(answer.working)}
        while queue:
            label, working = queue.pop(0)
            yield from _working_lines(label, working, system)
            for one in working.inputs:
                if one.working is not None and id(one.working) not in told:
                    told.add(id(one.working))
                    queue.append((one.label, one.working))
            if queue:
                yield ""
    elif answer.recorded is not None:
        yield f"as recorded: {answer.recorded.text}{_where(answer.recorded)}"
    elif answer.refusal is not None:
        yield f"no figure: {answer.refusal}"
    else:
        yield "not known"
    if answer.missing:
        yield "would settle or narrow it:"
        yield from (
            f"  {one.fact.replace('_', ' ')} of {one.thing.path}: {one.why}" for one in answer.missing
        )


def _working_lines(label: str, working: Working, system: System) -> Iterator[str]:
    result = "" if working.result is None else f": {_printed(working.result, working, system)}"
    yield f"{label} ({working.what}){result}" if label else f"{working.what}{result}"
    yield f"  formula: {working.formula}"
    if working.inputs:
        yield "  from"
        yield from _columns(_unique(working.inputs), system)
    if working.steps:
        yield "  step by step"
        steps = [(str(label), str(figure)) for label, figure in working.steps]
        width = max(len(label) for label, _ in steps)
        yield from (f"    {label:{width}}  {figure}" for label, figure in steps)
    if working.source:
        yield f"  source: {working.source}"
    yield from (f"  assumed: {sentence}" for sentence in working.assumptions)


def _unique(inputs: Iterable[Input]) -> list[Input]:
    by_label: dict[tuple[str, str], Input] = {}
    for one in inputs:
        by_label.setdefault((one.label, str(one.value)), one)
    return list(by_label.values())


def _columns(inputs: list[Input], system: System) -> Iterator[str]:
    figures = [
        "not known" if isinstance(one.value, Unknown) else write_value(one.value, one.dimension, system)
        for one in inputs
    ]
    wide, figure_wide = max(len(one.label) for one in inputs), max(len(figure) for figure in figures)
    for one, figure in zip(inputs, figures, strict=True):
        whence = f"({one.working.what}, below)" if one.working is not None else _whence(one)
        yield f"    {one.label:{wide}}  {figure:{figure_wide}}  {whence}".rstrip()


def _whence(one: Input) -> str:
    """Where an input that was not computed comes from: its place in the file, or who stands for the figure."""
    return one.authority if one.recorded is None else _where(one.recorded).strip()


def _where(recorded: Recorded | None) -> str:
    if recorded is None:
        return ""
    if recorded.origin == "in-order":
        return f"  {recorded.text}, {recorded.place}"
    lent = f" (like: {recorded.like})" if recorded.like else ""
    return f"  {recorded.place}{lent}"


def _printed(value: Value, working: Working, system: System) -> str:
    return "not known" if isinstance(value, Unknown) else write_value(value, working.dimension, system)
