"""Days that are not as planned: no wall after all, and evenings moved. Tuesday 1 December 2026."""

from datetime import date

import pytest

PLAN = ("zone Europe/Oslo", "plates 2x10 2x5", "pin 1.25kg", "evenings tue thu 20:30 60 min")


@pytest.fixture
def says(talker):
    return talker(*PLAN, "wall days fri")


def test_a_planned_wall_day_is_called_off(says) -> None:
    assert "· Thu 3 Dec: no fingers, wall on Fri" in says("week")
    answer = says("no wall fri")
    assert answer.startswith("No wall on Fri 4 Dec, then.")
    assert "Thursday: fingers after all." in answer
    week = says("week")
    assert "Fri 4 Dec" not in week
    # The week after is as planned.
    assert "· Fri 11 Dec: wall" in says("week", days=4)


def test_without_a_day_the_next_wall_day_is_meant(says) -> None:
    assert "No wall on Fri 4 Dec" in says("no wall")
    assert "I know of no wall" not in says("no wall", days=7)


def test_a_wall_day_that_passed_without_climbing_frees_the_next_day(talker) -> None:
    says = talker(*PLAN, "wall days mon")
    # Wednesday comes; on Tuesday nothing was said of Monday's wall.
    assert "No fingers tonight: the wall was planned on Monday" in says("tonight")
    says("didn't climb yesterday")
    assert "No fingers tonight" not in says("tonight")


def test_a_visit_told_of_is_taken_back(says) -> None:
    says("wall thu")
    assert "No wall on Thu 3 Dec, then." in says("no wall thu")
    assert says.athlete.walls == ()


def test_the_wall_after_all_comes_back(says) -> None:
    says("no wall fri", "wall fri")
    assert "· Fri 4 Dec: wall" in says("week")


def test_no_wall_where_none_was_planned_changes_nothing(says) -> None:
    assert says("no wall wed") == "I know of no wall on Wed 2 Dec, so nothing changes."
    assert says.athlete.no_walls == ()


def test_undo_brings_the_wall_day_back(says) -> None:
    says("no wall fri")
    assert "no wall on Fri 4 Dec" in says("undo")
    assert "· Fri 4 Dec: wall" in says("week")


def test_no_wall_days_any_more(says) -> None:
    assert says("no wall days").startswith("No wall days planned any more.")
    assert says.athlete.plan.wall_days == ()


def test_another_evening_than_the_next_is_moved(talker) -> None:
    says = talker(*PLAN)
    answer = says("move thu to fri 19:00")
    assert "The evening of Thu 3 Dec is on Fri 4 Dec at 19:00." in answer
    # Tonight's stays.
    assert "Next: Tue 1 Dec 20:30" in answer
    assert "· Fri 4 Dec 19:00: fingers" in says("week")


def test_a_moved_evening_is_named_by_the_day_on_which_it_is_held(talker) -> None:
    says = talker(*PLAN, "move thu to fri")
    assert "The evening of Thu 3 Dec is on Sat 5 Dec" in says("move fri to sat")


def test_a_day_without_an_evening_cannot_be_moved(talker) -> None:
    says = talker(*PLAN)
    answer = says("move wed to fri")
    assert answer == (
        "No evening is planned for Wed 2 Dec. The next are on Tue 1 Dec and Thu 3 Dec."
    )
    assert says.athlete.moved == ()


def test_it_says_when_a_moved_evening_takes_the_place_of_another(talker) -> None:
    says = talker(*PLAN)
    answer = says("move tonight to thu")
    assert "It takes the place of the one planned for Thu 3 Dec" in answer
    assert says.athlete.moved[0][0] == date(2026, 12, 1)


def test_the_full_line_answers_the_open_question_too(talker) -> None:
    says = talker(*PLAN, "bw 71", "age 34", "grips crimp", "edges 20", "bar 120kg")
    # "band" is asked now: the line must not make a band called "band green".
    says("band green 12kg")
    assert [band.name for band in says.athlete.kit.bands] == ["green"]
