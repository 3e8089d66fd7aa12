"""Which home evenings there are, on which training day each is held, and when it begins."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from core.athlete import Athlete
from core.calendar import DAY_STARTS_AT_H, clock_time, instant, local, training_day, weekday

DEFAULT_AT = "19:00"
"""When an evening begins if days were named without a time. House rule, said in the set-up."""

UNKNOWN_ZONE = "UTC"
"""Counts days until the athlete names a zone."""

MOST_MOVED = timedelta(days=60)
"""Moved evenings are looked for among those planned up to so long before. House rule."""


@dataclass(frozen=True, slots=True)
class HomeEvening:
    """One planned evening at home.

    Attributes:
        planned: The day it was planned for; it stays the same evening when it is moved.
        day: The training day on which it is held.
        begins: Aware, UTC.
        is_moved: True when the athlete put it elsewhere.
    """

    planned: date
    day: date
    begins: datetime
    is_moved: bool


def home_evenings(athlete: Athlete, *, since: date, until: date) -> tuple[HomeEvening, ...]:
    """The evenings held from one training day to another, both included, soonest first.

    Evenings called off are left out; those that fall into a pause or on a wall day are not.
    A day holds one evening: one moved there takes the place of the one planned there.
    """
    # The newest word first: of two evenings moved to one day it is the one held.
    moved = [on for on, _ in reversed(athlete.moved) if on >= since - MOST_MOVED]
    regular = (
        day
        for ahead in range(-1, (until - since).days + 2)
        if weekday(day := since + timedelta(days=ahead)) in athlete.plan.days and day not in moved
    )
    held: dict[date, HomeEvening] = {}
    for planned in (*moved, *regular):
        evening = held_evening(athlete, planned)
        if evening is not None and since <= evening.day <= until:
            held.setdefault(evening.day, evening)
    return tuple(sorted(held.values(), key=lambda evening: evening.begins))


def held_evening(athlete: Athlete, planned: date) -> HomeEvening | None:
    """The evening planned for that day, wherever it is held; None once it is called off."""
    if planned in athlete.dropped:
        return None
    zone = zone_of(athlete)
    moved_to = next((to for on, to in reversed(athlete.moved) if on == planned), None)
    if moved_to is None:
        begins = usual_begin(athlete, planned)
    else:
        to = datetime.fromisoformat(moved_to)
        begins = instant(to.date(), to.time(), zone)
    return HomeEvening(planned, training_day(begins, zone), begins, moved_to is not None)


def usual_begin(athlete: Athlete, planned: date) -> datetime:
    """When an evening planned for that day begins, if it is not moved. Aware, UTC."""
    return instant(planned, clock_time(athlete.plan.at or DEFAULT_AT), zone_of(athlete))


def usual_begin_on(athlete: Athlete, day: date) -> datetime:
    """When an evening held on that training day usually begins. Aware, UTC.

    One at an hour before four is held on the training day that began the morning before.
    """
    late = clock_time(athlete.plan.at or DEFAULT_AT).hour < DAY_STARTS_AT_H
    return usual_begin(athlete, day + timedelta(days=1) if late else day)


def zone_of(athlete: Athlete) -> str:
    """The athlete's zone, or the one that stands in until it is known."""
    return athlete.zone or UNKNOWN_ZONE


def wall_clock(athlete: Athlete, moment: datetime) -> datetime:
    """The moment in the athlete's zone. Two of them differ by hours of the wall clock."""
    return local(moment, zone_of(athlete))
