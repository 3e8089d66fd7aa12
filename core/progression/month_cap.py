"""Fingers adapt more slowly than muscles: no more than a tenth within 28 days."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from core.history import Session
from core.progression.case import Case, explained, is_same_line
from core.progression.time_off import SEARCH_DAYS
from core.progression.tissue import loaded_days
from core.quantity import plain
from core.target import Target, because

MONTH = timedelta(days=28)
MOST_RISE = Decimal("1.10")
"""No load goes beyond this part of the load of 28 days ago. [-] House rule."""

FINDING = 4
"""Sessions that find the level; the cap holds from the next one on. House rule."""


def within_month(target: Target, same: Target, case: Case) -> Target:
    """The target, with no more than 10 % above the load of 28 days ago.

    The first four sessions, and the first four after a time off that made the level be
    looked for again, find the level: they are not capped, and while the fourth is less
    than 28 days old it is the one compared with.
    """
    if case.exercise.block != "fingers" or not is_same_line(target, same):
        return target
    sessions = _since_search(case)
    net_kg, same_kg = case.net_kg(target.load_kg), case.net_kg(same.load_kg)
    if len(sessions) < FINDING or net_kg is None or same_kg is None:
        return target
    old = [i for i, s in enumerate(sessions) if s.day <= case.today - MONTH]
    reference = sessions[max([*old[-1:], FINDING - 1])]
    reference_kg = case.net_kg(_held_kg(reference))
    if reference_kg is None or net_kg <= reference_kg * MOST_RISE:
        return target
    most_kg = reference_kg * MOST_RISE
    load_kg = case.load_at_net(most_kg)
    allowed = None if load_kg is None or case.choices is None else case.choices.at_most(load_kg)
    why = because("month-cap", since=reference.day, then_kg=reference_kg, most_kg=plain(most_kg))
    if allowed is None:
        return explained(same, "same", why)
    if same_kg > most_kg:
        return explained(replace(same, load_kg=allowed), "down", why)
    if same.load_kg is not None and allowed > same.load_kg and target.hold_s == same.hold_s:
        return explained(replace(target, load_kg=allowed), target.change, why)
    return explained(same, "same", why)


def _since_search(case: Case) -> tuple[Session, ...]:
    """The loaded sessions since the level was last looked for."""
    days = loaded_days(case.athlete, case.exercise)
    sessions = tuple(s for s in case.level if s.top_load_kg is not None)
    first = 0
    for i, session in enumerate(sessions):
        before = max((d for d in days if d < session.day), default=session.day)
        if (session.day - before).days >= SEARCH_DAYS:
            first = i
    return sessions[first:]


def _held_kg(session: Session) -> Decimal | None:
    """The heaviest load that did not fail, else the heaviest. [kg]"""
    held = [s.load_kg for s in session.sets if s.load_kg is not None and s.effort != "fail"]
    return max(held, default=session.top_load_kg)
