"""How much training the last weeks held: session load, monotony, strain and weighted means.

All of it describes what was done. Nothing here says what a body can bear: the ratio of a
short to a long weighted mean was once read as a forecast of injury, and is not offered.
Contrived long loads do nearly as well as real ones, and neither tells who gets hurt
(impellizzeri_2020).

Start with ``training_load``. What a day's load is made of stands in ``exertion``.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import fmean, stdev

from core.athlete import Athlete
from core.errors import OutOfRange
from core.review.diary import Diary
from core.review.exertion import Exertion, exertions

WEEK_DAYS = 7
"""Days of a week, and of the short weighted mean. [d]"""

MONTH_DAYS = 28
"""Days of the long weighted mean. [d]"""


@dataclass(frozen=True, slots=True)
class Tally:
    """What the load of some days rests on, and what is missing in it.

    Attributes:
        counted: Evenings at home and visits to the wall that count.
        walls_left_out: Visits that do not: minutes or RPE were not said.
        evenings_left_out: Evenings at home that do not: no set said how it went.
        evenings_assumed: Evenings that count with the planned minutes, not with their own.
    """

    counted: int
    walls_left_out: int
    evenings_left_out: int
    evenings_assumed: int


@dataclass(frozen=True, slots=True)
class TrainingLoad:
    """What the last days held. Loads in RPE x minutes.

    Attributes:
        week: Load of the last seven days, the day asked about included.
        week_before: Load of the seven days before; None where the record is younger.
        monotony: Of the last seven days; None where all of them are alike, or too few.
        strain: Of the last seven days; None where monotony is.
        short_mean, long_mean: Weighted mean of the daily loads over 7 and over 28 days; None
            while the record has fewer. Per day.
        fortnight, month: What the loads of the last 14 and 28 days rest on.
    """

    week: float
    week_before: float | None
    monotony: float | None
    strain: float | None
    short_mean: float | None
    long_mean: float | None
    fortnight: Tally
    month: Tally


def training_load(athlete: Athlete, diary: Diary, *, today: date) -> TrainingLoad | None:
    """The load of the days up to today; None where no session counts yet."""
    done = exertions(athlete, diary, today=today)
    counted = [one for one in done if one.load is not None]
    if not counted:
        return None
    loads = daily_loads(done, since=counted[0].day, until=today)
    days = len(loads)
    week = loads[-WEEK_DAYS:]
    full = days >= WEEK_DAYS
    return TrainingLoad(
        week=sum(week),
        week_before=sum(loads[-2 * WEEK_DAYS : -WEEK_DAYS]) if days >= 2 * WEEK_DAYS else None,
        monotony=monotony(week) if full else None,
        strain=strain(week) if full else None,
        short_mean=weighted_mean(loads, days=WEEK_DAYS) if full else None,
        long_mean=weighted_mean(loads, days=MONTH_DAYS) if days >= MONTH_DAYS else None,
        fortnight=_tally(done, since=today - timedelta(days=2 * WEEK_DAYS - 1)),
        month=_tally(done, since=today - timedelta(days=MONTH_DAYS - 1)),
    )


def _tally(done: Sequence[Exertion], *, since: date) -> Tally:
    lately = [one for one in done if one.day >= since]
    counted = [one for one in lately if one.load is not None]
    without = [one.place for one in lately if one.load is None]
    return Tally(
        counted=len(counted),
        walls_left_out=without.count("wall"),
        evenings_left_out=without.count("home"),
        evenings_assumed=sum(not one.is_timed for one in counted),
    )


def daily_loads(done: Sequence[Exertion], *, since: date, until: date) -> tuple[float, ...]:
    """The load of each day, oldest first, no day left out; 0 on days of rest.

    What does not count, since its load is not known, adds nothing.
    """
    loads = [0.0] * ((until - since).days + 1)
    for one in done:
        if one.load is not None and since <= one.day <= until:
            loads[(one.day - since).days] += one.load
    return tuple(loads)


def monotony(loads: Sequence[float]) -> float | None:
    """How alike the days are: their mean by their standard deviation.

    Args:
        loads: One per day, days of rest as 0. >= 0

    Returns:
        > 0; None where all days are alike, the standard deviation being 0, or fewer than two.

    Validity: Seven days.
    Source: foster_1998.
    Ours: The standard deviation of a sample (n - 1), as none is named; no threshold.
    """
    if len(loads) < 2:
        return None
    spread = stdev(loads)
    return fmean(loads) / spread if spread > 0 else None


def strain(loads: Sequence[float]) -> float | None:
    """The load of the days times their monotony; None where that is not known.

    Args:
        loads: One per day, days of rest as 0. >= 0

    Validity: Seven days.
    Source: foster_1998.
    Ours: nothing.
    """
    alike = monotony(loads)
    return None if alike is None else sum(loads) * alike


def weighted_mean(loads: Sequence[float], *, days: int) -> float:
    """The mean of daily loads in which each day weighs less than the next.

    Args:
        loads: One per day, oldest first, days of rest as 0. At least one.
        days: The time over which it fades. [d], >= 1

    Raises:
        OutOfRange: There are no loads, or no days.

    Validity: From about as many loads as ``days`` on; before that the first one weighs much.
    Source: williams_2017, today's load x 2/(days + 1) + the rest x yesterday's mean.
    Ours: Beginning with the first day's load.
    """
    if not loads or days < 1:
        raise OutOfRange("loads, days", (len(loads), days), "at least one of each")
    part = 2 / (days + 1)
    mean = loads[0]
    for load in loads[1:]:
        mean = part * load + (1 - part) * mean
    return mean
