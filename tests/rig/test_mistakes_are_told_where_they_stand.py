"""Every mistake is told at its line and column, with what to write instead; all of a file's mistakes at
once.
"""

from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest
from tests.rig.conftest import OneSet, ReadRig, Refused

from plumbtrue.documents.place import CannotRead
from plumbtrue.rig.reading import read_plot_text, read_rig, read_rig_text
from plumbtrue.rig.vocabulary import Vocabulary


def in_set(text: str) -> str:
    """Something that is written in a line set."""
    return f"line_sets: [{{number: 14, {text}}}]\n"


@pytest.mark.parametrize(
    ("written", "instead"),
    [
        pytest.param("batten: {⟦key-unknown|lenght⟧: 42'-0\"}", "did you mean length?", id="a misspelt fact"),
        pytest.param("⟦key-unknown|batten_clamps⟧: []", "batten", id="a fact that nothing has"),
        pytest.param(
            "batten: {⟦key-unknown|corrosion_at⟧: end}", "it is a fact of rope", id="a fact of another kind"
        ),
        pytest.param(
            "use: ⟦word-not-permitted|electrics⟧", "did you mean electric?", id="a word near a permitted one"
        ),
        pytest.param(
            "system: ⟦word-not-permitted|double⟧", "did you mean double-purchase?", id="half of a word"
        ),
        pytest.param(
            "use: ⟦word-not-permitted|circus⟧",
            "write one of general, electric",
            id="a word that means nothing",
        ),
        pytest.param("trim_limit_held_by: ⟦word-not-permitted|no⟧", "write none", id="no for none"),
        pytest.param("⟦key-unknown|uze⟧: general", "a line set has no uze", id="a misspelt key of a set"),
        pytest.param(
            "⟦key-unknown|travel⟧: 45 ft", "write it under arbor: {travel: …}", id="a fact of a part"
        ),
        pytest.param(
            "⟦key-unknown|corrosion_at⟧: end",
            "`plumbtrue explain line-set` lists what a line set has",
            id="a fact of something far away",
        ),
        pytest.param(
            "lift_lines: [{mark: 1, blocks: [{part: loft-block, ⟦key-unknown|sheave⟧: 8 in}]}]",
            "`plumbtrue explain loft-block` lists what a loft block has",
            id="a key of a kind with many",
        ),
        pytest.param(
            "lift_lines: [{mark: 1, upper: ⟦value-of-wrong-form|nicopress⟧}]",
            "write upper: [swage-sleeve, thimble, shackle, …], its parts in order from the rope's end",
            id="a word for a path",
        ),
        pytest.param(
            "hand_line: {upper: ⟦value-of-wrong-form|spliced⟧}",
            "write upper: [hand-splice, thimble, …]",
            id="a word for the end of a fibre rope",
        ),
        pytest.param(
            "lift_lines: [{mark: 1, lower: ⟦value-of-wrong-form|clips⟧}]",
            "write lower: [wire-rope-clips, …], its parts in order from the rope's end",
            id="a part's short name for a path",
        ),
        pytest.param(
            "lift_lines: [{mark: 1, lower: ⟦value-of-wrong-form|thimble⟧}]",
            "write lower: [thimble]",
            id="one part for a path",
        ),
        pytest.param(
            "lift_lines: ⟦value-of-wrong-form|{1: {at: CL}}⟧",
            "write lift_lines: {at: {1: SR 12'-0\"}, each: {rope: …}}",
            id="lines by their marks",
        ),
        pytest.param(
            "lift_lines: {at: {1: CL}, each: ⟦lift-lines-each|gac-line⟧}",
            "write each: {like: gac-line}",
            id="a name for what is so of each line",
        ),
        pytest.param(
            "lift_lines: [{mark: 1, upper: ⟦patch-of-nothing|{clips: 2}⟧}]",
            "write upper: [swage-sleeve, thimble, shackle, …]",
            id="keys for a path",
        ),
        pytest.param(
            "other_blocks: ⟦value-of-wrong-form|two of them⟧",
            "write other_blocks: [{part: arbor-block, …}]",
            id="a text for a list of several kinds",
        ),
        pytest.param(
            "load_tests: ⟦value-of-wrong-form|yes⟧",
            "write load_tests: [{on: …, load: …}]",
            id="yes for a list",
        ),
        pytest.param(
            "batten: ⟦like-unknown|1-1/2 sched 40⟧",
            "write batten: {form: …, nominal: …}, or draw it under typical:",
            id="a thing in words",
        ),
        pytest.param(
            "like: ⟦like-unknown|2⟧",
            "draw it under typical: 2: {kind: line-set, …}",
            id="like another set",
        ),
        pytest.param(
            "built: ⟦nobody-knows|don't know⟧", "leave built out, or write unknown", id="don't know"
        ),
        pytest.param("low_trim: ⟦nobody-knows|TBD⟧", "write unknown", id="to be told"),
        pytest.param('arbor: ⟦nobody-knows|"?"⟧', "write unknown", id="a question mark for a thing"),
        pytest.param("low_trim: ⟦unit-missing|4.5⟧", "write 4.5 ft, 4.5 in or 4.5 m", id="which unit"),
        pytest.param("posted_total: ⟦unit-missing|700⟧", "write 700 lb or 700 kg", id="which weight"),
        pytest.param(
            "tagged_out: ⟦date-unreadable|yes⟧",
            "since when it is tagged out of service; none = it is not",
            id="yes for a day",
        ),
        pytest.param("lines_stated: ⟦count-not-whole|4.5⟧", "number of lift lines", id="what is counted"),
        pytest.param(
            "posted_total: ⟦figure-below-nought|-700 lb⟧", "without the minus", id="a negative weight"
        ),
        pytest.param("posted_total: ⟦figure-below-nought|5 lb +/- 9 lb⟧", "above", id="bounds below nought"),
        pytest.param("lines_stated: ⟦figure-below-nought|-4⟧", "without the minus", id="fewer than none"),
        pytest.param("arbor: {⟦key-unknown|colour⟧: red}", "an arbor has no colour", id="a key of nothing"),
        pytest.param("low_trim: ⟦unit-missing|48⟧", "a length", id="no unit"),
        pytest.param("low_trim: ⟦dimension-wrong|48 lb⟧", "a length", id="a weight for a length"),
        pytest.param("low_trim: ⟦unit-unknown|48 furrows⟧", "a length", id="a unit that nobody knows"),
        pytest.param("lines_stated: ⟦count-not-whole|4.5⟧", "whole", id="a count that is not whole"),
        pytest.param("reconditioned: ⟦date-unreadable|last summer⟧", "2018-07-14", id="no date"),
        pytest.param("reconditioned: ⟦date-impossible|2018-02-30⟧", "2018-02-28", id="a day that never was"),
        pytest.param("raked: ⟦yes-or-no|true⟧", "write yes", id="true for yes"),
        pytest.param("raked: ⟦yes-or-no|maybe⟧", "write yes or no", id="neither yes nor no"),
        pytest.param("raked: ⟦none-not-allowed|none⟧", "write no", id="none for no"),
        pytest.param("low_trim: ⟦none-not-allowed|none⟧", "unknown", id="none where there always is one"),
        pytest.param("lift_lines: ⟦none-not-allowed|none⟧", "unknown", id="no lines at all"),
        pytest.param("low_trim: ⟦value-of-wrong-form|[4 ft, 5 ft]⟧", "low_trim", id="two values for one"),
        pytest.param("low_trim: ⟦value-of-wrong-form|{feet: 4}⟧", "low_trim", id="keys for a value"),
        pytest.param("⟦fact-is-computed|highest_pipe⟧: 58'-0\"", "arbor's travel", id="a computed fact"),
        pytest.param("batten: ⟦value-of-wrong-form|[{form: pipe}]⟧", "one thing", id="a list for a thing"),
        pytest.param("batten: ⟦like-unknown|pipe-24⟧", "typical", id="a typical thing that is not drawn"),
        pytest.param(
            "dead_ends: ⟦value-of-wrong-form|{of: hand line}⟧", "dead_ends: [", id="a thing for a list"
        ),
        pytest.param("other_blocks: [⟦part-kind-missing|{mount: wall}⟧]", "part:", id="a block of no kind"),
        pytest.param(
            "other_blocks: [{part: ⟦kind-unknown|head-blok⟧}]", "did you mean head-block?", id="no such kind"
        ),
        pytest.param(
            "other_blocks: [⟦kind-elsewhere|{part: shackle}⟧]", "head-block", id="a shackle for a block"
        ),
        pytest.param("other_blocks: [⟦none-in-list|none⟧]", "other_blocks: none", id="none in a list"),
        pytest.param("batten: {note: ⟦value-of-wrong-form|[a, b]⟧}", "note", id="a note that is no text"),
        pytest.param(
            "low_trim: {is: 4 ft, ⟦long-form-key|sean⟧: x}", "did you mean seen?", id="a key of no long form"
        ),
        pytest.param(
            "seen: {by: me, ⟦seen-key|when⟧: 2026}", "write one of by, on, how", id="a key of no seen:"
        ),
        pytest.param(
            "seen: {how: ⟦word-not-permitted|by-hands⟧}", "did you mean by-hand?", id="no way of looking"
        ),
        pytest.param("seen: {on: ⟦date-unreadable|yesterday⟧}", "2018-07-14", id="no day of looking"),
        pytest.param(
            "seen: ⟦inspection-unknown|insp-2052⟧", "seen: {by:", id="an inspection that is not written"
        ),
        pytest.param(
            "head_block: {on_beam: ⟦reference-unknown|loft 3⟧}", "beam", id="a beam that is not written"
        ),
    ],
)
def test_a_mistake_is_told_with_what_to_write(refused_as_marked: Refused, written: str, instead: str) -> None:
    (problem,) = refused_as_marked(in_set(written))
    assert instead in f"{problem.what} {problem.instead}"


