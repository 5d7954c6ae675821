"""Small packs for tests, written as a house would write them."""

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from textwrap import dedent

from plumbtrue.documents.place import Problem
from plumbtrue.plugins import Plugins, load_plugins
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.packs.loading import load_packs, read_book
from plumbtrue.rules.packs.pack import RuleBook

ON = date(2026, 2, 13)
NO_PLUGINS = load_plugins(third_party=False)

KEEPER_BOLT = """
    - rule: keeper-bolt-missing
      title: A chain wrap near the end of a pipe is kept from walking off
      about: trim-chain
      parameters:
        reach: {value: 12 in, meaning: distance from the end within which a wrap can walk, stricter: more}
      when: attachment is wrap and distance_to_pipe_end < reach
      require: keeper_bolt is not none
      severity: next-maintenance
      finding: "The wrap sits {distance_to_pipe_end} from the end of the pipe and has no keeper bolt."
      remedy: Fit a bolt through the two chain legs just above the pipe.
      why: The wrap walks off the end and the batten drops at one line.
      source: common-practice
"""
"""A whole rule that some tests tighten, relax or retire."""

CHAIN_GRADE = """
    - rule: chain-grade-too-low
      title: Trim chain is made for lifting
      about: trim-chain
      require: grade in ["80", "100", "120"]
      severity: before-next-use
      relaxing: forbidden
      finding: "The chain is of grade {grade}."
      remedy: Replace the chain.
      source: common-practice
"""


def head(name: str, more: str = "") -> str:
    """A `pack.yaml`."""
    return dedent(f"""
        plumbtrue: pack/1
        name: {name}
        edition: "1"
        language: 1
        title: Rules of {name}
        covers: [trim chain]
        leaves_out: [everything else]
    """) + dedent(more)


def write_pack(
    folder: Path, name: str, *, rules: str | Mapping[str, str] = "", more: str = "", **files: str
) -> Path:
    """A pack in a folder, its rules in one file or by subject; `tables__clips` writes `tables/clips.yaml`."""
    pack = folder / name
    (pack / "rules").mkdir(parents=True, exist_ok=True)
    (pack / "pack.yaml").write_text(head(name, more), encoding="utf-8")
    by_subject = {"chain": rules} if isinstance(rules, str) and rules else dict(rules or {})
    for subject, text in by_subject.items():
        (pack / "rules" / f"{subject}.yaml").write_text(dedent(text), encoding="utf-8")
    for path, text in files.items():
        file = pack / (path.replace("__", "/") + ".yaml")
        file.parent.mkdir(exist_ok=True)
        file.write_text(dedent(text), encoding="utf-8")
    return pack


def book_of(folder: Path, *names: str, on: date = ON, plugins: Plugins = NO_PLUGINS) -> RuleBook:
    """The rules in force of packs in a folder, given in order of layers."""
    return load_packs([f"./{name}" for name in names], folder, load_vocabulary(), plugins, on=on)


def problems_of(folder: Path, *names: str, on: date = ON) -> Sequence[Problem]:
    """What is wrong with packs in a folder."""
    return read_book([f"./{name}" for name in names], folder, load_vocabulary(), NO_PLUGINS, on=on).problems
