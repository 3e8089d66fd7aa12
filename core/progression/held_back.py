"""On which days pain or time off held an increase back, seen from the record."""

from datetime import date

from core.progression.case import Case
from core.progression.pain import FREE_SESSIONS
from core.progression.soreness import pains_of
from core.progression.time_off import UNCHANGED_DAYS
from core.progression.tissue import rests


def held_back_days(case: Case) -> frozenset[date]:
    """Days of the line's sessions that were the first ones after pain or time off."""
    found: set[date] = set()
    pains = pains_of(case.athlete, case.exercise.tissue, case.today)
    days = [s.day for s in case.stream.sessions] if pains else []
    for dated in pains:
        since = dated.cleared or dated.day
        later = [d for d in days if d > since or d == dated.cleared]
        found.update(later[:FREE_SESSIONS])
    found.update(day for rest, day in rests(case.athlete, case.exercise) if rest > UNCHANGED_DAYS)
    return frozenset(found)
