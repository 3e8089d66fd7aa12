"""Which one thing would help an athlete most: the record put to ``core.kit.purchase``."""

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from core.athlete import Athlete
from core.catalogue import Exercise, HoldRange, RepRange, get_exercise
from core.history import Session, edge_in_use, logs_by_exercise, sides_of, stream_of
from core.kit.purchase import Purchase, Wish, best_purchase
from core.progression.span import load_of
from core.strength import trusted

IN_USE = timedelta(days=28)
"""An exercise done within so long is in use. House rule."""

USUAL_EVENINGS = 2
"""Evenings a week while none are planned. House rule."""


def next_purchase(athlete: Athlete, *, today: date) -> Purchase | None:
    """The one pair of plates or band to buy next, None where none is worth it.

    Args:
        athlete: Whose.
        today: The training day.
    """
    # Hands at the same load wish for the same; once is enough.
    wishes = tuple(dict.fromkeys(_wishes(athlete, today)))
    evenings = len(athlete.plan.days) or USUAL_EVENINGS
    return best_purchase(athlete.kit, wishes, evenings=evenings, unit=athlete.units)


def _wishes(athlete: Athlete, today: date) -> Iterator[Wish]:
    for slug in logs_by_exercise(athlete):
        exercise = get_exercise(slug)
        if not _is_loaded(exercise):
            continue
        body_kg = None if exercise.from_floor else athlete.body_kg
        for side in sides_of(slug):
            edge_mm = edge_in_use(athlete, slug, side=side)
            line = stream_of(athlete, slug, side=side, edge_mm=edge_mm)
            sessions = trusted(athlete, line).sessions
            if not sessions or sessions[-1].day < today - IN_USE:
                continue
            load_kg = _top_kg(sessions[-1], athlete)
            if load_kg is not None and _is_known(athlete, exercise, load_kg):
                yield Wish(slug, load_kg, body_kg)


def _is_loaded(exercise: Exercise) -> bool:
    dose = exercise.dose
    return exercise.from_floor or (isinstance(dose, RepRange | HoldRange) and dose.share > 0)


def _top_kg(session: Session, athlete: Athlete) -> Decimal | None:
    """The heaviest load of a session; a band counts as what it takes off. [kg]"""
    loads = (load_of(done, athlete.kit) for done in session.sets)
    return max((kg for kg in loads if kg is not None), default=None)


def _is_known(athlete: Athlete, exercise: Exercise, load_kg: Decimal) -> bool:
    """Whether the kit that made the load was told: of the unknown nothing can be missing."""
    kit = athlete.kit
    if exercise.from_floor:
        return bool(kit.plates) and load_kg > 0
    if athlete.body_kg is None:
        return False
    if load_kg < 0:
        return bool(kit.bands) or kit.pulley is not None
    return bool(kit.plates) or load_kg == 0
