"""Cases about reconditioning: what is done in which year, lengths of rope to cut, cutting from reels."""

from typing import Final

from plumbtrue.mechanics.cases.inputs import CannotRunError, Inputs
from plumbtrue.mechanics.cases.outputs import Computation, Outputs, Quantity
from plumbtrue.mechanics.cut_length import Course, cut_length
from plumbtrue.mechanics.cut_list import cut_list
from plumbtrue.mechanics.refusal import Refused
from plumbtrue.mechanics.renewal_jobs import Job
from plumbtrue.mechanics.renewal_plan import renewal_plan


def _renewal_plan(inputs: Inputs) -> Outputs | Refused:
    budgets = [_number(budget, "budget_by_year") for budget in inputs.raw_list("budget_by_year")]
    jobs = [_job(item, number) for number, item in enumerate(inputs.parts("items"), 1)]
    told = renewal_plan(jobs, budgets, yearly_value_factor=inputs.number("yearly_value_factor", 1.0))
    if isinstance(told, Refused):
        return told
    is_planned = told.standing == "planned"
    found: dict[str, object] = {
        "status": told.standing,
        "year_of": list(told.year_of) if is_planned else None,
        "spend_by_year": list(told.spend) if is_planned else None,
        "value": told.value if is_planned else None,
        "tied_off": list(told.tied_off),
        "extra_to_bring_in": {one.name: one.extra for one in told.to_bring_in},
    }
    for year, (due, short) in enumerate(zip(told.due, told.shortfall, strict=True), 1):
        found[f"must_do_year{year}_cost"] = due
        found[f"shortfall_year{year}"] = short
    return found


def _job(item: Inputs, number: int) -> Job:
    by_year = item.known_number("by_year")
    return Job(
        name=item.word("name") or f"item {number}",
        cost=item.number("cost"),
        value=item.number("value"),
        by_year=None if by_year is None else int(by_year),
        after=_names(item, "after"),
        together=item.word("together"),
        need=item.number("need", 1.0),
    )


def _names(item: Inputs, key: str) -> tuple[str, ...]:
    if key not in item:
        return ()
    if item.is_list(key):
        names = item.raw_list(key)
        wrong = [name for name in names if not isinstance(name, str)]
        if wrong:
            raise CannotRunError(f"input {key}: names are wanted, {wrong[0]!r} given")
        return tuple(str(name) for name in names)
    name = item.word(key)
    return () if name is None else (name,)


def _number(written: object, key: str) -> float:
    if isinstance(written, bool) or not isinstance(written, int | float):
        raise CannotRunError(f"input {key}: numbers are wanted, {written!r} given")
    return float(written)


def _cut_length(inputs: Inputs) -> Outputs | Refused:
    course = Course(
        batten_drop=inputs.quantity("batten_drop", "length"),
        loft_tread=inputs.quantity("loft_tread", "length"),
        head_tread=inputs.quantity("head_tread", "length"),
        rope_diameter=inputs.quantity("rope", "length"),
        loft_to_head=inputs.quantity("loft_to_head_horizontal", "length"),
        head_above_loft=inputs.quantity("head_centre_above_loft", "length", 0.0),
        arbor_drop=inputs.quantity("arbor_drop", "length"),
    )
    arbor_sheave = inputs.known("arbor_sheave_tread", "length")
    if "purchase" in inputs and (inputs.number("purchase") == 2) != (arbor_sheave is not None):
        raise CannotRunError("input arbor_sheave_tread_…: is wanted with a purchase of 2, and only then")
    told = cut_length(
        course,
        inputs.quantities("allowances", "length", optional=True),
        inputs.quantities("deductions", "length", optional=True),
        arbor_sheave_tread=arbor_sheave,
        mule_arcs=[
            (mule.quantity("tread", "length"), mule.quantity("plan_angle", "angle"))
            for mule in inputs.parts("mule_blocks", optional=True)
        ],
    )
    if isinstance(told, Refused):
        return told
    return {
        "path": Quantity(told.path, "length"),
        "cut_length": Quantity(told.cut, "length"),
        "straight_run": Quantity(told.straight_run, "length"),
        "loft_wrap": Quantity(told.loft_wrap, "angle"),
        "head_wrap": Quantity(told.head_wrap, "angle"),
    }


def _cut_list(inputs: Inputs) -> Outputs | Refused:
    told = cut_list(inputs.quantities("pieces", "length"), inputs.quantity("reel", "length"))
    if isinstance(told, Refused):
        return told
    return {
        "reels": len(told.reels),
        "total": Quantity(told.total, "length"),
        "waste": Quantity(told.waste, "length"),
        "packing": [[piece + 1 for piece in reel] for reel in told.reels],
        "at_least": told.at_least,
        "status": "ok" if told.is_fewest else "unknown",
    }


COMPUTATIONS: Final[dict[str, Computation]] = {
    "renewal-plan": _renewal_plan,
    "cut-length": _cut_length,
    "cut-list": _cut_list,
}
