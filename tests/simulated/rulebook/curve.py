"""Curves the rule book needs, written out again from their papers."""

from decimal import Decimal
from math import ceil


def share_held(seconds: float) -> float:
    """Share of the maximum held so long: inverse of E = 1236.5 / (S - 15)^0.618 - 72.5, S in %.

    Source: the closed form printed by Hincapie-Ramos 2014; not above 100 %.
    """
    return min(100.0, 15 + (1236.5 / (seconds + 72.5)) ** (1 / 0.618)) / 100


def seconds_held(share: float) -> float:
    """Seconds to failure at that share, by the same curve."""
    return 1236.5 / (100 * share - 15) ** 0.618 - 72.5 if share > 0.15 else 9999.0


def bridge_s(load_kg: Decimal, next_kg: Decimal, *, prescribed_s: int) -> int:
    """Whole seconds at ``load_kg`` after which ``next_kg`` can be held for 3 s less than asked."""
    short = max(5, prescribed_s - 3)
    share = share_held(short) * float(load_kg / next_kg)
    return ceil(seconds_held(share) - 1e-9)


def reps_to_failure(net_kg: float, *, done: int, left: float, next_kg: float) -> float:
    """Reps at another load, by Epley 1985: maximum = load x (1 + reps / 30)."""
    single = net_kg if done + left <= 1 else net_kg * (1 + (done + left) / 30)
    return 30 * (single / next_kg - 1)