def test_a_value_left_empty_is_told(refused_as_marked: Refused) -> None:
    refused_as_marked("""
        line_sets:
          - number: 14
            low_trim:⟦value-not-written|⟧
            use: general
    """)


@pytest.mark.parametrize(
    "lines",
    [
        pytest.param("{at: {1: 2'-0\"}, ⟦lift-lines-key|eech⟧: {role: lift}}", id="a key of no template"),
        pytest.param("⟦lift-lines-marks|{each: {role: lift}}⟧", id="no marks"),
        pytest.param("{at: ⟦lift-lines-marks|[2'-0\"]⟧}", id="places without marks"),
        pytest.param("{at: {1: ⟦unit-missing|2⟧}}", id="a place without a unit"),
        pytest.param(
            "{at: {1: CL}, except: [{lines: [⟦line-unknown|2⟧], role: spot}]}", id="an exception of no line"
        ),
        pytest.param(
            "{at: {1: CL}, except: [⟦lift-lines-except|{role: spot}⟧]}", id="an exception without lines"
        ),
        pytest.param(
            "{at: {1: CL}, each: {lower: [knot]}, except: [{lines: 1, lower: {⟦patch-unknown|clip⟧: {}}}]}",
            id="no such part",
        ),
        pytest.param(
            "{at: {1: CL}, each: {lower: [knot]}, except: [{lines: 1, lower: {⟦patch-unknown|knot.2⟧: {}}}]}",
            id="no second",
        ),
        pytest.param(
            "{at: {1: CL}, except: [{lines: 1, lower: ⟦patch-of-nothing|{knot: {}}⟧}]}",
            id="a change of nothing",
        ),
        pytest.param(
            "{at: {1: CL}, each: {lower: [knot]}, except: [{lines: 1, lower: {knot: ⟦patch-wrong|[]⟧}}]}",
            id="a list for facts",
        ),
        pytest.param("[⟦key-missing|{at: CL}⟧]", id="a line without a mark"),
    ],
)
def test_mistakes_in_lift_lines_are_told(refused_as_marked: Refused, lines: str) -> None:
    refused_as_marked(in_set(f"lift_lines: {lines}"))


