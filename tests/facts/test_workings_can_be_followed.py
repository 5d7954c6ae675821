"""A working printed, so that a licensed person can follow it with a pocket calculator."""

from tests.facts.rigs_in_text import Ask, a_set

from plumbtrue.facts.working_text import working_text


def test_a_drop_angle_shows_offset_drop_and_where_they_were_written(one_set: Ask) -> None:
    off = "{lines: [2], pick_off_along: 4 in, pick_off_across: 0 in, measured_with: held}"
    text = working_text(one_set(a_set(except_=off)).answer("14 / line 2", "drop_angle"))
    assert text.startswith("plumb: 7.6 deg\n  formula: atan(offset / drop)\n")
    assert any(row.split()[:6] == ["pick", "off", "along,", "line", "2", "4"] for row in text.splitlines())
    assert any(row.split()[-1].startswith("test.yaml:") for row in text.splitlines())
    assert "    drop from the groove to the pipe's centre  2'-6\"" in text
    assert "greatest height of the pipe (trim-heights): 58'-0\"" in text
    assert "  source: plane trigonometry" in text


def test_a_reaction_shows_every_pull_and_the_moment_over_each_line(one_set: Ask) -> None:
    """Bare pipe: 2.7205 lb/ft on a 3 ft overhang bends by 12.24 ft-lb over line 1."""
    text = working_text(one_set(a_set()).answer("14 / line 2", "reaction_bare"))
    assert "line 1 at 3'-0\"    pulls 21 lb, moment of the pipe there -12.24 ft-lb" in text
    assert "line 2 at 13'-6\"   pulls 31 lb" in text
    assert "  assumed: lines are level, plumb and do not stretch" in text


def test_a_statement_in_order_is_said_never_called_measured(one_set: Ask) -> None:
    text = working_text(one_set(a_set()).answer("14 / line 2 / upper / swage-sleeve", "efficiency"))
    assert "pass           in order by statement of inspector on 2025-04-10" in text
    assert "measured" not in text


def test_an_unknown_answer_names_what_would_settle_it(one_set: Ask) -> None:
    text = working_text(one_set(a_set(splices="unknown")).answer("14 / batten", "sag"))
    assert text.startswith("not known\nwould settle or narrow it:\n")
    assert "  splices of 14 / batten: looked at, could not be told" in text


def test_a_refusal_gives_its_reason(one_set: Ask) -> None:
    text = working_text(
        one_set(a_set(except_="{lines: [2], rope: {corrosion: pitted}}")).answer("14 / line 2", "rope_limit")
    )
    assert text.startswith("no figure: nobody knows the strength left in a rope with this: pitted")


def test_a_written_figure_is_its_own_working(one_set: Ask) -> None:
    text = working_text(one_set(a_set()).answer("14 / batten", "length"))
    assert text.startswith("as recorded: 48'-0\"  test.yaml:")
