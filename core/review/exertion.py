"""What one evening or one visit to the wall weighs: how hard it was, times how long it took."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from typing import Literal

from core.athlete import Athlete, DatedLog
from core.errors import OutOfRange
from core.facts import Effort
from core.physiology.effort import HARDEST_RPE, reserve
from core.review.diary import Diary, Spell

SHORTEST = timedelta(minutes=10)
LONGEST = timedelta(hours=3)
"""An evening that took less or more was not typed as it was done: planned minutes count.
House rule."""

HALF = Decimal("0.5")

Place = Literal["home", "wall"]


@dataclass(frozen=True, slots=True)
class Exertion:
    """One evening at home, or one visit to the wall.

    Attributes:
        day: Training day.
        place: Where.
        minutes: How long it took; None where nobody said. [min]
        rpe: How hard all of it was; None where nothing says so. [-], 1 to 10
        is_timed: True where the minutes were measured or told, not taken from the plan.
    """

    day: date
    place: Place
    minutes: int | None
    rpe: Decimal | None
    is_timed: bool

    @property
    def load(self) -> float | None:
        """Session load [RPE x min]; None where minutes or RPE are not known."""
        if self.minutes is None or self.rpe is None:
            return None
        return session_load(self.rpe, minutes=self.minutes)


def session_load(rpe: Decimal, *, minutes: int) -> float:
    """The load of a session: how hard it was, times how long it took. [RPE x min]

    Args:
        rpe: Rating of the whole session. [-], 0 to 10
        minutes: Its time. [min], >= 0

    Raises:
        OutOfRange: One of them breaks its interval.

    Validity: Compares the sessions of one person.
    Source: foster_2001.
    Ours: nothing.

    Example:
        >>> session_load(Decimal(7), minutes=60)
        420.0
    """
    if not 0 <= rpe <= HARDEST_RPE or minutes < 0:
        raise OutOfRange("rpe, minutes", (rpe, minutes), "0 to 10, >= 0")
    return float(rpe * minutes)


def session_rpe(logs: Iterable[DatedLog]) -> Decimal | None:
    """How hard an evening was, by its sets: the mean of the hardest set of each exercise.

    In halves; None where no set says how it went.

    Validity: To compare evenings at home. People rate a whole session below its hardest sets,
        so it stands a little high beside what is told of the wall.
    Source: zourdos_2016 for a set's rating by what was left.
    Ours: All of the rest, since nobody is asked to rate the evening. An exercise counts with
        its hardest set, "easy" as 7, ok 8, hard 9, limit and fail 10.
    """
    hardest: dict[str, Decimal] = {}
    for dated in logs:
        slug = dated.log.exercise
        # Most sets of a log went alike.
        for said in {(done.effort, done.rpe, done.left) for done in dated.log.sets}:
            rpe = _set_rpe(*said)
            if rpe is not None:
                hardest[slug] = max(rpe, hardest.get(slug, rpe))
    if not hardest:
        return None
    mean = sum(hardest.values(), Decimal(0)) / len(hardest)
    return (mean / HALF).quantize(Decimal(1), ROUND_HALF_UP) * HALF


@lru_cache(maxsize=256)
def _set_rpe(effort: Effort | None, rpe: Decimal | None, left: int | None) -> Decimal | None:
    """A set's rating: as it was said, or from what was left; the harder of both."""
    reserved = reserve(effort, left=left)
    told = [] if rpe is None else [rpe]
    if reserved is not None:
        told.append(HARDEST_RPE - reserved)
    return max(told, default=None)


def exertions(athlete: Athlete, diary: Diary, *, today: date) -> tuple[Exertion, ...]:
    """Every evening at home and every visit to the wall up to today, oldest first."""
    by_day: dict[date, list[DatedLog]] = {}
    for dated in athlete.logs:
        by_day.setdefault(dated.day, []).append(dated)
    limits = {day: minutes for day, minutes, _ in athlete.limited}
    spells = {spell.day: spell for spell in diary.spells}
    done = [
        _evening(day, logs, spells.get(day), diary, limits.get(day))
        for day, logs in by_day.items()
        if day <= today
    ]
    done += [
        Exertion(wall.on, "wall", wall.minutes, wall.rpe, is_timed=True)
        for wall in athlete.walls
        if wall.on <= today
    ]
    return tuple(sorted(done, key=lambda one: one.day))


def _evening(
    day: date, logs: list[DatedLog], spell: Spell | None, diary: Diary, limit: int | None
) -> Exertion:
    """An evening, timed from "start" to the last log; else the minutes it was planned for."""
    rpe = session_rpe(logs)
    if spell is not None and spell.begun is not None:
        took = spell.logged - spell.begun
        if SHORTEST <= took <= LONGEST:
            return Exertion(day, "home", round(took.total_seconds() / 60), rpe, is_timed=True)
    planned = limit
    if planned is None and spell is not None:
        planned = diary.plan_at(spell.logged).minutes
    return Exertion(day, "home", planned, rpe, is_timed=False)
