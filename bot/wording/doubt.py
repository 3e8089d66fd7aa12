"""Words for a log that looks like a slip: what was typed, what it was compared with."""

from decimal import Decimal
from math import exp

from bot.wording.number import count, mass, number, short_day, signed_mass
from core.catalogue import Exercise, get_exercise
from core.facts import SetDone
from core.quantity import GRAM_KG, Unit, in_unit, plain
from core.strength import Doubt

KEPT = "Kept as typed; it moves no load until you say yes."


def question_lines(doubt: Doubt, unit: Unit) -> list[str]:
    """The question, and what holds until it is answered."""
    exercise, found = get_exercise(doubt.exercise), doubt.found
    if found.why == "plates":
        all_kg = Decimal(str(round(exp(found.expected_log_kg), 3)))
        typed = load_text(exercise, doubt.set, unit)
        return [f"{typed}? Your pin and plates are {mass(all_kg, unit)} in all.", KEPT]
    if found.last is None:
        return [f"{load_text(exercise, doubt.set, unit)}? That is far from all before.", KEPT]
    day, last = found.last
    typed, before = (load_text(exercise, s, unit) for s in (doubt.set, last))
    if typed == before:
        # The load is as ever: it is the time or the reps that are not.
        typed, before = (f"{t} for {_work(s)}" for t, s in ((typed, doubt.set), (before, last)))
    return [f"{typed}? The last was {before}, on {short_day(day)}.", KEPT]


def load_text(exercise: Exercise, done: SetDone, unit: Unit) -> str:
    """The load of a set: "22 kg", "+5 kg"; its band where only that is known."""
    if done.load_kg is None:
        return f"the {done.band} band" if done.band else "no load"
    return mass(done.load_kg, unit) if exercise.from_floor else signed_mass(done.load_kg, unit)


def _work(done: SetDone) -> str:
    if done.hold_s is not None:
        return f"{done.hold_s} s"
    return count(done.reps or 0, "rep")


def typed_number(kg: Decimal, unit: Unit) -> str:
    """A load as the number that was typed for it."""
    return f"{plain(in_unit(kg, unit)):f}"


def typed_load(kg: Decimal) -> str:
    """A load as it is typed with its unit: in kilograms, or in pounds where those are whole."""
    if kg % GRAM_KG == 0:
        return f"{plain(kg):f}kg"
    return f"{number(in_unit(kg, 'lb'))}lb"


def yes_label(doubt: Doubt, unit: Unit) -> str:
    """The button that lets it count."""
    return f"yes, {load_text(get_exercise(doubt.exercise), doubt.set, unit)}"


def confirmed_line(doubt: Doubt, unit: Unit) -> str:
    """The answer to yes."""
    exercise = get_exercise(doubt.exercise)
    return f"It counts: {exercise.name} with {load_text(exercise, doubt.set, unit)}."
