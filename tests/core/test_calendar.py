"""Local times and days, against RFC 5545 and the tz database."""

from datetime import UTC, date, datetime, time

import pytest

from core.calendar import instant, training_day

NEW_YORK = "America/New_York"


@pytest.mark.parametrize(
    ("day", "at", "utc"),
    [
        # Published: RFC 5545, section 3.3.5, the two examples of a repeated and a missing time.
        (date(2007, 11, 4), time(1, 30), datetime(2007, 11, 4, 5, 30, tzinfo=UTC)),
        (date(2007, 3, 11), time(2, 30), datetime(2007, 3, 11, 7, 30, tzinfo=UTC)),
    ],
)
def test_instant_of_repeated_and_missing_times_as_rfc_5545_prints(
    day: date, at: time, utc: datetime
) -> None:
    assert instant(day, at, NEW_YORK) == utc


def test_instant_weekly_evening_as_rfc_5545_prints() -> None:
    # Published: RFC 5545, section 3.8.5.3, weekly for 10 occurrences from 2 Sep 1997, 09:00.
    days = [date(1997, 9, d) for d in (2, 9, 16, 23, 30)]
    days += [date(1997, 10, d) for d in (7, 14, 21, 28)] + [date(1997, 11, 4)]
    hours = [instant(d, time(9), NEW_YORK).hour for d in days]
    assert hours == [13] * 8 + [14] * 2


@pytest.mark.parametrize(
    ("zone", "day", "hour", "minute"),
    [
        # Recomputed from tzdata 2025b: the clock changes on 29 Mar and 25 Oct 2026 in Oslo,
        # and by half an hour on 5 Apr and 4 Oct 2026 on Lord Howe.
        ("Europe/Oslo", date(2026, 3, 24), 17, 0),
        ("Europe/Oslo", date(2026, 3, 31), 16, 0),
        ("Europe/Oslo", date(2026, 10, 20), 16, 0),
        ("Europe/Oslo", date(2026, 10, 27), 17, 0),
        ("Australia/Lord_Howe", date(2026, 4, 1), 7, 0),
        ("Australia/Lord_Howe", date(2026, 4, 8), 7, 30),
        ("Australia/Lord_Howe", date(2026, 9, 30), 7, 30),
        ("Australia/Lord_Howe", date(2026, 10, 7), 7, 0),
    ],
)
def test_instant_of_six_in_the_evening_over_clock_changes(
    zone: str, day: date, hour: int, minute: int
) -> None:
    assert instant(day, time(18), zone) == datetime(
        day.year, day.month, day.day, hour, minute, tzinfo=UTC
    )


def test_training_day_of_a_set_after_midnight_is_the_evening_before() -> None:
    late = datetime(2026, 12, 1, 23, 45, tzinfo=UTC)  # 00:45 on the 2nd in Oslo
    early = datetime(2026, 12, 2, 3, 0, tzinfo=UTC)  # 04:00, a new day
    assert training_day(late, "Europe/Oslo") == date(2026, 12, 1)
    assert training_day(early, "Europe/Oslo") == date(2026, 12, 2)
