"""What many cards have alike stands once on a page, and nothing gets lost or mixed up on the way."""

from plumbtrue.reporting.sharing import drawings, workings

PIPE = '<svg class="drawing elevation" viewBox="0 0 720 232" role="img" aria-label="A pipe.">\n<line x1="1"/>\n</svg>\n'
OTHER = PIPE.replace('x1="1"', 'x1="2"')
BATTEN = """batten-reactions: 283 lb
  formula: beam
  from
    at of 7 / line 2  CL  house.yaml:21:3

rope-limit of 7 / line 2: 788 lb
  from
    breaking strength  7000 lb  house.yaml:4:5 (like: rope)"""


def test_a_drawing_that_two_cards_show_is_put_down_once() -> None:
    found = drawings({("1", "elevation"): PIPE, ("2", "elevation"): PIPE, ("3", "elevation"): OTHER})
    (symbol,) = found.shared
    assert '<line x1="1"/>' in symbol
    assert 'viewBox="0 0 720 232"' in symbol
    first, second = found.placed["1", "elevation"], found.placed["2", "elevation"]
    assert first == second
    assert '<use href="#drawing-0"/>' in first
    assert 'aria-label="A pipe."' in first
    assert found.placed["3", "elevation"] == OTHER


def test_a_block_that_two_sets_have_alike_is_told_once() -> None:
    """Set 17 is drawn as set 7 is, and hangs elsewhere in the file."""
    other = BATTEN.replace("7 / line", "17 / line").replace("house.yaml:21:3", "house.yaml:88:3")
    found = workings({("7", "pull"): BATTEN, ("17", "pull"): other}, "house.yaml")
    (shared,) = found.shared
    assert shared.title == "rope-limit of line 2: 788 lb"
    assert "    breaking strength  7000 lb  4:5 (like: rope)" in shared.lines
    own, elsewhere = found.placed["17", "pull"]
    assert own.lines[-1] == "    at of line 2  CL  88:3"
    assert (elsewhere.mark, elsewhere.lines) == (shared.mark, ())


def test_a_block_of_one_set_stays_on_its_card_however_often_it_is_told() -> None:
    found = workings({("7", "pull"): BATTEN, ("7", "limit"): BATTEN}, "house.yaml")
    assert found.shared == ()
    assert all(not block.mark for its in found.placed.values() for block in its)


def test_another_set_whose_name_ends_alike_keeps_its_name() -> None:
    found = workings({("7", "pull"): "a: 1\n    of 17 / line 2 and of 7 / line 3"}, "house.yaml")
    (block,) = found.placed["7", "pull"]
    assert block.lines == ("    of 17 / line 2 and of line 3",)


def test_places_in_another_file_keep_its_name() -> None:
    found = workings({("7", "pull"): "a: 1\n    parts.yaml:3:1  house.yaml:4:1"}, "house.yaml")
    (block,) = found.placed["7", "pull"]
    assert block.lines == ("    parts.yaml:3:1  4:1",)
