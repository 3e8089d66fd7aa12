"""What the muscles carry: the load from the floor, or body weight and the load on the body."""

from datetime import date
from decimal import Decimal
from typing import Protocol

from core.catalogue import Exercise, HoldRange, RepRange
from core.facts import SetDone
from core.quantity import ZERO_KG


class Weighed(Protocol):
    """Who was weighed: an athlete, or what is known of one."""

    @property
    def body_kg(self) -> Decimal | None:
        """The last body weight. [kg]"""
        ...

    @property
    def weighed(self) -> tuple[tuple[date, Decimal], ...]:
        """(day, body weight) as it was said, oldest first. [kg]"""
        ...


def body_kg_on(athlete: Weighed, day: date) -> Decimal | None:
    """Body weight on that day: the last one said by then, else the first one said later. [kg]"""
    if not athlete.weighed:
        return athlete.body_kg
    for on, kg in reversed(athlete.weighed):
        if on <= day:
            return kg
    return athlete.weighed[0][1]


def net_kg(
    exercise: Exercise, load_kg: Decimal | None, *, body_kg: Decimal | None
) -> Decimal | None:
    """What the muscles carry at that load. [kg]

    Args:
        exercise: Catalogue entry.
        load_kg: Total from the floor, or load on the body, negative for help. [kg]
        body_kg: Body weight. [kg]

    Returns:
        The load from the floor itself; on the body, body weight x share + load. None where no
        load is meant or it cannot be known.

    Source: net load = body weight x share + added - help, by definition.
    Ours: The share of body weight, which the catalogue states.
    """
    if load_kg is None or exercise.from_floor:
        return load_kg if exercise.from_floor else None
    dose = exercise.dose
    if not isinstance(dose, RepRange | HoldRange) or dose.share == 0 or body_kg is None:
        return None
    return body_kg * Decimal(str(dose.share)) + load_kg


def load_of(exercise: Exercise, done: SetDone) -> Decimal | None:
    """The load of a set: as said; on the body without a word of load or band, none added. [kg]

    None where a band helped by an unknown amount, or nothing was said of a lift from the floor.
    """
    if done.load_kg is not None or exercise.from_floor:
        return done.load_kg
    return ZERO_KG if done.band is None else None
