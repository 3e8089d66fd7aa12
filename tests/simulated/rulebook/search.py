"""What may be asked while the level is looked for, and what sets say of the maximum."""

from decimal import Decimal

from core.catalogue import LoadedHold
from core.facts import SetDone
from tests.simulated.rulebook.breach import above
from tests.simulated.rulebook.curve import share_held
from tests.simulated.rulebook.record import Sitting, hardest, word_of
from tests.simulated.rulebook.wanted import Wanted

SEARCH_SESSIONS = 4


def search(line: list[Sitting], dose: LoadedHold, loads_kg: tuple[Decimal, ...]) -> list[Wanted]:
    """What may be asked while the level is looked for, after sets that were all easy or ok.

    The same load again, with steps per set while it feels easy, at the hold it had, the dose's
    or the shorter one. Where the next load is more than 5 % up, any load at any hold between
    those two that by the curve and the best set of the search leaves two seconds.
    """
    last = line[-1]
    load, hold = last.asked.load_kg or Decimal(0), last.asked.hold_s or dose.hold_s
    short, step = max(5, dose.hold_s - 3), above(loads_kg, load)
    is_far = step is not None and step > load * Decimal("1.05")
    found = []
    if hardest([word_of(s) for s in last.sets]) == "easy":
        holds = {hold, short, dose.hold_s} if is_far else {hold}
        found = [Wanted("search", load, seconds * dose.sets) for seconds in sorted(holds)]
    if not is_far:
        return found
    for seconds in range(short, dose.hold_s + 1):
        most = best_kg(line) * share_held(seconds + 2)
        found += [Wanted("curve", kg, seconds * dose.sets) for kg in loads_kg if load < kg <= most]
    return found


def most_after_ramp_kg(line: list[Sitting], hold_s: int) -> Decimal:
    """Most that may follow sets at loads that differed: a step of 5 % over what was held, or
    what the curve allows that hold with two seconds left. [kg]"""
    by_curve = Decimal(best_kg(line[-SEARCH_SESSIONS:]) * share_held(hold_s + 2))
    return max(held_well_kg(line[-1]) * Decimal("1.05"), by_curve)


def best_kg(line: list[Sitting]) -> float:
    """The greatest maximum that a set of these sittings speaks for by the curve. [kg]"""
    left = {"easy": 3, "ok": 2, "hard": 1}
    said = [
        float(s.load_kg) / share_held(s.hold_s + (left_of(s) or left.get(word_of(s) or "", 0)))
        for sitting in line
        for s in sitting.sets
        if s.load_kg is not None and s.hold_s
    ]
    return max(said, default=0.0)


def left_of(done: SetDone) -> float | None:
    """Seconds left as a number, where one was said; five at most."""
    said = [
        float(n) for n in (done.left, None if done.rpe is None else 10 - done.rpe) if n is not None
    ]
    return min(5.0, *said) if said else None


def held_well_kg(sitting: Sitting) -> Decimal:
    """The heaviest load held when nothing as light failed; a failure above it says nothing. [kg]"""
    failed = [s.load_kg for s in sitting.sets if s.effort == "fail" and s.load_kg is not None]
    held = [s.load_kg for s in sitting.sets if s.effort != "fail" and s.load_kg is not None]
    return max((kg for kg in held if not failed or kg < min(failed)), default=Decimal(0))
