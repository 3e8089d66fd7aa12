"""How often the truth lies in the interval: made-up athletes whose maximum is known.

Assumptions, on purpose worse than the engine's own: people differ from the curve by 24 % of
time (frey_law_2012), form varies by 3 % a day (finger_reliability_2025), a told reserve is
rounded down to a word and off by 1.5 s (house rule), strength grows by 0.1 % a day, and each
set of four is 1.5 % weaker than the one before (house rule), which the engine does not know.
"""

from collections.abc import Callable
from decimal import Decimal
from math import exp
from random import Random
from typing import Any

from core.facts import Effort, SetDone
from core.physiology.short_hold import time_to_failure_s
from core.strength import Estimate, load_for
from core.strength.fold import fold

ATHLETES = 100
SESSIONS = 30
STEP: dict[Effort, float] = {"easy": 1.05, "ok": 1.025, "hard": 1.0, "limit": 1.0, "fail": 0.95}


def failure_s(load_kg: float, maximum_kg: float, person: float) -> float:
    """When this person must let go. [s]"""
    share = load_kg / maximum_kg
    return 0.0 if share > 1 else time_to_failure_s(max(share, 0.2)) * person


def a_set(load_kg: float, fails_s: float, chance: Random) -> SetDone:
    """Ten seconds of it, told in a word."""
    load = Decimal(str(round(load_kg, 2)))
    if fails_s < 10:
        return SetDone("left", load, hold_s=max(1, int(fails_s)), effort="fail")
    left = fails_s - 10 + chance.gauss(0, 1.5)
    word: Effort = "easy" if left >= 3 else "ok" if left >= 2 else "hard" if left >= 1 else "limit"
    return SetDone("left", load, hold_s=10, effort=word)


def trained(book: Any, chance: Random) -> tuple[float, float, Estimate]:
    """The true maximum, how the person differs from the curve, and the estimate."""
    start_kg, person = chance.uniform(15, 60), exp(chance.gauss(0, 0.24))
    day, load_kg, true_kg = 0, 0.6 * start_kg, start_kg
    for _ in range(SESSIONS):
        day += chance.choice([2, 3, 2, 5])
        true_kg = start_kg * exp(0.001 * day)
        form_kg = true_kg * exp(chance.gauss(0, 0.03))
        fails = [failure_s(load_kg, form_kg * (1 - 0.015 * n), person) for n in range(4)]
        sets = [a_set(load_kg, s, chance) for s in fails]
        book.log(day, "half-crimp", sets)
        load_kg *= min(STEP[s.effort] for s in sets if s.effort is not None)
    return true_kg, person, book.strength(day)


def test_the_interval_is_honest_and_errs_on_the_safe_side(record: Callable[..., Any]) -> None:
    chance = Random(2026)
    inside, above, held = 0, 0, 0
    for _ in range(ATHLETES):
        book = record()
        true_kg, person, found = trained(book, chance)
        inside += found.low_kg <= true_kg <= found.high_kg
        above += found.low_kg > true_kg
        load_kg = float(load_for(found, hold_s=10, reserve_s=0))
        held += failure_s(load_kg, true_kg, person) >= 10
        assert not fold(book.athlete, book.line()).doubted
    # 90 % is claimed; the four assumptions that the engine does not share cost a few percent.
    assert inside >= 0.8 * ATHLETES
    assert above <= 0.05 * ATHLETES
    assert held >= 0.95 * ATHLETES
