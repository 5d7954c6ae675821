"""Rules of the practice pack on a set written as a person would write it: what each says of each thing."""

from collections.abc import Iterable
from datetime import date
from functools import cache

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.facts.store import Facts
from plumbtrue.rig.reading import read_rig_text
from plumbtrue.rig.vocabulary_loading import load_vocabulary
from plumbtrue.rules.judging import Judge
from plumbtrue.rules.language.tables import Table
from plumbtrue.rules.packs.loading import PackFolder, read_pack
from plumbtrue.rules.packs.pack import Pack

ON = date(2026, 3, 2)


@cache
def practice_pack() -> Pack:
    """The pack, read once. What cannot be used in it is left out of it; a test of all packs tells that."""
    pack = read_pack(PackFolder(data_folder("rulepacks") / "practice", "practice"), load_vocabulary(), (), [])
    assert pack is not None
    return pack


def practice_table(name: str) -> Table:
    return practice_pack().tables[name].table


def judged(text: str, slugs: Iterable[str], on: date = ON) -> dict[tuple[str, str], str]:
    """Outcome by rule and path of the thing."""
    rig = read_rig_text(text, "test.yaml", load_vocabulary())
    facts = Facts(rig, on)
    wanted = set(slugs)
    judges = [(rule, Judge(rule)) for rule in practice_pack().rules if rule.slug in wanted]
    assert {rule.slug for rule, _ in judges} == wanted
    return {
        (rule.slug, thing.path): judge.on(thing, facts).result.value
        for rule, judge in judges
        for thing in rig.house.below()
        if thing.kind.name in rule.kinds
    }


def slugs_of(*files: str) -> set[str]:
    """The rules in some of the pack's files."""
    return {rule.slug for rule in practice_pack().rules if rule.place.file.rpartition("/")[2] in files}
