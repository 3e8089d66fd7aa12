"""Targets for machines: the stable JSON of ``weeknight next`` and ``weeknight replay``."""

from decimal import Decimal
from typing import Any

from bot.wording.reason import reason_text
from core.quantity import Unit
from core.target import Target


def target_as_json(target: Target, unit: Unit = "kg") -> dict[str, Any]:
    """One target; masses in kilograms, times in seconds. ``unit`` is for the reasons' words."""
    return {
        "exercise": target.exercise,
        "side": target.side,
        "edge_mm": target.edge_mm,
        "sets": target.sets,
        "reps": target.reps,
        "hold_s": target.hold_s,
        "load_kg": _number(target.load_kg),
        "plates_kg": [_number(kg) for kg in target.plates_kg],
        "pin_kg": _number(target.pin_kg),
        "band": target.band,
        "rest_s": target.rest_s,
        "change": target.change,
        **({} if target.belt_kg is None else {"belt_kg": _number(target.belt_kg)}),
        "reasons": [{"rule": r.rule, "text": reason_text(r, unit, target)} for r in target.reasons],
    }


def _number(kg: Decimal | None) -> float | int | None:
    """A JSON number that reads back as exactly this decimal (up to 15 digits)."""
    if kg is None:
        return None
    return int(kg) if kg == kg.to_integral_value() else float(kg)
