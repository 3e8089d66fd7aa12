"""When evenings were planned, begun and logged, and when nothing was: read off the record.

``core.athlete`` knows how things stand now; a review asks how they stood on a day of the past.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from core.athlete import Plan, plan_after
from core.facts import (
    CameBack,
    Entry,
    EveningsPlanned,
    EveningStarted,
    Logged,
    Paused,
    Undone,
    WallDaysPlanned,
    counting,
)

_DAY = timedelta(days=1)
_ALWAYS = datetime.min.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class PlanSince:
    """A plan, and the moment from which it held. Aware, UTC."""

    at: datetime
    plan: Plan


@dataclass(frozen=True, slots=True)
class TimeOff:
    """A pause, a trip or an illness: its first and last day; None while it has no end."""

    first: date
    last: date | None

    def covers(self, day: date) -> bool:
        """Whether the day lies in it."""
        return self.first <= day and (self.last is None or day <= self.last)


@dataclass(frozen=True, slots=True)
class Spell:
    """How long a day's training took: from "start" to the last log written that evening.

    Attributes:
        day: Training day.
        begun: When "start" was said; None where it was not. Aware, UTC.
        logged: When the last log of the day was written. Aware, UTC.
    """

    day: date
    begun: datetime | None
    logged: datetime


@dataclass(frozen=True, slots=True)
class Diary:
    """What a review must know of past days.

    Attributes:
        plans: Every plan there was, oldest first, beginning with the one before any was said.
        times_off: Oldest first. The day of coming back is still part of one.
        spells: One per training day with a log written on it, oldest first.
    """

    plans: tuple[PlanSince, ...]
    times_off: tuple[TimeOff, ...]
    spells: tuple[Spell, ...]

    def plan_at(self, moment: datetime) -> Plan:
        """The plan that held at that moment."""
        return next(since.plan for since in reversed(self.plans) if since.at <= moment)

    def is_off(self, day: date) -> bool:
        """Whether the day lies in a pause, a trip or an illness."""
        return any(off.covers(day) for off in self.times_off)


def diary_of(entries: tuple[Entry, ...], *, minutes: int) -> Diary:
    """The diary of a record, undone entries left out.

    Args:
        entries: Everything that was noted.
        minutes: How long an evening is until the athlete says so: the programme's. [min]
    """
    plans = [PlanSince(_ALWAYS, Plan(minutes=minutes))]
    times_off: list[TimeOff] = []
    begun: dict[date, datetime] = {}
    counted = counting(entries)
    for entry in counted:
        match entry.fact:
            case EveningsPlanned() | WallDaysPlanned() as change:
                plans.append(PlanSince(entry.at, plan_after(plans[-1].plan, change)))
            case Paused(until):
                _end(times_off, entry.day - _DAY)
                times_off.append(TimeOff(entry.day, until and until - _DAY))
            case CameBack():
                _end(times_off, entry.day)
            case EveningStarted():
                begun.setdefault(entry.day, entry.at)
    logged = _written(entries, frozenset(e.day for e in counted if isinstance(e.fact, Logged)))
    spells = tuple(Spell(day, begun.get(day), at) for day, at in sorted(logged.items()))
    return Diary(tuple(plans), tuple(times_off), spells)


def _end(times_off: list[TimeOff], last: date) -> None:
    """End the time off that still runs, if one does."""
    if times_off and times_off[-1].covers(last + _DAY):
        times_off[-1] = TimeOff(times_off[-1].first, last)


def _written(entries: tuple[Entry, ...], days: frozenset[date]) -> dict[date, datetime]:
    """When the last log of each of those days was written.

    A correction is written after the evening: the log that it corrects says when that was.
    """
    fixes = frozenset(e.reply for e in entries if isinstance(e.fact, Undone) and e.fact.by == "fix")
    written: dict[date, datetime] = {}
    for entry in entries:
        if isinstance(entry.fact, Logged) and entry.day in days and entry.reply not in fixes:
            written[entry.day] = max(entry.at, written.get(entry.day, entry.at))
    return written
