"""What one evening or visit weighs."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.athlete import DatedLog
from core.errors import OutOfRange
from core.facts import (
    Effort,
    EveningsPlanned,
    EveningStarted,
    Logged,
    SetDone,
    TimeLimited,
    Undone,
)
from core.review import diary_of
from core.review.exertion import Exertion, exertions, session_load, session_rpe
from tests.core.review.record import Record, planned, sets_of

TUESDAY = date(2026, 12, 1)


def only(record: Record) -> Exertion:
    (found,) = exertions(record.athlete, record.diary, today=date(2026, 12, 31))
    return found


def rated(*sets: SetDone, slug: str = "push-up") -> DatedLog:
    return DatedLog(1, TUESDAY, Logged(slug, None, sets, (), None, ""))


@given(st.integers(0, 20), st.integers(0, 300), st.integers(1, 5))
def test_load_scales_with_the_minutes(halves: int, minutes: int, k: int) -> None:
    rpe = Decimal(halves) / 2
    assert session_load(rpe, minutes=k * minutes) == k * session_load(rpe, minutes=minutes)


@pytest.mark.parametrize(("rpe", "minutes"), [("10.5", 60), ("-1", 60), ("5", -1)])
def test_load_refuses_what_is_no_rating(rpe: str, minutes: int) -> None:
    with pytest.raises(OutOfRange):
        session_load(Decimal(rpe), minutes=minutes)


@pytest.mark.parametrize(
    ("effort", "rpe"), [("easy", 7), ("ok", 8), ("hard", 9), ("limit", 10), ("fail", 10)]
)
def test_effort_words_are_ratings(effort: Effort, rpe: int) -> None:
    # House rule on zourdos_2016: 10 less what was left.
    assert session_rpe([rated(SetDone("both", reps=5, effort=effort))]) == rpe


def test_an_exercise_counts_with_its_hardest_set_and_the_evening_with_their_mean() -> None:
    pull = rated(SetDone("both", reps=5, effort="easy"), SetDone("both", reps=5, effort="limit"))
    trunk = rated(SetDone("both", hold_s=20, rpe=Decimal(6)), slug="l-sit")
    hips = rated(SetDone("both", reps=6, left=3), slug="pancake")
    # By hand: (10 + 6 + 7) / 3 = 7.67, in halves 7.5.
    assert session_rpe([pull, trunk, hips]) == Decimal("7.5")


def test_of_two_sayings_the_harder_counts() -> None:
    assert session_rpe([rated(SetDone("both", reps=5, effort="easy", rpe=Decimal("8.5")))]) == (
        Decimal("8.5")
    )


def test_no_effort_is_no_rating() -> None:
    assert session_rpe([rated(SetDone("both", reps=5))]) is None
    assert only(planned().log("2026-12-01 21:00", effort=None)).load is None


def test_an_evening_lasts_from_start_to_the_last_log() -> None:
    record = planned().add("2026-12-01 20:32", EveningStarted())
    record.log("2026-12-01 20:50").log("2026-12-01 21:19", "l-sit")
    found = only(record)
    assert (found.minutes, found.is_timed) == (47, True)
    # By hand: RPE 8 x 47 min.
    assert found.load == 376.0


def test_without_start_the_planned_minutes_count() -> None:
    found = only(planned(minutes=45).log("2026-12-01 21:00"))
    assert (found.minutes, found.is_timed) == (45, False)


def test_minutes_said_for_that_day_come_before_the_plan() -> None:
    record = planned().add("2026-12-01 20:00", TimeLimited(20)).log("2026-12-01 21:00")
    assert only(record).minutes == 20


def test_the_plan_of_that_time_counts_not_the_one_of_today() -> None:
    record = planned(minutes=45).log("2026-12-01 21:00")
    record.add("2026-12-05 12:00", EveningsPlanned(None, None, 90))
    assert only(record).minutes == 45


@pytest.mark.parametrize("logged", ["2026-12-01 20:35", "2026-12-01 23:45"])
def test_an_evening_typed_at_once_or_much_later_is_not_timed(logged: str) -> None:
    found = only(planned().add("2026-12-01 20:32", EveningStarted()).log(logged))
    assert (found.minutes, found.is_timed) == (60, False)


def test_a_correction_later_does_not_lengthen_the_evening() -> None:
    record = planned().add("2026-12-01 20:30", EveningStarted()).log("2026-12-01 21:15")
    fixed = sets_of("push-up", SetDone("both", reps=9, effort="hard"), count=3)
    record.add("2026-12-01 22:50", Undone((4,), "fix"), fixed)
    found = only(record)
    assert (found.minutes, found.rpe) == (45, 9)


def test_before_any_plan_the_programmes_minutes_count() -> None:
    record = Record().log("2026-12-01 21:00")
    diary = diary_of(tuple(record.entries), minutes=35)
    (found,) = exertions(record.athlete, diary, today=TUESDAY)
    assert found.minutes == 35
