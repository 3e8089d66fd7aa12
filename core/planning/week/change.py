"""What a change of the facts moved in the week: finger work only, since that is what moves."""

from dataclasses import dataclass
from datetime import date

from core.planning.week.plan import DayPlan
from core.target import Reason

OF_BODY: frozenset[str] = frozenset(
    {
        "pain-today",
        "warning-sign",
        "fingers-under-age",
        "fingers-need-coach",
        "no-finger-block",
        "no-finger-kit",
    }
)
"""Reasons of body and kit: that they hold, and that they are over, is said by other answers."""

SAID: frozenset[str] = OF_BODY | {"wall-visit"}
"""Reasons that the answer to the reply itself gives: alone they are no news."""


@dataclass(frozen=True, slots=True)
class WeekChange:
    """One evening whose finger work went, came, or both.

    Attributes:
        lost: The evening that has none any more, or None.
        gained: The evening that has some now, or None.
        why: Why the lost one has none; None where it was called off, or nothing was lost.
    """

    lost: date | None
    gained: date | None
    why: Reason | None


def week_changes(before: tuple[DayPlan, ...], after: tuple[DayPlan, ...]) -> tuple[WeekChange, ...]:
    """What moved between two plans of the same days, soonest first.

    Evenings are compared by the day they were planned for: one that is held on another day
    with its fingers has lost nothing. New evenings and paused ones are no news here.
    """
    then, now = _by_evening(before), _by_evening(after)
    lost: list[tuple[date, Reason | None]] = []
    for planned, plan in then.items():
        if plan.fingers != "none":
            held = now.get(planned)
            if held is None:
                lost.append((plan.day, None))
            elif held.fingers == "none" and held.kind in ("home", "wall"):
                lost.append((held.day, held.reasons[-1]))
    gained = [
        plan.day
        for planned, plan in now.items()
        if plan.fingers != "none" and planned in then and _was_without(then[planned])
    ]
    pairs = list(zip(lost, gained, strict=False))
    changes = [WeekChange(day, to, why) for (day, why), to in pairs]
    changes += [
        WeekChange(day, None, why)
        for day, why in lost[len(pairs) :]
        if why is not None and why.rule not in SAID
    ]
    changes += [WeekChange(None, day, None) for day in gained[len(pairs) :]]
    return tuple(sorted(changes, key=lambda c: c.lost or c.gained or date.max))


def _by_evening(days: tuple[DayPlan, ...]) -> dict[date, DayPlan]:
    return {plan.evening.planned: plan for plan in days if plan.evening is not None}


def _was_without(plan: DayPlan) -> bool:
    """True for an evening that was on and had no finger work for a reason of the week."""
    on = plan.fingers == "none" and plan.kind in ("home", "wall")
    return on and plan.reasons[-1].rule not in OF_BODY
