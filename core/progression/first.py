"""The first target of a line of progress: a stated start, or a ramp from a careful load."""

from decimal import ROUND_FLOOR, Decimal

from core.kit.help import BodyLoads
from core.progression.case import Case
from core.target import Reason, because

START_FRAC = Decimal("0.25")
"""First load over body weight. [-] House rule: low on purpose, the ramp finds the level."""

WIDE_START_FRAC = Decimal("0.125")
"""The same for pinches and the rolling handle, where the thumb sets the limit. [-] House rule."""

WIDE_GRIPS = frozenset({"wide-pinch", "narrow-pinch", "rolling-handle"})

START_KG = Decimal(10)
"""First load while body weight is not known. [kg] House rule."""

SEARCH_FRAC = Decimal("0.5")
"""Part of a load from which the level is looked for again. [-] House rule."""

GUESS_STEP_KG = Decimal("0.5")
"""While no plate is known, a first load is a multiple of this. [kg] House rule."""


def stated_start_kg(case: Case) -> Decimal | None:
    """The start load stated last for the exercise and side, None without one. [kg]"""
    side = case.stream.side
    for start in reversed(case.athlete.starts):
        if start.exercise == case.exercise.slug and (
            start.side in (side, "both") or side == "both"
        ):
            return start.load_kg
    return None


def first_from_floor(case: Case) -> tuple[Decimal, Reason]:
    """The first load lifted from the floor, before plates are chosen, and why. [kg]"""
    stated = stated_start_kg(case)
    if stated is not None:
        return stated, because("start-stated", load_kg=stated)
    body_kg, is_wide = case.athlete.body_kg, case.exercise.slug in WIDE_GRIPS
    if body_kg is None:
        start_kg = START_KG / 2 if is_wide else START_KG
        return start_kg, because("ramp", load_kg=start_kg)
    wanted_kg = body_kg * (WIDE_START_FRAC if is_wide else START_FRAC)
    start_kg = (wanted_kg / GUESS_STEP_KG).to_integral_value(ROUND_FLOOR) * GUESS_STEP_KG
    part = "an eighth" if is_wide else "a quarter"
    return start_kg, because("ramp", load_kg=start_kg, body_kg=body_kg, part=part)


def first_on_body(case: Case, choices: BodyLoads) -> tuple[Decimal, Reason]:
    """The first load on the body, and why: help of one band or pulley, else none. [kg]"""
    stated = stated_start_kg(case)
    if stated is not None:
        return stated, because("start-stated", load_kg=stated)
    begun = choices.start_kg
    start = Decimal(0) if begun is None else min(begun, Decimal(0))
    return start, because("ramp-help" if start < 0 else "body-first", load_kg=start)
