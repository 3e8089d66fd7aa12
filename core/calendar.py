"""Days and local times of one athlete. Instants are aware UTC; local dates and times stay local."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from core.facts import WEEKDAYS, Weekday

DAY_STARTS_AT_H = 4
"""Local hour at which a training day begins: a set logged at 00:30 belongs to the evening before.
House rule."""


def training_day(now: datetime, zone: str) -> date:
    """The training day of that moment in that zone."""
    return (now.astimezone(ZoneInfo(zone)) - timedelta(hours=DAY_STARTS_AT_H)).date()


def instant(day: date, at: time, zone: str) -> datetime:
    """The moment of a local date and time, as aware UTC.

    A time that occurs twice means its first occurrence; a time that does not occur
    is read with the offset from before the gap.

    Source: RFC 5545, section 3.3.5 (form 3, local time with time zone reference).
    """
    return datetime.combine(day, at, tzinfo=ZoneInfo(zone)).astimezone(UTC)


def local(now: datetime, zone: str) -> datetime:
    """The moment on that zone's wall clock. Aware."""
    return now.astimezone(ZoneInfo(zone))


def clock_time(text: str) -> time:
    """The time of "HH:MM". "24:00" is read as midnight.

    Raises:
        ValueError: The text is not a time of day.
    """
    hours, _, minutes = text.partition(":")
    return time(int(hours) % 24, int(minutes))


def weekday(day: date) -> Weekday:
    """The day's name in three letters."""
    return WEEKDAYS[day.weekday()]
