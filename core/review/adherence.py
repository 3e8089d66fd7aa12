"""Which of the planned evenings were held. A pause, and an evening at the wall, count against
nobody."""

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta

from core.athlete import Athlete
from core.calendar import weekday
from core.facts import WEEKDAYS, Weekday
from core.planning.week import HomeEvening, home_evenings
from core.review.diary import Diary


@dataclass(frozen=True, slots=True)
class Adherence:
    """Planned evenings of some days, and what became of them.

    Attributes:
        held: Days of planned evenings on which something was logged.
        missed: Days of those on which nothing was, called off or not.
        at_wall: Days of those that were days at the wall instead, told or planned.
        off: Days of those that fell into a pause, a trip or an illness.
        extra: Days with training at home on which nothing was planned.
        walls: Visits to the wall.
    """

    held: tuple[date, ...]
    missed: tuple[date, ...]
    at_wall: tuple[date, ...]
    off: tuple[date, ...]
    extra: tuple[date, ...]
    walls: int

    @property
    def planned(self) -> int:
        """Evenings that count: held or missed."""
        return len(self.held) + len(self.missed)

    def on(self, name: Weekday) -> tuple[int, int]:
        """Of the evenings on that day of the week: how many were missed, how many counted."""
        missed = sum(weekday(day) == name for day in self.missed)
        return missed, missed + sum(weekday(day) == name for day in self.held)

    @property
    def worst_day(self) -> Weekday:
        """The day of the week most often missed; of several the first."""
        return max(WEEKDAYS, key=lambda name: self.on(name)[0])


def adherence(athlete: Athlete, diary: Diary, *, since: date, today: date) -> Adherence:
    """What became of the evenings planned from one day to today, both included.

    Each evening goes by the plan that stood when it was to begin. Today's counts once it is
    held.
    """
    home = {dated.day for dated in athlete.logs if since <= dated.day <= today}
    walls = [wall.on for wall in athlete.walls if since <= wall.on <= today]
    held: list[date] = []
    missed: list[date] = []
    at_wall: list[date] = []
    off: list[date] = []
    for evening in _planned(athlete, diary, since=since, until=today):
        day = evening.day
        wall_days = diary.plan_at(evening.begins).wall_days
        if day in home:
            held.append(day)
        elif diary.is_off(day):
            off.append(day)
        elif day in walls or (weekday(day) in wall_days and day not in athlete.no_walls):
            at_wall.append(day)
        elif day < today:
            missed.append(day)
    extra = tuple(sorted(home.difference(held)))
    return Adherence(tuple(held), tuple(missed), tuple(at_wall), tuple(off), extra, len(set(walls)))


def _planned(
    athlete: Athlete, diary: Diary, *, since: date, until: date
) -> tuple[HomeEvening, ...]:
    """The evenings of those days by the plans of their time, called off or not, soonest first."""
    found: dict[date, HomeEvening] = {}
    ends = [*(then.at for then in diary.plans), datetime.max.replace(tzinfo=UTC)][1:]
    for then, end in zip(diary.plans, ends, strict=True):
        if end.date() < since - timedelta(days=1):
            continue
        planner = replace(athlete, plan=then.plan, dropped=())
        for evening in home_evenings(planner, since=since, until=until):
            if then.at <= evening.begins < end:
                found.setdefault(evening.day, evening)
    return tuple(found[day] for day in sorted(found))
