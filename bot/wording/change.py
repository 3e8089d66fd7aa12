"""Words that confirm a change of kit, plan or setting. Each says what holds now."""

from datetime import date, datetime
from decimal import Decimal

from bot.wording.number import bare_mass, listed, mass, short_day
from core.athlete import Athlete
from core.catalogue import get_exercise
from core.facts import Weekday
from core.kit.inventory import MODEST_GRIPS, Inventory
from core.quantity import Unit


def plates_line(kit: Inventory, unit: Unit) -> str:
    """The plates owned: "plates 2x10 2x5 2x1.25 kg"."""
    if not kit.plates:
        return "no plates"
    return (
        "plates " + " ".join(f"{p.count}x{bare_mass(p.kg, unit)}" for p in kit.plates) + f" {unit}"
    )


def kit_lines(athlete: Athlete) -> list[str]:
    """Everything owned, in the words that change it."""
    kit, unit = athlete.kit, athlete.units
    grips = kit.grips if kit.grips is not None else MODEST_GRIPS
    lines = ["Your kit:", f"· {plates_line(kit, unit)}", f"· pin {mass(kit.pin_kg, unit)}"]
    if kit.pin_limit_kg is not None:
        lines.append(f"· pin limit {mass(kit.pin_limit_kg, unit)}")
    if kit.plates:
        lines.append(f"· grips {listed([get_exercise(g).name for g in grips])}")
    if kit.edges_mm:
        lines.append(f"· edges {' '.join(map(str, kit.edges_mm))} mm")
    lines.append(f"· {_bar(kit, unit)}")
    lines += [f"· {band.name} band {mass(band.help_kg, unit)}" for band in kit.bands]
    lines.append("Change any of it by typing it anew; plates + 2x0.5 adds, plates - 1x10 removes.")
    lines.append(
        "A band's help: stand on a scale with a foot in it; what the scale shows less is the help."
    )
    return lines


def _bar(kit: Inventory, unit: Unit) -> str:
    if kit.bar_limit_kg is None:
        return "bar, rating not given: check its label"
    return f"bar {mass(kit.bar_limit_kg, unit)}" if kit.bar_limit_kg else "no bar"


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


def wall_line(on: date, today: date, minutes: int | None, *, replaces: bool) -> str:
    """A wall visit as noted, and what it takes the place of where an evening is planned."""
    when = "today" if on == today else short_day(on)
    long = f", {minutes} min" if minutes else ""
    instead = " It takes the place of fingers and pulling that day." if replaces else ""
    return f"Wall {when}{long}: noted.{instead}"
