"""Whatever the program finds in the invented house, it can say how that is accepted: what it offers covers it."""

import re
from collections.abc import Mapping

from tests.demo.conftest import ON

from plumbtrue.audit.accepting import accept
from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.offered_state import waiver_text
from plumbtrue.audit.outcome import Result
from plumbtrue.audit.waivers import read_waivers
from plumbtrue.documents.reading import read_text
from plumbtrue.facts.store import Facts

LEFT_EMPTY: Mapping[str, str] = {
    "until": "2027-01-31",
    "reason": "tried out",
    "accepted_by": "nobody",
    "meanwhile": "nothing hangs on it",
}


def filled_in(text: str) -> str:
    """A waiver as offered, with what only a person can say."""
    return re.sub(
        r"^    (\w+): +#.*$", lambda found: f"    {found[1]}: {LEFT_EMPTY[found[1]]}", text, flags=re.M
    )


def test_what_is_offered_for_any_outcome_covers_it(by_house_rules: Audit) -> None:
    facts = Facts(by_house_rules.rig, ON)
    rules = {rule.slug: rule for rule in by_house_rules.rulebook.rules}
    told = list(by_house_rules.of_result(Result.FINDING, Result.UNDETERMINED))
    offers = {one.key: waiver_text(one, rules[one.rule], facts) for one in told}
    assert len(told) > 200
    assert [key for key, text in offers.items() if not text] == []
    written = "plumbtrue: waivers/1\nwaivers:\n" + "\n".join(map(filled_in, offers.values()))
    waivers = read_waivers(read_text(written, "waivers.yaml"))
    marked, problems = accept(told, waivers, by_house_rules.rig, by_house_rules.rulebook, facts)
    assert [f"{one.what}; {one.instead}" for one in problems] == []
    assert [one.key for one in marked if one.counts] == []