def test_two_sets_cannot_have_one_number(refused_as_marked: Refused) -> None:
    (problem,) = refused_as_marked("""
        line_sets:
          - number: 14
          - number: 15
          - number: ⟦key-given-twice|14⟧
    """)
    assert problem.used_by == ("first written at house.yaml:4:13",)


def test_a_set_without_a_number_cannot_be_spoken_of(refused_as_marked: Refused) -> None:
    refused_as_marked("line_sets: [⟦key-missing|{name: Border 3}⟧]")


def test_a_house_has_a_name(refused_as_marked: Refused) -> None:
    refused_as_marked("plumbtrue: rig/1\n⟦key-missing|house⟧: {batten_zero: stage-right}\n")


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("⟦form-missing|house⟧: {name: H} # plumbtrue:", id="no form"),
        pytest.param("plumbtrue: ⟦form-wrong|plot/1⟧\nhouse: {name: H}", id="another form"),
        pytest.param("⟦house-missing|plumbtrue⟧: rig/1", id="no house"),
        pytest.param("plumbtrue: rig/1\nhouse: {name: H}\n⟦key-unknown|line_stes⟧: []", id="a misspelt key"),
        pytest.param(
            "plumbtrue: rig/1\nhouse: {name: H, units: ⟦word-not-permitted|imperial⟧}", id="no such units"
        ),
        pytest.param(
            "plumbtrue: rig/1\nhouse: {name: H, line_sets: []}\n⟦line-sets-twice|line_sets⟧: []",
            id="sets twice",
        ),
        pytest.param(
            "plumbtrue: rig/1\nhouse: {name: H, units: si}\nunits: ⟦setting-twice|us⟧", id="units twice"
        ),
        pytest.param("plumbtrue: rig/1\nhouse: {name: H}\nrule_packs: [⟦rule-packs-wrong|[]⟧]", id="no pack"),
    ],
)
def test_the_head_of_the_file_is_checked(refused_as_marked: Refused, text: str) -> None:
    refused_as_marked(text)


