"""Which planned evenings were held: counted by hand."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from core.facts import (
    CameBack,
    EveningDropped,
    EveningMoved,
    EveningsPlanned,
    Paused,
    WallDaysPlanned,
    WallVisited,
)
from core.review.adherence import Adherence, adherence
from tests.core.review.record import Record, days, planned

FIRST = date(2026, 12, 1)
"""A Tuesday."""


def kept(record: Record, today: date = date(2026, 12, 28)) -> Adherence:
    return adherence(record.athlete, record.diary, since=FIRST, today=today)


def test_four_weeks_counted_by_hand() -> None:
    record = planned()
    # Evenings: 1 3 8 10 15 17 22 24. Held on 1 and 3; 8 called off; 10 moved to 11 and held;
    # 15 at the wall; ill from 16 to 20, so 17 is off; 22 forgotten, trained on 23; 24 held.
    record.log("2026-12-01 21:00").log("2026-12-03 21:00")
    record.add("2026-12-08 18:00", EveningDropped(date(2026, 12, 8)))
    record.add("2026-12-10 18:00", EveningMoved(date(2026, 12, 10), "2026-12-11T19:00"))
    record.log("2026-12-11 20:00")
    record.add("2026-12-15 18:00", WallVisited(date(2026, 12, 15), 90, None))
    record.add("2026-12-16 08:00", Paused(None, "sick")).add("2026-12-20 08:00", CameBack())
    record.log("2026-12-23 21:00").log("2026-12-24 21:00")
    found = kept(record)
    assert found.held == days("1 3 11 24")
    assert found.missed == days("8 22")
    assert found.at_wall == days("15")
    assert found.off == days("17")
    assert found.extra == days("23")
    assert (found.planned, found.walls) == (6, 1)
    assert (found.worst_day, found.on("tue"), found.on("thu")) == ("tue", (2, 3), (0, 2))


def test_each_evening_goes_by_the_plan_of_its_time() -> None:
    record = planned().log("2026-12-01 21:00")
    # From Wednesday 2 December on, Saturdays only.
    record.add("2026-12-02 12:00", EveningsPlanned(("sat",), None, None))
    found = kept(record, date(2026, 12, 13))
    assert (found.held, found.missed) == (days("1"), days("5 12"))


def test_a_plan_made_after_its_hour_asks_nothing_of_that_evening() -> None:
    assert kept(planned("2026-12-01 21:00"), date(2026, 12, 2)).planned == 0
    assert kept(planned("2026-12-01 20:00"), date(2026, 12, 2)).missed == days("1")


def test_tonight_counts_once_it_is_held() -> None:
    assert kept(planned(), FIRST).planned == 0
    assert kept(planned().log("2026-12-01 21:00"), FIRST).held == days("1")


def test_a_planned_wall_day_on_an_evening_is_not_missed() -> None:
    record = planned().add("2026-11-30 12:01", WallDaysPlanned(("thu",)))
    found = kept(record, date(2026, 12, 6))
    assert (found.missed, found.at_wall, found.walls) == (days("1"), days("3"), 0)


def test_a_pause_covers_its_first_day_and_the_day_of_coming_back() -> None:
    record = planned().add("2026-12-01 22:00", Paused(None, "rest"))
    record.add("2026-12-08 23:00", CameBack())
    found = kept(record, date(2026, 12, 11))
    assert (found.off, found.missed) == (days("1 3 8"), days("10"))


def test_a_pause_with_an_end_ends_there() -> None:
    record = planned().add("2026-12-01 12:00", Paused(date(2026, 12, 8), "away"))
    found = kept(record, date(2026, 12, 9))
    assert (found.off, found.missed) == (days("1 3"), days("8"))


def test_training_inside_a_pause_counts_as_held() -> None:
    record = planned().add("2026-12-01 12:00", Paused(date(2026, 12, 8), "away"))
    assert kept(record.log("2026-12-03 21:00"), date(2026, 12, 7)).held == days("3")


def test_no_plan_no_count() -> None:
    found = kept(Record().log("2026-12-01 21:00"))
    assert (found.planned, found.extra) == (0, days("1"))


@given(st.sets(st.integers(0, 27)), st.integers(0, 27), st.integers(1, 14))
def test_every_evening_is_counted_once_and_a_pause_adds_no_miss(
    trained: set[int], begin: int, length: int
) -> None:
    record = planned()
    first = FIRST + timedelta(days=begin)
    until = first + timedelta(days=length)
    for ahead in sorted(trained):
        record.log(f"{FIRST + timedelta(days=ahead)} 21:00")
    before = kept(record)
    found = kept(record.add(f"{first} 12:00", Paused(until, "rest")))
    # By hand: eight evenings in these four weeks.
    assert found.planned + len(found.off) == before.planned == 8
    assert set(found.missed) <= set(before.missed)
    assert found.held == before.held
    assert len(before.held) + len(before.extra) == len(trained)
