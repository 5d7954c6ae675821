"""Acceptances given to a run over several houses: one that matches in any of them is no mistake in the others."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from plumbtrue.audit.house_check import Checked

_MATCHES_NOTHING = "waiver-matches-nothing"


def matched_somewhere(houses: Sequence[Checked]) -> list[Checked]:
    """The houses of a run, each with those problems alone that are none of another house's acceptances.

    An acceptance that matches nothing in any house stays a mistake, and is told with the first of them.
    """
    audits = [one.audit for one in houses if one.audit is not None]
    unmatched = Counter(
        problem.where for audit in audits for problem in audit.problems if problem.slug == _MATCHES_NOTHING
    )
    nowhere = {where for where, count in unmatched.items() if count == len(audits)}
    found: list[Checked] = []
    for house in houses:
        if house.audit is None:
            found.append(house)
            continue
        kept = tuple(
            one for one in house.audit.problems if one.slug != _MATCHES_NOTHING or one.where in nowhere
        )
        nowhere -= {one.where for one in kept}
        found.append(replace(house, audit=replace(house.audit, problems=kept)))
    return found
