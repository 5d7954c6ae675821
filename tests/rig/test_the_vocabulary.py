"""The vocabulary itself: every word has its meaning, every condition can be found out, and what is made
from it is fresh.
"""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import get_args

import pytest

from plumbtrue.documents.data_folder import data_folder
from plumbtrue.documents.place import CannotRead
from plumbtrue.documents.reading import read_document
from plumbtrue.quantities.bounds import Bounds
from plumbtrue.quantities.dimension import BY_NAME, LENGTH
from plumbtrue.quantities.reading import read_quantity
from plumbtrue.rig.schema_writing import generated_files
from plumbtrue.rig.vocabulary import Fact, FactType, Kind, Nature, Vocabulary
from plumbtrue.rig.vocabulary_files import plain
from plumbtrue.rig.vocabulary_loading import build_vocabulary, load_vocabulary, with_computed

SCHEMAS = data_folder("schemas")


def facts(vocabulary: Vocabulary) -> Iterator[tuple[Kind, Fact]]:
    for kind in vocabulary.kinds.values():
        for fact in kind.facts.values():
            yield kind, fact


@pytest.mark.parametrize("name", ["vocabulary.json", "rig-1.schema.json", "plot-1.schema.json"])
def test_what_is_made_from_the_vocabulary_is_fresh(name: str) -> None:
    made = generated_files(SCHEMAS / "vocabulary")[name]
    assert (SCHEMAS / name).read_text(encoding="utf-8") == made, "run python -m plumbtrue.rig.schema_writing"


def test_every_class_has_the_kinds_that_name_it(vocabulary: Vocabulary) -> None:
    for one in vocabulary.classes.values():
        assert one.members == {name for name, kind in vocabulary.kinds.items() if one.name in kind.classes}
        for member in one.members:
            theirs = vocabulary.kinds[member].facts
            # What counts as in order may be a kind's own affair; everything else is the class's.
            assert one.facts == {
                name: replace(theirs[name], in_order=fact.in_order) for name, fact in one.facts.items()
            }


def test_every_fact_is_explained(vocabulary: Vocabulary) -> None:
    unexplained = [f"{kind.name}.{fact.name}" for kind, fact in facts(vocabulary) if not fact.meaning]
    assert unexplained == []


def test_a_condition_says_how_near_one_has_to_be(vocabulary: Vocabulary) -> None:
    vouched = [(kind, fact) for kind, fact in facts(vocabulary) if fact.in_order is not None]
    assert len(vouched) > 100
    assert [
        f"{kind.name}.{fact.name}" for kind, fact in vouched if fact.nature != "condition" or not fact.takes
    ] == []


def test_what_in_order_says_is_what_may_be_written(vocabulary: Vocabulary) -> None:
    """A statement may not give a fact a word that nobody could write for it."""
    wrong = [
        f"{kind.name}.{fact.name}: {word}"
        for kind, fact in facts(vocabulary)
        if fact.type in ("word", "list of words") and fact.in_order
        for word in fact.in_order.split(" or ")
        if word not in (fact.words or {}) and not (word == "none" and fact.may_be_none)
    ]
    assert wrong == []


def test_every_computed_fact_names_its_source(vocabulary: Vocabulary) -> None:
    assert [
        f"{kind.name}.{fact.name}" for kind, fact in facts(vocabulary) if fact.is_computed and not fact.source
    ] == []


def test_a_step_of_the_survey_is_one_of_the_walk(vocabulary: Vocabulary) -> None:
    steps = {fact.step for _, fact in facts(vocabulary) if fact.step is not None}
    assert steps <= set(vocabulary.survey_steps)


def test_kinds_and_classes_are_found_by_either_spelling(vocabulary: Vocabulary) -> None:
    assert vocabulary.kinds_of("trim-chain") == vocabulary.kinds_of("trim_chain") == {"trim_chain"}
    assert "shackle" in vocabulary.kinds_of("rated-part")
    assert vocabulary.kinds_of("unicorn") == frozenset()


def test_types_and_natures_are_explained_and_no_others() -> None:
    explained = plain(read_document(SCHEMAS / "vocabulary" / "vocabulary.yaml"))
    assert set(explained["types"]) == set(get_args(FactType)) - {"truth"}
    assert set(explained["natures"]) == set(get_args(Nature)) - {"computed"}


def test_every_example_of_a_dimension_can_be_written() -> None:
    examples = plain(read_document(SCHEMAS / "vocabulary" / "vocabulary.yaml"))["dimensions"]
    unreadable = [
        text
        for name, listed in examples.items()
        for text in listed.split(", ")
        if not isinstance(read_quantity(text, BY_NAME[name]), Bounds)
    ]
    assert unreadable == []


