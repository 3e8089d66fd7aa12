"""The coming days by example. Day 0 is Monday 30 November 2026; sums of days by hand."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest

from core.facts import (
    CameBack,
    DeloadAsked,
    EveningDropped,
    EveningMoved,
    PainFelt,
    Paused,
    SettingChanged,
    TimeLimited,
    WallVisited,
)
from core.planning.week import DayPlan

Begin = Callable[..., Any]


def rules(plan: DayPlan) -> list[str]:
    return [reason.rule for reason in plan.reasons]


def test_two_evenings_48_hours_apart_both_train_fingers(life: Begin) -> None:
    assert life("tue thu").fingers() == [1, 3, 8, 10]


def test_of_evenings_in_a_row_every_second_trains_fingers(life: Begin) -> None:
    week = life("mon tue wed thu fri")
    assert week.fingers(days=7) == [0, 2, 4]
    assert rules(week.day(1)) == ["fingers-before"]
    assert week.day(1).blocks == ("pull", "trunk", "balance", "hips")


def test_no_hard_fingers_on_the_day_before_a_planned_wall_day(life: Begin) -> None:
    week = life("tue thu", "fri")
    assert week.fingers() == [1, 8]
    assert week.day(3).reasons[0].facts == (("day", week.day(4).day),)
    assert rules(week.day(3)) == ["wall-next-day"]
    assert "pull" in week.day(3).blocks
    assert week.day(4).kind == "wall"


def test_no_hard_fingers_on_the_day_after_the_wall(life: Begin) -> None:
    week = life("mon wed", "sun")
    assert week.fingers() == [2, 9]
    assert rules(week.day(0)) == ["wall-day-passed"]
    assert rules(week.day(7)) == ["wall-day-before"]
    surprise = life("tue thu").on(2, WallVisited(life("").day(2).day, 120, None))
    assert rules(surprise.day(3, today=2)) == ["wall-day-before"]


def test_a_wall_visit_on_a_planned_evening_takes_fingers_and_pull_and_leaves_the_rest(
    life: Begin,
) -> None:
    week = life("tue thu")
    week.on(1, WallVisited(week.day(1).day, 90, None))
    tonight = week.day(1, today=1)
    assert tonight.kind == "wall"
    assert tonight.blocks == ("trunk", "balance", "hips")
    assert rules(tonight) == ["wall-visit"]
    assert week.fingers(today=1, days=7) == [3]


def test_a_planned_wall_day_on_a_planned_evening_does_the_same(life: Begin) -> None:
    week = life("tue sat", "sat")
    assert week.fingers(days=7) == [1]
    assert week.day(5).blocks == ("trunk", "balance", "hips")


def test_a_surprise_at_the_wall_moves_fingers_to_an_evening_that_had_none(life: Begin) -> None:
    # Usual: Monday and Thursday, three days apart. The wall on Friday takes Thursday's, and
    # Monday was let pass: the free Tuesday trains fingers instead.
    week = life("mon tue thu")
    assert week.fingers(days=7) == [0, 3]
    week.on(1, WallVisited(week.day(4).day, None, None))
    assert week.fingers(today=1, days=6) == [1]


def test_a_missed_evening_is_not_made_up_by_doubling(life: Begin) -> None:
    missed = life("mon wed fri sun")
    assert missed.fingers(today=0, days=14) == [0, 2, 4, 7, 9, 11]
    # Monday passed without a log: the week keeps its other evenings and gains no Sunday.
    assert missed.fingers(today=1, days=13) == [2, 4, 7, 9, 11]


def test_an_evening_that_was_trained_is_not_counted_again(life: Begin) -> None:
    week = life("mon tue thu").crimped(0)
    assert week.fingers(today=0, days=7) == [0, 3]
    assert week.fingers(today=1, days=6) == [3]


def test_fingers_trained_on_an_unplanned_day_cost_the_evening_after(life: Begin) -> None:
    week = life("tue thu").crimped(1).crimped(2)
    assert week.fingers(today=2, days=7) == [8]
    assert rules(week.day(3, today=2)) == ["fingers-before"]


def test_an_unplanned_evening_takes_nothing_from_a_planned_one(life: Begin) -> None:
    week = life("tue thu")
    assert week.day(2, today=2).fingers == "none"
    assert rules(week.day(2, today=2)) == ["fingers-after"]
    assert week.day(5, today=5).fingers == "hard"
    assert week.day(5, today=5).kind == "rest"


def test_an_evening_without_plan_or_past_allows_all(life: Begin) -> None:
    assert life("").day(0).blocks == ("fingers", "pull", "trunk", "balance", "hips")


def test_a_moved_evening_takes_its_fingers_along(life: Begin) -> None:
    week = life("tue thu")
    week.on(1, EveningMoved(week.day(1).day, "2026-12-04T20:30"))
    # Friday is a day after Thursday: one of the two trains fingers, the usual earlier one.
    assert week.fingers(today=1, days=6) == [3]
    week.on(1, EveningMoved(week.day(3).day, "2026-12-02T20:30"))
    assert week.fingers(today=1, days=6) == [2, 4]


@pytest.mark.parametrize(("to", "hard"), [("20:30", [1, 3]), ("20:29", [1])])
def test_48_hours_are_counted_from_beginning_to_beginning(
    life: Begin, to: str, hard: list[int]
) -> None:
    week = life("tue thu")
    week.on(0, EveningMoved(week.day(3).day, f"2026-12-03T{to}"))
    assert week.fingers(days=7) == hard


def test_a_day_holds_one_evening(life: Begin) -> None:
    week = life("tue thu")
    week.on(1, EveningMoved(week.day(1).day, "2026-12-03T19:00"))
    held = week.day(3, today=1).evening
    assert held is not None
    assert held.planned == week.day(1).day
    assert week.fingers(today=1, days=6) == [3]


def test_an_evening_called_off_is_gone(life: Begin) -> None:
    week = life("tue thu")
    week.on(1, EveningDropped(week.day(1).day))
    assert week.day(1, today=1).kind == "rest"
    assert week.fingers(today=1, days=6) == [3]


def test_a_wall_day_called_off_frees_the_days_beside_it(life: Begin) -> None:
    week = life("mon wed", "sun")
    week.on(6, EveningDropped(week.day(6).day))
    assert week.fingers(today=7, days=7) == [7, 9]


def test_illness_leaves_hips_until_back_and_then_one_light_evening(life: Begin) -> None:
    week = life("tue thu").crimped(-6).on(0, Paused(None, "sick"))
    assert week.fingers() == []
    assert week.day(1).kind == "rest"
    assert week.day(1).blocks == ("balance", "hips")
    assert rules(week.day(1)) == ["sick"]
    week.on(2, CameBack())
    assert [week.day(d, today=2).fingers for d in (3, 8)] == ["light", "hard"]
    assert rules(week.day(3, today=2)) == ["easy-after-illness"]


def test_a_trip_plans_nothing_that_needs_kit(life: Begin) -> None:
    week = life("tue thu").on(0, Paused(life("").day(8).day, "away"))
    assert [week.day(d).kind for d in (1, 7, 8)] == ["away", "away", "home"]
    assert week.day(1).blocks == ("trunk", "balance", "hips")
    assert week.fingers() == [8, 10]


def test_wall_days_do_not_happen_on_a_trip_but_visits_do(life: Begin) -> None:
    week = life("tue thu", "wed").on(0, Paused(life("").day(5).day, "away"))
    assert week.day(2).kind == "away"
    week.on(2, WallVisited(week.day(2).day, None, None))
    assert week.day(2, today=2).kind == "wall"


def test_an_easier_week_moves_nothing_and_makes_fingers_light(life: Begin) -> None:
    week = life("tue thu").on(0, DeloadAsked())
    assert week.fingers() == [1, 3, 8, 10]
    assert [week.day(d).fingers for d in (1, 3, 8)] == ["light", "light", "hard"]


def test_sore_fingers_stop_tonight_and_are_light_for_two_sessions(life: Begin) -> None:
    week = life("tue thu").on(1, PainFelt("ring finger", "left", 3, ()))
    assert rules(week.day(1, today=1)) == ["pain-today"]
    # The targets say why, so the block stays.
    assert "fingers" in week.day(1, today=1).blocks
    assert week.day(3, today=1).fingers == "light"
    assert week.crimped(3).crimped(8).day(10, today=9).fingers == "hard"


def test_the_evening_after_sore_fingers_is_no_replacement(life: Begin) -> None:
    week = life("tue wed").on(1, PainFelt("ring finger", "left", 3, ()))
    assert week.fingers(today=1, days=7) == []


def test_a_warning_sign_stops_fingers_until_back(life: Begin) -> None:
    week = life("tue thu").on(0, PainFelt("finger", "left", None, ("pop",)))
    assert week.fingers() == []
    assert rules(week.day(8)) == ["warning-sign"]
    assert week.on(7, CameBack()).day(8, today=7).fingers == "light"


@pytest.mark.parametrize(
    ("age", "rule"), [("15", "fingers-under-age"), ("17", "fingers-need-coach")]
)
def test_the_young_train_no_fingers(life: Begin, age: str, rule: str) -> None:
    week = life("tue thu").on(0, SettingChanged("age", age))
    assert week.fingers() == []
    assert rules(week.day(1)) == [rule]


def test_without_kit_no_finger_evening_is_promised(life: Begin) -> None:
    week = life("tue thu")
    week.entries = [e for e in week.entries if "Kit" not in type(e.fact).__name__]
    assert week.fingers() == []
    assert rules(week.day(1)) == ["no-finger-kit"]


def test_minutes_are_those_of_the_plan_or_of_the_day(life: Begin) -> None:
    week = life("tue thu").on(1, TimeLimited(20))
    assert week.day(1, today=1).minutes == 20
    assert week.day(3, today=1).minutes == 60


def test_an_evening_at_one_at_night_belongs_to_the_day_before(life: Begin) -> None:
    week = life("tue", "tue", at="01:00")
    # Tuesday 01:00 is Monday's training day, the day before the wall.
    assert rules(week.day(0)) == ["wall-next-day"]


def test_days_ahead_leaves_no_day_out(life: Begin) -> None:
    days = life("tue").days(3, days=40)
    assert [(d.day - days[0].day).days for d in days] == list(range(40))
    assert Decimal(len(days)) == 40


def test_nothing_of_a_trip_costs_the_evenings_after_it(life: Begin) -> None:
    back_on_tuesday = Paused(life("").day(8).day, "away")
    assert life("tue thu", "mon").on(0, back_on_tuesday).fingers() == [8, 10]
    back_on_wednesday = Paused(life("").day(2).day, "away")
    assert life("tue wed").on(0, back_on_wednesday).fingers(days=7) == [2]


def test_an_evening_called_off_is_not_made_up_for_on_sunday(life: Begin) -> None:
    week = life("mon wed fri sun")
    week.on(0, EveningDropped(week.day(0).day))
    assert week.fingers() == [2, 4, 7, 9, 11]


def test_an_evening_under_way_keeps_its_fingers(life: Begin) -> None:
    # Monday and Sunday of one week could not be repeated, but Sunday's first set is done.
    week = life("mon sun").crimped(0).crimped(6)
    assert week.day(6, today=6).fingers == "hard"


def test_of_two_evenings_moved_to_one_day_the_last_word_holds(life: Begin) -> None:
    week = life("tue thu")
    week.on(0, EveningMoved(week.day(1).day, "2026-12-04T19:00"))
    week.on(0, EveningMoved(week.day(3).day, "2026-12-04T21:00"))
    held = week.day(4).evening
    assert held is not None
    assert held.planned == week.day(3).day


def test_the_session_in_which_fingers_hurt_is_not_one_without_pain(life: Begin) -> None:
    week = life("tue thu").crimped(1).on(1, PainFelt("ring finger", "left", 3, ()))
    assert week.crimped(3).day(8, today=4).fingers == "light"
    assert week.crimped(8).day(10, today=9).fingers == "hard"
