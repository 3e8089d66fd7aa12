"""What the body and the kit allow: pain, age, illness and an easier week, as far as they change
a day's finger work. The rules themselves are those of the targets."""

from datetime import date

from core.athlete import Athlete
from core.catalogue import catalogue, get_exercise
from core.progression.deload import deload_on
from core.progression.illness import back_from_illness
from core.progression.pain import FREE_SESSIONS, pain_stop
from core.progression.soreness import pains_of
from core.progression.tissue import FINGERS, trained_days
from core.progression.youth import ALONE, YOUNGEST
from core.target import Reason, because

_ANY_GRIP = "half-crimp"
"""Stands for the finger block where the rules ask for an exercise: its tissue is what counts."""


def finger_days(athlete: Athlete) -> tuple[date, ...]:
    """Training days with a logged finger exercise, oldest first."""
    return trained_days(athlete, get_exercise(_ANY_GRIP))


def hurt_days(athlete: Athlete, *, since: date, today: date) -> tuple[date, ...]:
    """Days from that one on on which fingers hurt, oldest first."""
    return tuple(p.day for p in pains_of(athlete, FINGERS, today) if p.day >= since)


def can_load_fingers(athlete: Athlete) -> bool:
    """True when the kit, a start load or the record allows any exercise of the finger block."""
    kit = athlete.kit
    if athlete.trip is not None:
        return bool(kit.plates) or (bool(kit.edges_mm) and kit.bar_limit_kg != 0)
    if kit.plates or kit.edges_mm or finger_days(athlete):
        return True
    slugs = {start.exercise for start in athlete.starts}
    return any(e.slug in slugs for e in catalogue().exercises if e.block == "fingers")


def fingers_stopped(athlete: Athlete, day: date) -> Reason | None:
    """Why the body allows no finger work on that day, None if it does."""
    if athlete.age is not None and athlete.age < ALONE:
        rule = "fingers-under-age" if athlete.age < YOUNGEST else "fingers-need-coach"
        return because(rule, age=athlete.age)
    return pain_stop(athlete, FINGERS, day)


def fingers_eased(athlete: Athlete, day: date) -> Reason | None:
    """Why finger work is lighter than usual on that day, None if it is not."""
    deload = deload_on(athlete, day)
    if deload is not None:
        return because("easier-week", since=deload.since, until=deload.until, cause=deload.cause)
    pains = pains_of(athlete, FINGERS, day)
    if not pains:
        return None
    last = pains[-1]
    since = last.cleared or last.day
    free = [d for d in finger_days(athlete) if since < d < day]
    return because("fingers-sore", day=last.day) if len(free) < FREE_SESSIONS else None


def back_since(athlete: Athlete, day: date) -> date | None:
    """The day back from the last illness, if fingers were not trained since; else None."""
    return back_from_illness(athlete, get_exercise(_ANY_GRIP), day)
