"""What a record says of past plans, pauses and evenings."""

from datetime import UTC, date, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from core.facts import CameBack, EveningsPlanned, EveningStarted, Paused, Undone, WallDaysPlanned
from core.review.diary import TimeOff
from tests.core.review.record import planned

FIRST = date(2026, 12, 1)


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def test_the_plan_at_a_moment_is_the_last_one_said_before() -> None:
    record = planned("2026-12-01 12:00").add("2026-12-03 12:00", WallDaysPlanned(("sat",)))
    record.add("2026-12-05 12:00", EveningsPlanned(("mon",), None, 45))
    diary = record.diary
    assert diary.plan_at(at("2026-12-01 11:59")).days == ()
    assert diary.plan_at(at("2026-12-01 12:00")).days == ("tue", "thu")
    assert diary.plan_at(at("2026-12-04 12:00")).wall_days == ("sat",)
    later = diary.plan_at(at("2026-12-06 12:00"))
    assert (later.days, later.at, later.minutes) == (("mon",), "20:30", 45)
    assert later.wall_days == ("sat",)


def test_what_was_undone_was_never_planned() -> None:
    record = planned("2026-12-01 12:00").add("2026-12-02 12:00", Paused(None, "rest"))
    record.add("2026-12-02 12:01", Undone((2, 3), "undo"))
    assert record.diary.times_off == ()
    assert record.diary.plan_at(at("2026-12-03 12:00")).days == ()


def test_a_second_pause_takes_the_place_of_the_first() -> None:
    record = planned().add("2026-12-01 12:00", Paused(None, "rest"))
    record.add("2026-12-04 12:00", Paused(date(2026, 12, 6), "sick"))
    assert record.diary.times_off == (
        TimeOff(date(2026, 12, 1), date(2026, 12, 3)),
        TimeOff(date(2026, 12, 4), date(2026, 12, 5)),
    )


def test_back_after_a_pause_ended_by_itself_changes_nothing() -> None:
    record = planned().add("2026-12-01 12:00", Paused(date(2026, 12, 4), "away"))
    record.add("2026-12-09 12:00", CameBack())
    assert record.diary.times_off == (TimeOff(date(2026, 12, 1), date(2026, 12, 3)),)


def test_the_first_start_of_an_evening_counts() -> None:
    record = planned().add("2026-12-01 20:30", EveningStarted())
    record.add("2026-12-01 20:50", EveningStarted()).log("2026-12-01 21:00")
    (spell,) = record.diary.spells
    assert (spell.begun, spell.logged) == (at("2026-12-01 20:30"), at("2026-12-01 21:00"))


@given(st.lists(st.tuples(st.integers(0, 9), st.sampled_from(["rest", "back", 1, 3, 7]))))
def test_days_off_are_those_of_a_walk_through_the_days(steps: list[tuple[int, object]]) -> None:
    # Independent: day by day, what was said on each, in order.
    record, day = planned(), FIRST
    off: set[date] = set()
    until: date | None = None
    is_off = False
    for gap, said in steps:
        for ahead in range(gap):
            if is_off and (until is None or day + timedelta(days=ahead) < until):
                off.add(day + timedelta(days=ahead))
        day += timedelta(days=gap)
        is_off = is_off and (until is None or day < until)
        if said == "back":
            record.add(f"{day} 12:00", CameBack())
            off.update({day} if is_off else ())
            is_off = False
        else:
            until = day + timedelta(days=said) if isinstance(said, int) else None
            record.add(f"{day} 12:00", Paused(until, "rest"))
            is_off = True
    days = [FIRST + timedelta(days=n) for n in range((day - FIRST).days)]
    diary = record.diary
    assert {d for d in days if diary.is_off(d)} == {d for d in off if d < day}
