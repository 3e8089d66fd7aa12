"""On which days pain or time off held an increase back, seen from the record."""

from bisect import bisect_left
from datetime import date

from core.progression.case import Case
from core.progression.pain import FREE_SESSIONS
from core.progression.soreness import pains_of
from core.progression.time_off import UNCHANGED_DAYS
from core.progression.tissue import rests


def held_back_days(case: Case) -> frozenset[date]:
    """Days of the line's sessions that were the first ones after pain or time off."""
    found: set[date] = set()
    days = [s.day for s in case.stream.sessions]
    for dated in pains_of(case.athlete, case.exercise.tissue, case.today):
        since = dated.cleared or dated.day
        later = [d for d in days if d > since or d == dated.cleared]
        found.update(later[:FREE_SESSIONS])
    for rest, day in rests(case.athlete, case.exercise):
        if rest > UNCHANGED_DAYS:
            # Another exercise may have ended the rest: this line's first session was lowered.
            at = bisect_left(days, day)
            found.update(days[at : at + 1])
    return frozenset(found)
