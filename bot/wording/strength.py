"""Words for strength: about how much, how sure, and whether it moved."""

from bot.wording.number import MINUS, number
from core.quantity import POUND_KG, Unit
from core.review import Difference, Trend
from core.strength import Estimate

HEADING = "Maximum by your logs, nine times in ten within the brackets:"
EXACT_TO = 30
"""Estimates under this are shown with a tenth."""

ON_BODY = "body weight included"


def strength_line(found: Estimate, unit: Unit, *, on_body: bool) -> str:
    """The maximum with its interval: "left: about 24.1 kg (22.3 to 26)"."""
    side = "" if found.side == "both" else f"{found.side}: "
    with_body = f", {ON_BODY}" if on_body else ""
    if found.is_floor:
        return f"{side}at least {_about(found.maximum_kg, unit)} {unit}{with_body}"
    low, high = (_about(kg, unit) for kg in (found.low_kg, found.high_kg))
    return f"{side}about {_about(found.maximum_kg, unit)} {unit} ({low} to {high}){with_body}"


def trend_text(trend: Trend) -> str:
    """The trend with its interval: "up 9 % (4 to 14) over 6 weeks", or that it is level."""
    weeks = max(1, round((trend.until - trend.since).days / 7))
    plateau = ", a plateau" if trend.direction == "level" and trend.is_plateau else ""
    return f"{moved_text(trend)} over {weeks} weeks{plateau}"


def moved_text(trend: Trend) -> str:
    """The trend without its time: "up 9 % (4 to 14)", "level"."""
    if trend.direction == "level":
        return "level"
    low, high = sorted((abs(trend.low_frac), abs(trend.high_frac)))
    way = "up" if trend.direction == "gain" else "down"
    return f"{way} {_percent(abs(trend.change_frac))} ({_bare(low)} to {_bare(high)})"


def hands_line(apart: Difference) -> str:
    """Whether a hand is stronger, and by how much."""
    if apart.stronger == "level":
        return "Left and right are level."
    frac, low, high = apart.left_over_right_frac, apart.low_frac, apart.high_frac
    if apart.stronger == "right":
        # The same difference, seen from the stronger hand.
        frac, low, high = (1 / (1 + x) - 1 for x in (frac, high, low))
    return (
        f"The {apart.stronger} hand is {_percent(frac)} stronger ({_bare(low)} to {_bare(high)})."
    )


def _about(kg: float, unit: Unit) -> str:
    """An estimated mass, to three digits at most: more would claim what nobody knows."""
    shown = kg if unit == "kg" else kg / float(POUND_KG)
    return number(round(shown, 1 if shown < EXACT_TO else 0))


def _percent(frac: float) -> str:
    return f"{_bare(frac)} %"


def _bare(frac: float) -> str:
    return f"{round(frac * 100)}".replace("-", MINUS)
