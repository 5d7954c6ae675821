"""`seen:` blocks speak for everything written on a thing and below it, up to the next block."""

from tests.rig.conftest import OneSet, ReadRig

from plumbtrue.rig.thing import Thing

LAYERED = """
    seen: {by: inspector, on: 2025-06-10, how: with-tools, in_order: yes, tested: yes, not_seen: [head_block]}
    use: general
    arbor: {weight: 90 lb}
    rope_lock:
      seen: {by: head of flys, on: 2026-02-11, how: by-hand}
      creep: creeps
"""


def seen_by(thing: Thing, fact: str) -> str | None:
    seen = thing.facts[fact].seen
    return None if seen is None else seen.by


def test_a_block_speaks_for_what_lies_under_it(one_set: OneSet) -> None:
    at = one_set(LAYERED)
    assert seen_by(at(), "use") == seen_by(at("arbor"), "weight") == "inspector"


def test_the_nearest_block_speaks(one_set: OneSet) -> None:
    assert seen_by(one_set(LAYERED)("rope lock"), "creep") == "head of flys"


def test_a_single_measurement_leaves_the_statement_around_it_standing(one_set: OneSet) -> None:
    """The lock was tested one day and found to creep; that its ring is on was seen at the inspection, and
    still is.
    """
    lock = one_set(LAYERED)("rope lock")
    assert lock.vouched_by is not None
    assert lock.vouched_by.by == "inspector"


def test_a_block_may_withdraw_a_statement(one_set: OneSet) -> None:
    at = one_set("""
        seen: {by: inspector, how: by-hand, in_order: yes}
        arbor: {seen: {by: head of flys, how: by-hand, in_order: no}}
    """)
    assert at().vouched_by is not None
    assert at("arbor").vouched_by is None


def test_what_a_block_says_is_kept(one_set: OneSet) -> None:
    seen = one_set(LAYERED)().seen
    assert seen is not None
    assert (seen.on, seen.how, seen.in_order, seen.tested) == ("2025-06-10", "with-tools", True, True)
    assert seen.not_seen == {"head_block"}
    assert seen.when is not None
    assert seen.when.is_exact


def test_a_fact_without_a_block_is_undated(one_set: OneSet) -> None:
    assert one_set("use: general")().facts["use"].seen is None


def test_photographs_and_notes_stand_beside_the_thing(one_set: OneSet) -> None:
    thing = one_set("""
        seen: {by: me, photos: [a.jpg]}
        photos: [b.jpg]
        note: painted over
    """)()
    assert set(thing.photos) == {"a.jpg", "b.jpg"}
    assert thing.note == "painted over"


def test_a_block_names_an_inspection_of_the_house_or_of_the_set(rig: ReadRig) -> None:
    house = rig("""
        plumbtrue: rig/1
        house:
          name: H
          inspections: [{key: insp-2025, on: 2025-04-10, by: inspector, how: with-tools, in_order: yes}]
        line_sets:
          - {number: 1, seen: insp-2025}
          - {number: 2, seen: walk, inspections: [{key: walk, on: 2026-02-09, by: head of flys, how: by-eye}]}
    """)
    sets = [thing for thing in house.house.below() if thing.kind.name == "line_set"]
    assert [(one.seen.by, one.seen.key) for one in sets if one.seen] == [
        ("inspector", "insp-2025"),
        ("head of flys", "walk"),
    ]


def test_each_is_said_of_its_lines_by_whoever_signs(one_set: OneSet) -> None:
    at = one_set("""
        seen: {by: head of flys, how: by-hand}
        lift_lines: {at: {1: CL, 2: SL 7'-0"}, each: {tension: tight}}
    """)
    assert [seen_by(at(f"line {mark}"), "tension") for mark in (1, 2)] == ["head of flys", "head of flys"]