def test_every_mistake_is_told_at_once(refused_as_marked: Refused) -> None:
    refused_as_marked("""
        typical: {gac: {kind: rope, diameter: ⟦unit-missing|0.25⟧}}
        line_sets:
          - number: 14
            use: ⟦word-not-permitted|elektric⟧
            lift_lines:
              at: {1: CL}
              each: {rope: {like: ⟦like-unknown|gca⟧}, lower: [⟦like-unknown|thimbel⟧]}
          - ⟦key-missing|name⟧: spare
            arbor: {⟦key-unknown|wheight⟧: 90 lb}
    """)


def test_an_engineering_fact_that_nobody_wrote_is_no_mistake(rig: ReadRig) -> None:
    house = rig("line_sets: [{number: 14, lift_lines: [{mark: 1}], batten: {}, arbor: {}}]")
    assert len(list(house.house.below())) == 5


def test_a_mistake_in_an_included_file_is_told_there(tmp_path: Path, vocabulary: Vocabulary) -> None:
    (tmp_path / "house.yaml").write_text("plumbtrue: rig/1\ninclude: [sets.yaml]\nhouse: {name: H}\n")
    (tmp_path / "sets.yaml").write_text("line_sets:\n  - number: 14\n    use: electrik\n")
    with pytest.raises(CannotRead) as refusal:
        read_rig(tmp_path / "house.yaml", vocabulary, shown_as="house.yaml")
    (problem,) = refusal.value.problems
    assert str(problem.where) == "sets.yaml:3:10"


def test_the_files_that_were_read_are_known_by_their_digests(tmp_path: Path, vocabulary: Vocabulary) -> None:
    (tmp_path / "house.yaml").write_text("plumbtrue: rig/1\ninclude: [sets.yaml]\nhouse: {name: H}\n")
    (tmp_path / "sets.yaml").write_text("line_sets: [{number: 14}]\n")
    files = read_rig(tmp_path / "house.yaml", vocabulary, shown_as="house.yaml").files
    expected = [
        (name, sha256((tmp_path / name).read_bytes()).hexdigest()) for name in ("house.yaml", "sets.yaml")
    ]
    assert list(files) == expected


@pytest.mark.parametrize(
    ("text", "read", "instead"),
    [
        ("plumbtrue: ⟦form-wrong|plot/1⟧\nplot: {show: x, items: 3}\ntypical: {a: {kind: item, people: none}}\n",
         read_rig_text, "name the house, and this file behind --plot"),
        ("plumbtrue: ⟦form-wrong|waivers/1⟧\nwaivers: []\n", read_rig_text, "behind --waivers"),
        ("plumbtrue: ⟦form-wrong|rig/1⟧\nhouse: {name: x}\nline_sets: []\n", read_plot_text, "in front of --plot"),
    ],
)  # fmt: skip
def test_a_file_of_another_form_is_named_and_not_read_further(
    refused_as_marked: Refused, text: str, read: Callable[..., object], instead: str
) -> None:
    (problem,) = refused_as_marked(text, read)
    assert instead in problem.instead


def test_a_house_written_as_its_name_is_shown_as_it_would_be(refused_as_marked: Refused) -> None:
    (problem,) = refused_as_marked("plumbtrue: rig/1\nhouse: ⟦house-missing|Quarry Lane⟧\n")
    assert problem.instead == "write house: {name: Quarry Lane}"


def test_a_brick_that_is_not_written_down_is_shown_as_it_would_be(refused_as_marked: Refused) -> None:
    (problem,) = refused_as_marked(
        "line_sets: [{number: 1, arbor: {weights: {⟦reference-unknown|full⟧: 12}}}]\n"
    )
    assert problem.instead == "write it down in house: as bricks: [{key: full, …}]"


def test_a_place_on_the_other_side_may_have_a_minus(one_set: OneSet) -> None:
    """Downstage of the plaster line, or below the deck."""
    facts = one_set("from_plaster_line: -1 ft\nlow_trim: -2 ft")().facts
    assert [facts[name].text for name in ("from_plaster_line", "low_trim")] == ["-1 ft", "-2 ft"]


def test_weights_that_lie_in_an_arbor_are_none_taken_off(refused_as_marked: Refused) -> None:
    """Twelve bricks less than none balanced a set against what hangs on it."""
    (problem,) = refused_as_marked(
        """
        plumbtrue: rig/1
        house: {name: H, bricks: [{key: two, weight: 28 lb}]}
        line_sets: [{number: 14, arbor: {weights: [{brick: two, count: ⟦figure-below-nought|-12⟧}]}}]
        """
    )
    assert problem.instead == "write how many lie there"
