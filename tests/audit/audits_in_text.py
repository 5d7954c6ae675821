"""Small houses, packs and waivers for tests, written as a person would write them."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from textwrap import dedent, indent

from tests.packs.packs_in_text import ON, book_of, write_pack

from plumbtrue.audit.auditing import Audit, audit
from plumbtrue.audit.outcome import Outcome
from plumbtrue.audit.waivers import Waiver, read_waivers
from plumbtrue.documents.reading import read_text
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.rig import Rig
from plumbtrue.rig.vocabulary_loading import load_vocabulary

CHAIN_RULES = """
    - rule: chain-grade-too-low
      title: Trim chain is made for lifting
      about: trim-chain
      require: grade in ["80", "100", "120"]
      severity: before-next-use
      finding: "The chain is of grade {grade}."
      remedy: Replace the chain.
      source: common-practice

    - rule: chain-stretched
      title: Trim chain has not stretched
      about: trim-chain
      parameters: {most: {value: 3 %, meaning: stretch past which chain is discarded, stricter: less}}
      let: {growth: gauge_length / gauge_length_new - 1}
      require: growth <= most
      severity: out-of-service
      finding: "The chain has stretched by {growth as %}, more than {most}."
      remedy: Replace the chain.
      source: common-practice

    - rule: keeper-bolt-missing
      title: A chain wrap near the end of a pipe is kept from walking off
      about: trim-chain
      parameters: {reach: {value: 12 in, meaning: distance within which a wrap can walk off}}
      when: attachment is wrap and distance_to_pipe_end < reach
      require: keeper_bolt is not none
      severity: next-maintenance
      finding: "The wrap sits {distance_to_pipe_end} from the end and has no keeper bolt."
      remedy: Fit a keeper bolt.
      source: common-practice
"""


def house(chain: str, *, more: str = "", sets: str = "14") -> Rig:
    """A house whose sets have one lift line each, with a thimble and a trim chain at its lower end."""
    line_sets = "".join(
        f"""
  - number: {number}
    {more}
    lift_lines:
      - mark: 1
        lower:
          - thimble
          - {{part: trim-chain, {chain}}}
"""
        for number in sets.split()
    )
    return read_rig_text(
        f"plumbtrue: rig/1\nhouse: {{name: test house}}\nline_sets:{line_sets}",
        "house.yaml",
        load_vocabulary(),
    )


def waivers(text: str) -> tuple[Waiver, ...]:
    """A file of waivers, without its head."""
    return read_waivers(
        read_text("plumbtrue: waivers/1\nwaivers:\n" + indent(dedent(text), "  "), "waivers.yaml")
    )


def audited(
    folder: Path, rig: Rig, *, rules: str = CHAIN_RULES, accepted: Sequence[Waiver] = (), on: date = ON
) -> Audit:
    """The audit of a house under one small pack."""
    write_pack(folder, "trade", rules=rules)
    return audit(rig, book_of(folder, "trade", on=on), on, accepted)


def outcome(found: Audit, rule: str, thing: str = "14 / line 1 / lower / trim-chain") -> Outcome:
    """The outcome of one rule for one thing."""
    (one,) = [one for one in found.outcomes if (one.rule, one.thing.path) == (rule, thing)]
    return one
