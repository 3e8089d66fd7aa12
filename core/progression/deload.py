"""Easier weeks: asked for, planned by the programme, or called for by two steps down in a week.

All three are read off the record, so a week is easier whenever it is looked at.
"""

from bisect import bisect_left
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

from core.athlete import Athlete
from core.derived import folded, once
from core.history import with_days
from core.progression.step_down import steps_down

Cause = Literal["asked", "planned", "two-downs"]

DELOAD_DAYS = 7
"""Days that a deload lasts, its first included. House rule in the sense of rogerson_2024."""

DOWNS = 2
"""So many steps down within a week call for an easier one. House rule."""

DAYS_OFF = 7
"""So many days without training begin the count of weeks anew. [days] House rule."""

WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Deload:
    """An easier week: its first and last day, and what called for it."""

    since: date
    until: date
    cause: Cause


def deload_on(athlete: Athlete, day: date) -> Deload | None:
    """The easier week that covers the day, the one begun last where two do, else None.

    A planned one is the calendar week after so many in which there was training at home (four
    by the default programme), as long as a week off has not come between. What comes after the
    day does not matter.
    """
    run = _run(athlete)
    covering = [d for d in run.deloads if d.since <= day <= d.until]
    if covering:
        return max(covering, key=lambda d: d.since)
    last = run.last
    due = (
        len(run.weeks) == athlete.programme.deload_week - 1 and _monday(day) == run.weeks[-1] + WEEK
    )
    if not due or last is None or _is_off(last, day):
        return None
    return _planned(day)


def eased_days(athlete: Athlete) -> frozenset[date]:
    """The training days that lie in an easier week.

    The day on which one was asked for is not among them: it may have begun as usual.
    """

    def days() -> frozenset[date]:
        home = _home_days(athlete)
        eased: set[date] = set()
        for deload in _run(athlete).deloads:
            first = deload.since + timedelta(days=1) if deload.cause == "asked" else deload.since
            after = deload.until + timedelta(days=1)
            eased.update(home[bisect_left(home, first) : bisect_left(home, after)])
        return frozenset(eased)

    return once(athlete, "eased days", days)


@dataclass(frozen=True, slots=True)
class _Run:
    """The easier weeks of a record, and where it stands after its last training day.

    Attributes:
        deloads: In the order in which they were called for, those asked for first.
        weeks: Mondays of the weeks of training that count towards the next one.
        downs: Days with steps down that count towards one, a day once for each.
        last: The last training day, None where there is none.
    """

    deloads: tuple[Deload, ...]
    weeks: tuple[date, ...]
    downs: tuple[date, ...]
    last: date | None


def _run(athlete: Athlete) -> _Run:
    return once(athlete, "run of weeks", lambda: _counted(athlete))


def _counted(athlete: Athlete) -> _Run:
    downs = steps_down(athlete)
    asked = tuple(_week_from(day, "asked") for day in sorted(athlete.deloads))
    week = athlete.programme.deload_week
    run = folded(
        athlete,
        "run of weeks",
        tuple([(day, downs.get(day, 0)) for day in _home_days(athlete)]),
        lambda run, days: _gone_on(run, days, deload_week=week),
        begin=_Run(asked, (), (), None),
        given=(asked, week),
    )
    return replace(run, deloads=tuple(sorted(run.deloads, key=lambda d: d.since)))


def _gone_on(run: _Run, days: tuple[tuple[date, int], ...], *, deload_week: int) -> _Run:
    """The run once these days of training, with their steps down, are added to it."""
    found, weeks, down_days, last = list(run.deloads), list(run.weeks), list(run.downs), run.last
    for day, downs in days:
        if last is not None and (_is_off(last, day) or _deload_between(found, last, day)):
            weeks = []
        last = day
        if any(d.since <= day <= d.until for d in found):
            weeks, down_days = [], []
            continue
        monday = _monday(day)
        if len(weeks) == deload_week - 1 and monday != weeks[-1]:
            found.append(_planned(day))
            weeks, down_days = [], []
            continue
        if not weeks or weeks[-1] != monday:
            weeks.append(monday)
        down_days = [d for d in down_days if day - d < WEEK] + [day] * downs
        if len(down_days) >= DOWNS:
            found.append(_week_from(day + timedelta(days=1), "two-downs"))
    return _Run(tuple(found), tuple(weeks), tuple(down_days), last)


def _home_days(athlete: Athlete) -> tuple[date, ...]:
    """The days of training at home, oldest first."""
    return once(
        athlete,
        "home days",
        lambda: folded(athlete, "home days", athlete.logs, with_days, begin=()),
    )


def _is_off(last: date, day: date) -> bool:
    """Whether a week or more lay free between two days."""
    return (day - last).days > DAYS_OFF


def _deload_between(deloads: list[Deload], last: date, day: date) -> bool:
    return any(last < d.since < day for d in deloads)


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _planned(day: date) -> Deload:
    return _week_from(_monday(day), "planned")


def _week_from(day: date, cause: Cause) -> Deload:
    return Deload(day, day + timedelta(days=DELOAD_DAYS - 1), cause)
