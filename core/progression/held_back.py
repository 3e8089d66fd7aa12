"""On which days pain or time off held an increase back, seen from the record."""

from datetime import date
from itertools import pairwise

from core.progression.case import Case
from core.progression.pain import FREE_SESSIONS
from core.progression.soreness import pains_of
from core.progression.time_off import UNCHANGED_DAYS
from core.progression.tissue import loaded_days


def held_back_days(case: Case) -> frozenset[date]:
    """Days of the line's sessions that were the first ones after pain or time off."""
    found: set[date] = set()
    days = [s.day for s in case.stream.sessions]
    for dated in pains_of(case.athlete, case.exercise.tissue, case.today):
        since = dated.cleared or dated.day
        later = [d for d in days if d > since or d == dated.cleared]
        found.update(later[:FREE_SESSIONS])
    loaded = loaded_days(case.athlete, case.exercise)
    rested = (b for a, b in pairwise(loaded) if (b - a).days > UNCHANGED_DAYS)
    found.update(rested)
    return frozenset(found)