KIND = """\
kind: keder
word: keder
is: A cord in a cloth's edge
classes: [rated_part]
sits_in: [any load path]
key: its kind
"""


def test_a_kind_may_be_added_from_another_folder(tmp_path: Path) -> None:
    (tmp_path / "kinds").mkdir()
    (tmp_path / "kinds" / "keder.yaml").write_text(
        f"{KIND}facts: {{size: {{is: its size, type: quantity, dimension: length, nature: identity}}}}\n"
    )
    vocabulary = load_vocabulary((tmp_path,))
    assert vocabulary.kinds["keder"].facts["size"].dimension == LENGTH
    assert "keder" in vocabulary.classes["part"].members


def test_a_kind_that_exists_cannot_be_added_again(tmp_path: Path) -> None:
    (tmp_path / "kinds").mkdir()
    (tmp_path / "kinds" / "shackle.yaml").write_text("kind: shackle\nword: shackle\nis: Another\n")
    with pytest.raises(ValueError, match="shackle, which the vocabulary has already"):
        load_vocabulary((tmp_path,))


def test_a_misspelt_key_of_a_kind_is_told(tmp_path: Path) -> None:
    (tmp_path / "kinds").mkdir()
    (tmp_path / "kinds" / "keder.yaml").write_text(KIND.replace("word:", "wrod:"))
    with pytest.raises(CannotRead) as refusal:
        load_vocabulary((tmp_path,))
    assert str(refusal.value.problems[0].where) == "kinds/keder.yaml:2:1"


@pytest.mark.parametrize(
    ("said", "match"),
    [
        ({"type": "quantity", "nature": "identity"}, "without a dimension"),
        ({"type": "furlong", "nature": "identity"}, "the type furlong"),
        ({"type": "quantity", "dimension": "mood", "nature": "identity"}, "the dimension mood"),
        ({"type": "count", "nature": "guess"}, "the nature guess"),
        ({"type": "word", "nature": "identity"}, "has no words"),
        ({"type": "thing", "of": "unicorn", "nature": "identity"}, "no kind and no class"),
    ],
)
def test_a_fact_that_makes_no_sense_cannot_be_declared(said: dict[str, str], match: str) -> None:
    kind = {"word": "keder", "is": "a cord", "facts": {"size": {"is": "its size", **said}}}
    data = {"common": {}, "classes": {}, "kinds": {"keder": kind}, "survey_steps": {}, "looks": []}
    with pytest.raises(ValueError, match=match):
        build_vocabulary(data)


def test_a_computed_fact_may_be_added_to_a_class(vocabulary: Vocabulary) -> None:
    fact = Fact("wear_rate", "wear a year", "ratio", "computed", source="common practice")
    wider = with_computed(vocabulary, "rated-part", [fact])
    assert wider.kinds["shackle"].facts["wear_rate"] == wider.classes["rated_part"].facts["wear_rate"] == fact
    assert "wear_rate" not in wider.kinds["thimble"].facts
    with pytest.raises(ValueError, match="has a fact wear_rate already"):
        with_computed(wider, "shackle", [replace(fact)])


def test_a_fact_cannot_come_from_two_sides() -> None:
    fact = {"is": "its size", "type": "count", "nature": "identity"}
    data = {
        "common": {},
        "classes": {"made": {"is": "made", "facts": {"size": fact}}},
        "kinds": {"keder": {"word": "keder", "is": "a cord", "classes": ["made"], "facts": {"size": fact}}},
        "survey_steps": {},
        "looks": [],
    }
    with pytest.raises(ValueError, match="from two sides"):
        build_vocabulary(data)


def test_a_kind_may_have_its_own_good_order_for_a_fact_of_its_class(vocabulary: Vocabulary) -> None:
    """A pressed sleeve's tail stands out a little; a wedge socket's is 6 in or more (common practice)."""
    assert vocabulary.kinds["wedge_socket"].facts["tail_length"].in_order == "at least 6 in"
    assert vocabulary.kinds["swage_sleeve"].facts["tail_length"].in_order == "1/8..3/4 in"


def test_good_order_is_not_said_of_a_fact_that_a_kind_does_not_have() -> None:
    kind = {"word": "keder", "is": "a cord", "in_order": {"colour": "red"}}
    data = {"common": {}, "classes": {}, "kinds": {"keder": kind}, "survey_steps": {}, "looks": []}
    with pytest.raises(ValueError, match="keder says when colour is in order"):
        build_vocabulary(data)
