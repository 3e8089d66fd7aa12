"""Fingers adapt more slowly than muscles: no more than a tenth within 28 days."""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import NamedTuple

from core.derived import folded
from core.history import Session
from core.progression.case import Case
from core.progression.reshape import explained, is_same_line
from core.progression.soreness import pains_of
from core.progression.time_off import FEWER_SETS_DAYS, SEARCH_DAYS
from core.progression.tissue import rests
from core.quantity import plain
from core.target import Target, because

MONTH = timedelta(days=28)
MOST_RISE = Decimal("1.10")
"""No load goes beyond this part of the load of 28 days ago. [-] House rule."""

USED_TO = timedelta(days=14)
"""The load of 28 days ago is the most that was held in the fortnight up to the last session of
that time: one light day does not make the fingers forget. House rule."""

REGAIN = timedelta(days=56)
"""So long after a sore finger or a time off, sessions under the level before it do not count:
the level stands, or it would be lost anew while it is being regained. House rule."""

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
    net_kg, same_kg, limit = case.net_kg(target.load_kg), case.net_kg(same.load_kg), month(case)
    if net_kg is None or same_kg is None or limit is None or net_kg <= limit.most_kg:
        return target
    load_kg = case.load_at_net(limit.most_kg)
    allowed = None if load_kg is None or case.choices is None else case.choices.at_most(load_kg)
    why = because(
        "month-cap", since=limit.day, then_kg=plain(limit.then_kg), most_kg=plain(limit.most_kg)
    )
    if allowed is None:
        return explained(same, "same", why)
    if same_kg > limit.most_kg:
        return explained(replace(same, load_kg=allowed), "down", why)
    if same.load_kg is not None and allowed > same.load_kg and target.hold_s == same.hold_s:
        return explained(replace(target, load_kg=allowed), target.change, why)
    return explained(same, "same", why)


@dataclass(frozen=True, slots=True)
class Month:
    """What the fingers were used to 28 days ago.

    Attributes:
        day: The session that shows it.
        then_kg: Its net load. [kg]
    """

    day: date
    then_kg: Decimal

    @property
    def most_kg(self) -> Decimal:
        """The most that is asked for now, net. [kg]"""
        return self.then_kg * MOST_RISE


def month(case: Case) -> Month | None:
    """The load of 28 days ago, None while the level is not found."""
    sessions = _since_search(case)
    if len(sessions) < FINDING:
        return None
    then = case.today - MONTH
    found = sessions[FINDING - 1 :]
    lowered = _lowered_days(case, sessions)
    if lowered:
        found = tuple([s for s in found if s.day not in lowered]) or found
    old = found[: bisect_right(found, then, key=_day)] or found[:1]
    used = old[bisect_left(old, old[-1].day - USED_TO, key=_day) :]
    nets = [(kg, s.day) for s in used if (kg := case.net_kg(s.kg)) is not None]
    if not nets:
        return None
    then_kg, day = max(nets)
    return Month(day, then_kg)


class _Held(NamedTuple):
    """A session with loads: its day, and the heaviest load that did not fail, else the
    heaviest. [kg]"""

    day: date
    kg: Decimal
    session: Session


def _day(held: _Held) -> date:
    return held.day


def _lowered_days(case: Case, sessions: tuple[_Held, ...]) -> set[date]:
    """Days of sessions under the level that stood before a pain or a time off not long ago."""
    pains = pains_of(case.athlete, case.exercise.tissue, case.today)
    causes = [p.day for p in pains if not p.pain.flags]
    causes += [day for days, day in rests(case.athlete, case.exercise) if days > FEWER_SETS_DAYS]
    lowered: set[date] = set()
    for cause in causes:
        at = bisect_left(sessions, cause, key=_day)
        if at == 0:
            continue
        level_kg = sessions[at - 1].kg
        after = sessions[at : bisect_right(sessions, cause + REGAIN, key=_day)]
        lowered.update(held.day for held in after if held.kg < level_kg)
    return lowered


def since_search(case: Case) -> tuple[Session, ...]:
    """The loaded sessions since the level was last looked for, or a warning sign was cleared."""
    return tuple([held.session for held in _since_search(case)])


def _since_search(case: Case) -> tuple[_Held, ...]:
    none: tuple[_Held, ...] = ()
    stream = case.stream
    key = ("held", stream.exercise, stream.side, stream.edge_mm)
    sessions = folded(case.athlete, key, case.level, _with_held, begin=none)
    searched = [day for days, day in rests(case.athlete, case.exercise) if days >= SEARCH_DAYS]
    pains = pains_of(case.athlete, case.exercise.tissue, case.today)
    cleared = [p.cleared for p in pains if p.cleared is not None]
    since = max((*searched, *cleared), default=date.min)
    return sessions[bisect_left(sessions, since, key=_day) :]


def _with_held(held: tuple[_Held, ...], sessions: tuple[Session, ...]) -> tuple[_Held, ...]:
    return (*held, *[_Held(s.day, kg, s) for s in sessions if (kg := _held_kg(s)) is not None])


def _held_kg(session: Session) -> Decimal | None:
    """The heaviest load that did not fail, else the heaviest. [kg]"""
    held = [s.load_kg for s in session.sets if s.load_kg is not None and s.effort != "fail"]
    return max(held) if held else session.top_load_kg
