"""How seconds bridge a plate step that is too big to take at once."""

from decimal import Decimal
from math import ceil

from core.physiology.short_hold import FLOOR_PERCENT, PERCENT, share_held_frac, time_to_failure_s

SHORTER_S = 3
"""The step is taken at a hold shorter by this. [s] House rule."""

SHORTEST_S = 5
"""No hold is asked for that is shorter than this. [s] House rule."""

LONGEST_S = 30
"""No hold is built up beyond this: it would train something else. [s] House rule."""

HAIR_S = 1e-6
"""What the curve and its inverse lose between them. [s]"""


def short_hold_s(prescribed_s: int) -> int:
    """The hold at which a big step is taken. [s]"""
    return max(prescribed_s - SHORTER_S, SHORTEST_S)


def whole_s(time_s: float) -> int:
    """Whole seconds of a time by the curve; a hair under a second is rounding. [s]"""
    return int(time_s + HAIR_S)


def hold_needed_s(load_kg: Decimal, next_kg: Decimal, *, prescribed_s: int) -> int | None:
    """How long the present load must be held before the next one can be held at all.

    Args:
        load_kg: Present load. [kg], > 0
        next_kg: Next load that exists. [kg], > ``load_kg``
        prescribed_s: The dose's hold. [s], > 0

    Returns:
        Whole seconds at the present load, after which the next one can be held for
        ``short_hold_s``; None beyond ``LONGEST_S``.

    Validity: As the curve of short holds.
    Source: hincapie_ramos_2014.
    Ours: The same reserve at both loads, so that it drops out; stopping at ``LONGEST_S``.

    Example:
        >>> hold_needed_s(Decimal(20), Decimal("22.5"), prescribed_s=10)
        15
    """
    share = share_held_frac(short_hold_s(prescribed_s)) * float(load_kg / next_kg)
    if share * PERCENT <= FLOOR_PERCENT:
        return None
    needed = ceil(time_to_failure_s(share))
    return needed if needed <= LONGEST_S else None
