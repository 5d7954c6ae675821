"""A small invented house with a pack and acceptances of its own, in files, for reports.

Set 1 is written with places and sizes, so that it has figures; set 2 has chain of a low grade and a fact that
nobody knows; set 3 is tagged out; set 4 has a finding that somebody accepted.
"""

from datetime import date
from pathlib import Path
from textwrap import dedent

from tests.packs.packs_in_text import write_pack

from plumbtrue.audit.auditing import Audit
from plumbtrue.audit.house_check import Checked, check_house
from plumbtrue.reporting.formats import FORMATS, Surroundings
from plumbtrue.rules.severity import Severity

ON = date(2026, 2, 13)

RULES = """
    - rule: chain-grade-too-low
      title: Trim chain is made for lifting
      about: trim-chain
      require: grade in ["80", "100", "120"]
      severity: before-next-use
      finding: "The chain is of grade {grade}."
      remedy: Replace the chain.
      why: Chain that is not made for lifting breaks without warning, over whoever stands below.
      source: [{work: chain-book, clause: "4.2", basis: read, says: grades for lifting}]

    - rule: keeper-bolt-missing
      title: A chain wrap near the end of a pipe is kept from walking off
      about: trim-chain
      parameters: {reach: {value: 12 in, meaning: distance within which a wrap can walk off}}
      when: attachment is wrap and distance_to_pipe_end < reach
      require: keeper_bolt is not none
      severity: next-maintenance
      finding: "The wrap sits {distance_to_pipe_end} from the end and has no keeper bolt."
      remedy: Fit a keeper bolt.
      why: The wrap walks off the end and the batten drops at one line.
      source: common-practice

    - rule: battens-counted-from-left
      title: Battens are counted from stage left
      about: house
      require: batten_zero is stage-left
      severity: advisory
      finding: "Battens are counted from {batten_zero}."
      remedy: Count from stage left.
      why: An example of a rule about the house itself.
      source: common-practice

    - rule: rope-pitted
      title: Rope in use is not pitted
      about: rope
      require: corrosion is not pitted
      severity: out-of-service
      finding: "The rope is pitted."
      remedy: Replace the rope.
      why: Nobody knows the strength left in it.
      source: [{work: rope-book, clause: "", basis: memory}]
"""

SOURCES = """
    sources:
      chain-book: {title: "Chain, an invented handbook", edition: "2020", kind: handbook, basis: read}
      rope-book: {title: "Rope, an invented handbook", edition: "1999", kind: handbook, basis: memory}
"""

HOUSE = """
    plumbtrue: rig/1
    rule_packs: [./trade]
    house: {name: Small invented house, owner: nobody, batten_zero: stage-right}
    typical:
      rope:
        {kind: rope, family: wire, diameter: 1/4 in, construction: 7x19, material: galvanized,
        breaking_strength: 7000 lb}
      good:
        {kind: trim-chain, grade: 80, attachment: wrap, distance_to_pipe_end: 3'-0",
        working_load_limit: 3500 lb, stack_length: 7 in}
    line_sets:
      - number: 1
        name: Border
        system: single-purchase
        from_plaster_line: 3'-0"
        low_trim: 4'-0"
        posted_total: 400 lb
        posted_counts: live
        batten: {form: pipe, nominal: 1-1/2, schedule: 40, grade: a53-a, length: 30'-0"}
        lift_lines:
          at: {1: 3'-0", 2: 15'-0", 3: 27'-0"}
          each: {rope: {like: rope, corrosion: none}, lower: [thimble, {part: trim-chain, like: good}]}
      - number: 2
        system: single-purchase
        from_plaster_line: 4'-0"
        lift_lines:
          - mark: 1
            rope: {like: rope, corrosion: pitted}
            lower: [thimble, {part: trim-chain, like: good, grade: 30}]
          - mark: 2
            rope: {like: rope, corrosion: pitted}
            lower: [thimble, {part: trim-chain, like: good, grade: 30}]
          - mark: 3
            rope: {like: rope}
            lower: [thimble, {part: trim-chain, like: good, distance_to_pipe_end: 9 in}]
      - number: 3
        tagged_out: 2025-06-03
        lift_lines:
          - mark: 1
            rope: {like: rope, corrosion: none}
            lower: [thimble, {part: trim-chain, like: good}]
      - number: 4
        lift_lines:
          - mark: 1
            rope: {like: rope, corrosion: none}
            lower: [thimble, {part: trim-chain, like: good, grade: 43}]
"""

WAIVERS = """
    plumbtrue: waivers/1
    waivers:
      - rule: chain-grade-too-low
        thing: 4 / line 1 / lower / trim-chain
        state: {grade: 43}
        accepted_by: technical director
        accepted_on: 2026-01-10
        until: 2026-06-30
        reason: Chain of grade 80 is on order.
        meanwhile: Nothing but the bare batten hangs on it.
"""


def write_house(folder: Path, *, house: str = HOUSE, rules: str = RULES, sources: str = SOURCES) -> Path:
    """The house, its pack and its waivers as files in a folder."""
    write_pack(folder, "trade", rules=rules, more=dedent(sources))
    (folder / "waivers.yaml").write_text(dedent(WAIVERS), encoding="utf-8")
    file = folder / "house.yaml"
    file.write_text(dedent(house), encoding="utf-8")
    return file


def audited(file: Path, *, waivers: bool = True, on: date = ON) -> Audit:
    """The audit of the house in a file, without plugins of others."""
    accepted = [file.parent / "waivers.yaml"] if waivers else []
    return check_house(file, on=on, waivers=accepted, third_party=False)


def written(audit: Audit, format_name: str, *, file: str = "house.yaml", width: int = 80) -> str:
    """A report in one format."""
    around = Surroundings(ON, Severity.BEFORE_NEXT_USE, width=width)
    return FORMATS[format_name].write([Checked(Path(file), audit)], around)
