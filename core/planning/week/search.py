"""Which evenings train fingers: the best choice under the rules of spacing, found exactly.

Best is, in this order: as many finger evenings as the rules allow; as few evenings changed
against the usual week as possible; the earlier evenings first.

A week must also be one that could be repeated: its last finger evening leaves 48 hours to
its first a week later. Without that, a missed Monday would be made up for on Sunday, at the
cost of the Monday after.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from core.planning.week.spacing import is_rested

WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Slot:
    """One evening to decide on.

    Attributes:
        planned: The day it was planned for, its name here.
        begins: In the athlete's zone.
        week: Monday of the week in which it is held.
        is_free: True when nothing fixed forbids hard fingers on it.
        is_usual: True when the usual week trains fingers on it.
    """

    planned: date
    begins: datetime
    week: date
    is_free: bool
    is_usual: bool


_Score = tuple[int, int, tuple[bool, ...]]
_State = tuple[datetime | None, date | None, datetime | None]
"""Last finger evening, and the first one of which week."""


def finger_evenings(
    slots: Sequence[Slot], *, firsts: Mapping[date, datetime] | None = None
) -> frozenset[date]:
    """The evenings, by planned day, on which fingers are trained.

    Args:
        slots: Evenings to decide on, soonest first, begun at different moments.
        firsts: For weeks, by their Mondays, that have had a finger evening already, or let the
            usual one pass: the first such beginning.

    Returns:
        Days of chosen slots. Exact: the states of a choice so far are its last evening and
        the first of the running week, and the best way into each is kept.
    """
    best: dict[_State, _Score] = {(None, None, None): (0, 0, ())}
    for slot in slots:
        best = _after(best, slot, first=(firsts or {}).get(slot.week))
    picked = max(best.values())[2]
    return frozenset(slot.planned for slot, taken in zip(slots, picked, strict=True) if taken)


def _after(
    best: dict[_State, _Score], slot: Slot, *, first: datetime | None
) -> dict[_State, _Score]:
    """The best way into each state once this evening is decided on."""
    onward: dict[_State, _Score] = {}
    for (last, week, chosen), (count, kept, picked) in best.items():
        begun = chosen if week == slot.week else first
        options = [(False, (last, week, chosen))]
        if slot.is_free and _fits(slot, last, begun):
            earliest = min(slot.begins, begun or slot.begins)
            options.append((True, (slot.begins, slot.week, earliest)))
        for taken, state in options:
            score = (count + taken, kept - (taken != slot.is_usual), (*picked, taken))
            if state not in onward or score > onward[state]:
                onward[state] = score
    return onward


def _fits(slot: Slot, last: datetime | None, first: datetime | None) -> bool:
    rested = last is None or is_rested(last, slot.begins)
    return rested and (first is None or is_rested(slot.begins, first + WEEK))
