"""How long a load can be held, from 7 s to about a minute, and what that says of strength.

One curve joins the share of maximal strength and the time to failure. Power curves fitted
to minutes of holding overshoot here (they give a grip half a minute at full strength), so
they are not used for short holds.
"""

from core.errors import OutOfRange

FACTOR_S = 1236.5
FLOOR_PERCENT = 15.0
EXPONENT = 0.618
SHIFT_S = 72.5
"""E = 1236.5 / (S - 15)^0.618 - 72.5 with S in percent and E in seconds: hincapie_ramos_2014."""

PERCENT = 100.0


def time_to_failure_s(share_frac: float) -> float:
    """How long a share of maximal strength can be held.

    Args:
        share_frac: Load over maximum. [-], over 0.15, at most 1

    Returns:
        Time from start to failure. [s], > 0

    Raises:
        OutOfRange: The share is outside its interval; below 0.15 the curve has no end.

    Validity: 20 to 100 % of maximum; people differ by 30 % or more about the curve.
    Source: hincapie_ramos_2014, closed form of rohmert_1960.
    Ours: Using a curve of many muscles for fingers and arms.

    Example:
        >>> round(time_to_failure_s(0.5), 1)
        64.9
    """
    percent = share_frac * PERCENT
    if not FLOOR_PERCENT < percent <= PERCENT:
        raise OutOfRange("share_frac", share_frac, "over 0.15, at most 1")
    return float(FACTOR_S / (percent - FLOOR_PERCENT) ** EXPONENT - SHIFT_S)


def share_held_frac(time_s: float) -> float:
    """The share of maximal strength that can be held for a time, at most 1.

    Args:
        time_s: Time from start to failure. [s], > 0

    Returns:
        Load over maximum. [-], over 0.15, at most 1. Under 6.8 s it is 1.

    Raises:
        OutOfRange: The time is not positive.

    Validity: As ``time_to_failure_s``, whose inverse it is.
    Source: hincapie_ramos_2014, solved for the share.
    Ours: Ending at 1 for the shortest holds.

    Example:
        >>> round(share_held_frac(10.0), 3)
        0.949
    """
    if time_s <= 0:
        raise OutOfRange("time_s", time_s, "> 0")
    percent = FLOOR_PERCENT + (FACTOR_S / (time_s + SHIFT_S)) ** (1 / EXPONENT)
    return min(float(percent), PERCENT) / PERCENT


def maximum_kg(load_kg: float, *, held_s: float, reserve_s: float) -> float:
    """The maximum that a set speaks for.

    Args:
        load_kg: Load held. [kg], > 0
        held_s: Time held. [s], > 0
        reserve_s: Time that was left. [s], >= 0

    Returns:
        Load that could be held for a moment. [kg], >= ``load_kg``

    Raises:
        OutOfRange: A time or the load breaks its interval.

    Validity: As the curve; about 5 % of load near 10 to 15 s.
    Source: hincapie_ramos_2014.
    Ours: Time to failure as time held and time left together.

    Example:
        >>> round(maximum_kg(40.0, held_s=10.0, reserve_s=5.0), 2)
        45.64
    """
    _check(load_kg, reserve_s)
    return load_kg / share_held_frac(held_s + reserve_s)


def load_to_hold_kg(maximum: float, *, hold_s: float, reserve_s: float) -> float:
    """The load that leaves a reserve after a hold: the way back from ``maximum_kg``.

    Args:
        maximum: Load that could be held for a moment. [kg], > 0
        hold_s: Time to hold. [s], > 0
        reserve_s: Time that should be left. [s], >= 0

    Returns:
        Load to hold. [kg], > 0

    Raises:
        OutOfRange: A time or the maximum breaks its interval.

    Validity: As the curve.
    Source: hincapie_ramos_2014.
    Ours: As ``maximum_kg``.

    Example:
        >>> round(load_to_hold_kg(45.64, hold_s=7.0, reserve_s=3.0), 1)
        43.3
    """
    _check(maximum, reserve_s)
    return maximum * share_held_frac(hold_s + reserve_s)


def _check(load_kg: float, reserve_s: float) -> None:
    if load_kg <= 0:
        raise OutOfRange("load_kg", load_kg, "> 0")
    if reserve_s < 0:
        raise OutOfRange("reserve_s", reserve_s, ">= 0")
