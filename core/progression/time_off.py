"""Coming back: the longer a tissue was not loaded, the less it is asked for."""

from bisect import bisect_left, bisect_right
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

from core.catalogue import LoadedHold
from core.progression.case import Case
from core.progression.first import SEARCH_FRAC
from core.progression.lighten import gentler, lightened, with_sets
from core.progression.reshape import without_increase
from core.progression.tissue import loaded_days
from core.target import Target, because

UNCHANGED_DAYS = 10
FEWER_SETS_DAYS = 21
FIRST_CUT_DAYS = 28
SEARCH_DAYS = 56
"""Last day of each band, and the first day of the search. [days]

House rules: strength falls with time off (bosquet_2013), but no source gives bands, and
none speaks of fingers.
"""

SETS_FEWER = 2
CUT = Decimal("0.05")
MOST_CUT = Decimal("0.30")
CUT_DAYS = 14
"""Five percent at first and for each further two weeks begun, to thirty. House rule."""


def days_off(case: Case) -> tuple[int, date] | None:
    """The longest time since the line's last session in which its tissue was not loaded.

    Times that ended more than 56 days ago are left out: what came since counts for more.

    Returns:
        Days, and the day before them on which it was loaded last; None if the line is new.

    Ours: A visit to the wall after two months off ends the time off, it does not undo it.
    """
    done = [s.day for s in case.stream.sessions[-1:] if s.day <= case.today]
    if not done:
        return None
    loaded = loaded_days(case.athlete, case.exercise)
    days = loaded[bisect_left(loaded, done[0]) : bisect_right(loaded, case.today)]
    lately = case.today - timedelta(days=SEARCH_DAYS)
    gaps = [((b - a).days, a) for a, b in pairwise((*days, case.today)) if b >= lately]
    return max(gaps, key=lambda gap: gap[0])


def kept_frac(days: int) -> Decimal:
    """The part of the load that is kept after so many days off, up to the search. [-]

    Example:
        >>> [str(kept_frac(d)) for d in (21, 22, 28, 29, 42, 43)]
        ['1', '0.95', '0.95', '0.90', '0.90', '0.85']
    """
    if days <= FEWER_SETS_DAYS:
        return Decimal(1)
    further = max(0, -(-(days - FIRST_CUT_DAYS) // CUT_DAYS))
    return 1 - min(CUT * (1 + further), MOST_CUT)


def after_time_off(target: Target, same: Target, case: Case) -> Target:
    """The target, with fewer sets, less load or a new search for the level after time off."""
    off = days_off(case)
    if off is None or off[0] <= UNCHANGED_DAYS or target.change == "first":
        return target
    days, last = off
    if days >= SEARCH_DAYS:
        reduced = lightened(_at_own_hold(same, case), case, keep=SEARCH_FRAC)
        why = because("find-level-again", days=days, last=last)
    elif days > FEWER_SETS_DAYS:
        keep = kept_frac(days)
        reduced = lightened(same, case, keep=keep)
        why = because("time-off", days=days, last=last, percent=int((1 - keep) * 100))
    else:
        reduced = with_sets(same, max(1, same.sets - SETS_FEWER))
        why = because("time-off-sets", days=days, last=last, sets=reduced.sets)
    reduced = replace(reduced, change="return", reasons=(why,))
    return gentler(without_increase(target, same), reduced)


def _at_own_hold(target: Target, case: Case) -> Target:
    """The target without the seconds that a loaded hold had grown beyond its dose."""
    dose = case.exercise.dose
    if not isinstance(dose, LoadedHold) or target.hold_s is None:
        return target
    return replace(target, hold_s=min(target.hold_s, dose.hold_s))
