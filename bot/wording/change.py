"""Words that confirm a change of plan or setting. Each says what holds now."""

from datetime import date, datetime
from decimal import Decimal

from bot.wording.number import listed, mass, short_day
from core.athlete import Athlete
from core.facts import Weekday
from core.quantity import Unit


def days_text(days: tuple[Weekday, ...]) -> str:
    """Days of the week: "Tue and Thu"."""
    return listed([d.capitalize() for d in days])


def evenings_line(athlete: Athlete, at: str) -> str:
    """The planned evenings as they stand."""
    plan = athlete.plan
    return f"Evenings: {days_text(plan.days)} at {at}, {plan.minutes} min."


def reminder_line(begins: datetime | None, remind_at: datetime | None) -> str:
    """When the next reminder comes; instants are local."""
    if begins is None or remind_at is None:
        return "No reminder is planned."
    return f"Next: {short_day(begins.date())} {begins:%H:%M}, reminder at {remind_at:%H:%M}."


SET = "All set. Change anything later with the same words."
FIRST_STEPS = "Type tonight to see the session, start to begin, help for more."


def bodyweight_line(kg: Decimal, unit: Unit) -> str:
    """The body weight as noted."""
    return f"Body weight {mass(kg, unit)}."


def start_line(name: str, load_kg: Decimal, unit: Unit) -> str:
    """A start load as noted."""
    return f"{name[0].upper()}{name[1:]} starts at {mass(load_kg, unit)}."


def wall_days_line(days: tuple[Weekday, ...]) -> str:
    """The days usually spent at the wall."""
    return f"Wall days: {days_text(days)}." if days else "No wall days planned any more."


def rests_line(*, is_shared: bool) -> str:
    """Whether rests are shared, and what that means."""
    if is_shared:
        return (
            "Rests shared: exercises that do not compete take turns, set by set, one while the "
            "other rests. No rest gets shorter. Back with: full rests"
        )
    return "Full rests: one exercise after the other."


def no_wall_line(on: date, today: date) -> str:
    """A day at the wall that does not take place, as noted."""
    if on < today:
        return f"No wall on {short_day(on)} after all: noted."
    return f"No wall {'today' if on == today else f'on {short_day(on)}'}, then."


def no_wall_known(on: date | None) -> str:
    """That there was no wall to call off."""
    when = "" if on is None else f" on {short_day(on)}"
    return f"I know of no wall{when}, so nothing changes."


def takes_place(on: date) -> str:
    """That an evening moved takes the place of one planned there."""
    return f"It takes the place of the one planned for {short_day(on)}; a day holds one evening."


def no_evening_on(on: date, coming: list[date]) -> str:
    """That no evening is held on that day to be moved, and which there are."""
    known = f" The next are on {listed([short_day(d) for d in coming[:2]])}." if coming else ""
    return f"No evening is planned for {short_day(on)}.{known}"


def wall_line(on: date, today: date, minutes: int | None, *, replaces: bool) -> str:
    """A wall visit as noted, and what it takes the place of where an evening is planned."""
    when = "today" if on == today else short_day(on)
    long = f", {minutes} min" if minutes else ""
    instead = " It takes the place of fingers and pulling that day." if replaces else ""
    return f"Wall {when}{long}: noted.{instead}"
