"""Relative days in the athlete's zone."""

from datetime import UTC, date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.facts import WEEKDAYS
from core.replies import read
from core.replies.act import Move, ReplyContext, Wall
from core.replies.calendar import day_from, local_moment
from core.replies.node import DaySaid
from core.replies.token import Token

# Wall-clock moments have no zone of their own.
MOMENTS = st.datetimes(datetime.fromisoformat("2020-01-01"), datetime.fromisoformat("2040-01-01"))


def context_at(moment, zone):
    return ReplyContext(units="kg", at=moment, zone=zone)


def test_read_today_is_the_day_of_the_athletes_zone():
    # 23:30 UTC on 30 November is 00:30 on 1 December in Oslo (UTC+1 in winter), 15:30 in
    # Los Angeles (UTC-8) and 12:30 on 1 December in Auckland (UTC+13 in summer).
    moment = datetime(2026, 11, 30, 23, 30, tzinfo=UTC)
    days = {"Europe/Oslo": 1, "America/Los_Angeles": 30, "Pacific/Auckland": 1}
    for zone, day in days.items():
        (wall,) = read("wall tonight", context_at(moment, zone)).acts
        assert isinstance(wall, Wall)
        assert wall.when.day == day


def test_read_clock_change_moves_no_evening():
    # Oslo leaves summer time on 25 October 2026: 20:30 stays 20:30 on the wall clock.
    (move,) = read(
        "move tomorrow 20:30", context_at(datetime(2026, 10, 24, 12, tzinfo=UTC), "Europe/Oslo")
    ).acts
    assert move == Move(datetime.fromisoformat("2026-10-25T20:30"))


def test_local_moment_is_wall_clock_time():
    moment = local_moment(datetime(2026, 12, 1, 17, tzinfo=UTC), "Europe/Oslo")
    assert moment == datetime.fromisoformat("2026-12-01T18:00")


@given(
    now=MOMENTS,
    weekday=st.sampled_from(WEEKDAYS),
    clock=st.none() | st.times(),
)
def test_day_from_weekday_is_the_next_one_that_is_still_ahead(now, weekday, clock):
    said = DaySaid((Token("WEEKDAY", weekday, 0, 3),), 0, 3)
    day = day_from(said, now, clock=clock)
    assert WEEKDAYS[day.weekday()] == weekday
    assert 0 <= (day - now.date()).days <= 7
    assert datetime.combine(day, clock or time.max) > now
    # No earlier such weekday would do.
    assert (day - now.date()).days < 7 or (clock is not None and clock <= now.time())


@given(
    now=MOMENTS,
    weekday=st.sampled_from(WEEKDAYS),
)
def test_day_from_past_weekday_is_within_the_last_week(now, weekday):
    said = DaySaid((Token("WEEKDAY", weekday, 0, 3),), 0, 3)
    day = day_from(said, now, clock=None, past=True)
    assert WEEKDAYS[day.weekday()] == weekday
    assert 0 <= (now.date() - day).days < 7


@pytest.mark.parametrize(
    ("text", "until"),
    [
        ("away until 2 dec", date(2026, 12, 2)),
        ("away until 1 jan", date(2027, 1, 1)),
        # The next 29 February after 1 December 2026 is in 2028.
        ("away until 29 feb", date(2028, 2, 29)),
        ("away until dec 14", date(2026, 12, 14)),
        ("away until 2026-12-14", date(2026, 12, 14)),
        ("away until sunday", date(2026, 12, 6)),
        ("away 10 days", date(2026, 12, 11)),
    ],
)
def test_read_away_until_gives_the_next_such_day(context, text, until):
    assert read(text, context).acts[0].until == until
