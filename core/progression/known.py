"""Loads that a line has held lately, and may be gone back to."""

from datetime import timedelta
from decimal import Decimal

from core.catalogue import LoadedHold
from core.history import Session
from core.progression.case import Case
from core.progression.judgement import hold_verdict
from core.progression.month_cap import since_search

LATELY = timedelta(days=56)
"""For so long a load that was held is known. [days] House rule."""


def held_lately(case: Case, load_kg: Decimal, dose: LoadedHold) -> Session | None:
    """The last session at that load or more, if it was lately and nothing failed in it.

    Only since the level was last looked for, or a warning sign was cleared; easier weeks show no
    level. [kg]
    """
    found = since_search(case)
    since = found[0].day if found else case.today
    for session in reversed(case.level):
        if session.day < since:
            break
        if session.top_load_kg is not None and session.top_load_kg >= load_kg:
            verdict = hold_verdict(session, dose)
            is_held = not verdict.failed and verdict.load_kg >= load_kg
            return session if is_held and case.today - session.day <= LATELY else None
    return None
