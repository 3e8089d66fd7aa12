"""Easier weeks: asked for, planned, and after two steps down. Days count from Tue 1 Dec 2026."""

from datetime import date
from decimal import Decimal

import pytest

from core.facts import Asked, SetDone
from core.progression.deload import Deload, deload_on

OK4 = ("ok",) * 4
FAILED = (("fail", 5), ("fail", 5), "ok", "ok")


def trained(diary, *days: int):
    """Half crimps on those days, all ok."""
    log = diary()
    for day in days:
        log.held(day, "20", *OK4)
    return log


def test_the_week_after_four_weeks_of_training_is_easier_from_monday_to_sunday(diary) -> None:
    # Mondays: 30 Nov, 7, 14, 21 Dec were trained in; 28 Dec begins the fifth week.
    log = trained(diary, 0, 7, 14, 21)
    planned = Deload(date(2026, 12, 28), date(2027, 1, 3), "planned")
    assert deload_on(log.athlete, date(2026, 12, 27)) is None
    assert deload_on(log.athlete, date(2026, 12, 28)) == planned
    assert deload_on(log.athlete, date(2026, 12, 29)) == planned
    assert deload_on(log.athlete, date(2027, 1, 4)) is None


def test_several_evenings_a_week_are_one_week(diary) -> None:
    log = trained(diary, 0, 2, 7, 9, 14, 16)
    assert deload_on(log.athlete, log.on(21)) is None
    assert deload_on(log.held(21, "20", *OK4).athlete, log.on(28)) is not None


def test_sessions_in_the_easier_week_do_not_move_it_and_the_count_begins_anew(diary) -> None:
    log = trained(diary, 0, 7, 14, 21, 28)
    assert deload_on(log.athlete, log.on(33)) == Deload(log.on(27), log.on(33), "planned")
    assert deload_on(log.athlete, log.on(35)) is None
    log = trained(diary, 0, 7, 14, 21, 28, 35, 42, 49)
    assert deload_on(log.athlete, log.on(56)) is None
    again = deload_on(log.held(56, "20", *OK4).athlete, log.on(63))
    assert again == Deload(log.on(62), log.on(68), "planned")


@pytest.mark.parametrize(("gap", "is_easier"), [(7, True), (8, False)])
def test_seven_days_off_begin_the_count_anew(diary, gap, is_easier) -> None:
    # Seven days from one session to the next leave six free, eight leave seven.
    log = trained(diary, 0, 7, 14, 14 + gap)
    assert (deload_on(log.athlete, log.on(28)) is not None) is is_easier


def test_after_a_week_off_the_planned_one_is_not_due_any_more(diary) -> None:
    log = trained(diary, 0, 7, 14, 20)
    assert deload_on(log.athlete, log.on(27)) is not None
    assert deload_on(log.athlete, log.on(28)) is None


def test_what_comes_later_does_not_change_what_a_day_was(diary) -> None:
    log = trained(diary, 0, 7, 14, 21)
    before = [deload_on(log.athlete, log.on(day)) for day in range(29)]
    log.held(35, "20", *OK4).held(40, "20", *FAILED)
    assert [deload_on(log.athlete, log.on(day)) for day in range(27)] == before[:27]


def test_an_asked_one_takes_seven_days_from_its_day_and_begins_the_count_anew(diary) -> None:
    log = trained(diary, 0, 7, 14, 21)
    log.has(deloads=(log.on(9),))
    asked = Deload(log.on(9), log.on(15), "asked")
    days = [deload_on(log.athlete, log.on(day)) for day in (8, 9, 15, 16, 28)]
    assert days == [None, asked, asked, None, None]


def test_of_two_easier_weeks_that_overlap_the_later_one_counts(diary) -> None:
    log = trained(diary, 0, 7)
    log.has(deloads=(log.on(9), log.on(12)))
    days = [deload_on(log.athlete, log.on(day)) for day in (11, 12, 18, 19)]
    first, second = (Deload(log.on(d), log.on(d + 6), "asked") for d in (9, 12))
    assert days == [first, second, second, None]


def test_two_exercises_that_called_for_less_within_a_week_call_for_an_easier_one(diary) -> None:
    log = trained(diary, 0).held(2, "20", *FAILED).held(8, "30", *FAILED, exercise="wide-pinch")
    assert deload_on(log.athlete, log.on(8)) is None
    assert deload_on(log.athlete, log.on(9)) == Deload(log.on(9), log.on(15), "two-downs")
    assert deload_on(log.athlete, log.on(16)) is None


