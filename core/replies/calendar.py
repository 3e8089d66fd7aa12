"""Relative days and clock times, from the moment of a reply in the athlete's zone."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from core.facts import WEEKDAYS, Weekday
from core.replies.node import DaySaid
from core.replies.token import Token

NO_CLOCK = ("a time of day from 0:00 to 23:59",)
"""What is expected where ``clock_of`` finds no time of day."""

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_WEEK = timedelta(weeks=1)
_LEAP_YEARS_APART = 8
"""No eight years in a row, 1900 and its kind included, are without a 29 February."""


def local_moment(at: datetime, zone: str) -> datetime:
    """The moment on the athlete's wall clock, naive."""
    return at.astimezone(ZoneInfo(zone)).replace(tzinfo=None)


def weekday_of(token: Token) -> Weekday:
    """The weekday that a WEEKDAY token names."""
    return next(day for day in WEEKDAYS if token.text.startswith(day))


def clock_of(token: Token) -> time | None:
    """The time of day of a CLOCK token; None for one that no clock shows."""
    hours, _, minutes = token.text.partition(":")
    try:
        return time(int(hours), int(minutes))
    except ValueError:
        return None


def written(clock: time) -> str:
    """The time of day as "HH:MM"."""
    return clock.isoformat("minutes")


def day_from(
    said: DaySaid, now: datetime, *, clock: time | None, past: bool = False
) -> date | None:
    """The date that a day names; None where there is no such date.

    Args:
        said: The words.
        now: The moment on the athlete's wall clock, naive.
        clock: The time of day wanted on that day, if one was said.
        past: True to look back: the last such weekday or date, today included.
    """
    today = now.date()
    first = said.tokens[0]
    match first.type:
        case "TODAY" | "TONIGHT":
            return today
        case "TOMORROW":
            return today + timedelta(days=1)
        case "YESTERDAY":
            return today - timedelta(days=1)
        case "WEEKDAY":
            return _weekday(weekday_of(first), now, clock=clock, past=past)
        case "DATE":
            return _iso_date(first.text)
        case _:
            return _day_of_month(said, today, past=past)


def _weekday(day: Weekday, now: datetime, *, clock: time | None, past: bool) -> date:
    today = now.date()
    ahead = timedelta(days=(WEEKDAYS.index(day) - today.weekday()) % len(WEEKDAYS))
    if past:
        return today + ahead - (_WEEK if ahead else timedelta())
    if not ahead and clock is not None and clock <= now.time():
        return today + _WEEK
    return today + ahead


def _iso_date(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _day_of_month(said: DaySaid, today: date, *, past: bool) -> date | None:
    """The next such date from today on, or the last one up to today."""
    month = next(t for t in said.tokens if t.type == "MONTH")
    number = next(t for t in said.tokens if t.type == "NUMBER").number
    if number != number.to_integral_value() or not 0 < number < 32:
        return None
    for years in range(_LEAP_YEARS_APART + 1):
        try:
            day = date(
                today.year + (-years if past else years),
                _MONTHS.index(month.text[:3]) + 1,
                int(number),
            )
        except ValueError:
            continue
        if day <= today if past else day >= today:
            return day
    return None
