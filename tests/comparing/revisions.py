"""Two revisions of a house under small packs, compared as of one day."""

from pathlib import Path

from tests.audit.audits_in_text import CHAIN_RULES, waivers
from tests.packs.packs_in_text import ON, book_of, write_pack

from plumbtrue.audit.comparing import Comparison, Revision, compare
from plumbtrue.audit.outcome_changes import OutcomeChange
from plumbtrue.audit.waivers import Waiver
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.packs.pack import RuleBook

SOUND = (
    "grade: 80, attachment: wrap, distance_to_pipe_end: 3 ft, gauge_length: 10 in, gauge_length_new: 10 in"
)


def chain(**facts: str) -> str:
    """A sound chain with other facts; `""` takes one away."""
    written = dict(one.split(": ") for one in SOUND.split(", ")) | facts
    return ", ".join(f"{name}: {value}" for name, value in written.items() if value)


STRETCHED = chain(gauge_length="10.5 in")
"""Out of service."""
STRETCH_ACCEPTED = waivers("""
        - rule: chain-stretched
          thing: 1 / line 1 / lower / trim-chain
          state: {growth: 5 %}
          accepted_by: head of flys
          until: 2027-01-01
          reason: new chain is on order
          meanwhile: nothing hangs on it
    """)
"""The same chain accepted as it is."""


def house(*chains: str, first: int = 1) -> Rig:
    """A house with a set of one lift line for each chain at its lower end."""
    line_sets = "".join(
        f"  - {{number: {number}, lift_lines: [{{mark: 1, lower: [{{part: trim-chain, {chain}}}]}}]}}\n"
        for number, chain in enumerate(chains, start=first)
    )
    text = f"plumbtrue: rig/1\nhouse: {{name: test house}}\nline_sets:\n{line_sets}"
    return read_rig_text(text, "house.yaml", load_vocabulary())


def book(folder: Path, rules: str = CHAIN_RULES, name: str = "trade") -> RuleBook:
    """The rules of one small pack."""
    write_pack(folder, name, rules=rules)
    return book_of(folder, name, on=ON)


def compared(
    old: Rig,
    new: Rig,
    rules: RuleBook,
    *,
    new_rules: RuleBook | None = None,
    accepted: tuple[Waiver, ...] = (),
) -> Comparison:
    return compare(Revision(old, rules), Revision(new, new_rules or rules), ON, accepted)


def became(changes: tuple[OutcomeChange, ...]) -> list[tuple[str, str, str]]:
    """What became of outcomes: turn, rule, and key of the set."""
    return [(one.turn.value, one.rule, one.thing.path.partition(" / ")[0]) for one in changes]
