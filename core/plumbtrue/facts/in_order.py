"""What a statement "in order" vouches for: condition facts that nobody wrote, as far as the look that it
rests on reached.

The limits, each of which keeps an unknown from turning into a known:

* only a condition whose vocabulary says what "in order" means for it, never what a thing is or what a paper
  says;
* only where nothing is written, not even `unknown`, however old the writing;
* only as near as they looked (`takes` against `how`); what takes a test only with `tested: yes`; hearsay and
  paper reach nothing;
* nothing hidden: no part that something covers, no rope of which a stretch cannot be seen;
* nothing that they say they did not see.
"""

from collections.abc import Callable
from typing import Final

from plumbtrue.facts.stated_bounds import Given, given_by
from plumbtrue.quantities.values import NONE, Choice, Value
from plumbtrue.rig.thing import Seen, Thing
from plumbtrue.rig.vocabulary import Fact

NEARNESS: Final = {"from-afar": 0, "by-eye": 1, "by-hand": 2, "with-tools": 3}
"""How near a look comes; each reaches what those before it reach."""

VISUAL: Final = frozenset({"by-eye", "by-hand", "with-tools"})
"""What `takes` says of a fact that eyes, hands or tools find on the part itself."""

AskValue = Callable[[Thing, str], Value]
"""The value of a fact, asked of whoever keeps the facts."""


def reaches(seen: Seen, fact: Fact) -> bool:
    """Whether a look came near enough to answer a fact: by its `how`, and by its `tested` for what takes a
    test.

    A fact that takes somebody's word is answered by nobody's eyes, so no general statement covers it.
    """
    if fact.takes == "test":
        return seen.tested and seen.how in NEARNESS
    if seen.how not in NEARNESS or fact.takes not in NEARNESS:
        return False
    return NEARNESS[seen.how] >= NEARNESS[fact.takes]


def can_be_hidden(fact: Fact) -> bool:
    """Whether this fact of a part cannot be seen where something covers the part; then it is unknown whatever
    was written.
    """
    return fact.nature == "condition" and fact.takes in VISUAL and fact.name != "hidden_by"


def cover_of(thing: Thing, ask: AskValue) -> str | None:
    """What keeps a part from being seen, if anything does."""
    if "hidden_by" not in thing.kind.facts:
        return None
    cover = ask(thing, "hidden_by")
    if isinstance(cover, Choice) and not cover.may_be_none:
        return " or ".join(sorted(cover.possible))
    return None


def covered_rope(thing: Thing, fact: Fact, stretches: Callable[[Thing], Value]) -> bool:
    """Whether a rope has a stretch that cannot be seen, or may have, so that nobody can vouch for the whole
    of it.
    """
    if thing.kind.name != "rope" or fact.takes not in VISUAL or fact.name == "tag":
        return False
    if stretches(thing) != NONE:
        return True
    jacket = thing.facts.get("jacket")
    return jacket is not None and isinstance(jacket.value, Choice) and jacket.value.word == "opaque"


def given_in_order(seen: Seen, fact: Fact) -> Given | None:
    """What an "in order" gives a fact that nobody wrote, wherever nothing stands against it; nothing where it
    does not reach.

    What stands against it has to be asked of each thing: what its speaker did not see (`not_seen`), and what
    is hidden (`cover_of`, `covered_rope`).
    """
    if fact.in_order is None or fact.nature != "condition":
        return None
    return given_by(fact) if seen.in_order and reaches(seen, fact) else None