def test_steps_down_a_week_or_more_apart_call_for_nothing(diary) -> None:
    log = trained(diary, 0).held(2, "20", *FAILED).held(9, "30", *FAILED, exercise="wide-pinch")
    assert deload_on(log.athlete, log.on(10)) is None


def test_both_hands_of_one_exercise_are_one_step_down(diary) -> None:
    log = diary()
    sets = [SetDone(s, Decimal(20), hold_s=4, effort="fail") for s in ("left", "right")] * 2
    log.log(0, "half-crimp", sets)
    assert deload_on(log.athlete, log.on(1)) is None


def test_one_late_failure_is_no_step_down_and_the_second_running_is(diary) -> None:
    late = ("ok", "ok", "ok", ("fail", 9))
    log = diary().held(0, "20", *late).held(0, "20", *FAILED, exercise="wide-pinch")
    assert deload_on(log.athlete, log.on(1)) is None
    assert deload_on(log.held(3, "20", *late).athlete, log.on(4)) is not None


def test_a_late_failure_after_a_session_without_one_is_no_step_down(diary) -> None:
    log = diary().held(0, "20", *OK4).held(3, "20", "ok", "ok", "ok", ("fail", 9))
    log.held(3, "20", *FAILED, exercise="wide-pinch")
    assert deload_on(log.athlete, log.on(4)) is None


def test_reps_under_the_bottom_twice_running_are_a_step_down(diary) -> None:
    log = diary().repped(0, (5, 5, 5)).held(2, "20", *FAILED)
    assert deload_on(log.athlete, log.on(3)) is None
    assert deload_on(log.repped(3, (6, 5, 5)).athlete, log.on(4)) is not None
    other = diary().repped(0, (5, 5, 5)).held(2, "20", *FAILED).repped(3, (6, 6, 6))
    assert deload_on(other.athlete, other.on(4)) is None


def test_missed_planks_and_reps_without_a_load_are_no_steps_down(diary) -> None:
    log = diary()
    for day in (0, 1, 2, 3):
        log.timed(day, (5,) * 3, "fail").repped(day, (2, 2), "fail", exercise="push-up")
    assert deload_on(log.athlete, log.on(4)) is None


def test_in_the_planned_week_targets_are_easier_and_say_until_when(diary, rules) -> None:
    log = trained(diary, 0, 7, 14, 21)
    target = log.next(28)
    # 20 x 0.9 = 18
    assert (target.change, target.sets, target.load_kg) == ("deload", 2, 18)
    assert rules(target)[0] == "deload-planned"
    assert target.reasons[0].get("until") == log.on(33)
    log.log(28, "half-crimp", [SetDone("left", Decimal(18), hold_s=10, effort="easy")] * 2)
    after = log.next(35)
    assert (after.change, after.load_kg, after.sets) == ("up", Decimal("20.5"), 4)


@pytest.mark.parametrize("day", [27, 33])
def test_the_first_and_the_last_day_of_an_easier_week_show_no_level(diary, day) -> None:
    log = trained(diary, 0, 7, 14, 21)
    for easy in sorted({day, 28}):
        log.log(easy, "half-crimp", [SetDone("left", Decimal(15), hold_s=10, effort="ok")] * 2)
    assert log.next(35).load_kg == Decimal("20.5")


def test_after_two_steps_down_targets_are_easier(diary, rules) -> None:
    log = trained(diary, 0).held(2, "20", *FAILED).held(3, "30", *FAILED, exercise="wide-pinch")
    target = log.next(5)
    # Down to 19 (20 x 0.95), and a tenth less than 20 is 18.
    assert (target.change, target.load_kg, target.sets) == ("deload", 18, 2)
    assert rules(target)[0] == "deload-downs"
    assert log.next(11).load_kg == 19


def test_a_line_begun_in_an_easier_week_goes_on_from_it(diary) -> None:
    log = trained(diary, 0, 7, 14, 21)
    asked = Asked("left", 2, None, 10, Decimal("17.5"))
    sets = [SetDone("left", Decimal(25), hold_s=10, effort="ok")] * 2
    log.log(28, "wide-pinch", sets, asked=asked)
    assert log.next(35, "wide-pinch").load_kg == Decimal("25.5")
