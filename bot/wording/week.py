"""Words for the coming days: what each is, why an evening has no fingers, what moved."""

from collections.abc import Mapping
from datetime import date, datetime

from bot.wording.number import long_day, short_day, weekday_name
from core.planning.week import SPACING, DayPlan, WeekChange
from core.target import Reason

NO_PLAN = "No evenings planned. For example: evenings tue thu 20:30 60 min"
NO_ZONE = "No reminders until I know your time zone: zone Oslo"

_BRIEF: Mapping[str, str] = {
    "wall-same-day": "wall that day",
    "wall-next-day": "wall on {weekday}",
    "wall-day-before": "wall on {weekday}",
    "wall-day-passed": "wall on {weekday}",
    "fingers-before": "they are on {weekday}",
    "fingers-after": "they are on {weekday}",
    "week-is-full": "week is full",
    "pain-today": "they hurt",
    "warning-sign": "not cleared yet",
    "fingers-under-age": "under 16",
    "fingers-need-coach": "under 18",
    "no-finger-block": "none planned",
    "no-finger-kit": "no kit for them",
    "easier-week": "easier week",
    "fingers-sore": "still sore",
    "easy-after-illness": "easy start",
}
"""Why an evening has no fingers, or light ones, behind a comma on a phone's line."""

_CLAUSE: Mapping[str, str] = {
    "wall-visit": "you {climb} {on}",
    "wall-day": "you {climb} {on}",
    "wall-same-day": "you {climb} {on}",
    "wall-next-day": "you {climb} {on}",
    "wall-day-before": "you {climb} {on}",
    "wall-day-passed": "the wall was planned {on}",
    "fingers-before": "less than 48 hours after {whose}",
    "fingers-after": "less than 48 hours before {whose}",
    "week-is-full": "the week has enough of it",
    "pain-today": "they hurt",
    "warning-sign": "a warning sign is not cleared yet",
    "fingers-under-age": "finger strength is not for under 16",
    "fingers-need-coach": "finger strength needs a coach under 18",
    "no-finger-block": "the programme has none",
    "no-finger-kit": "I know of no kit for them",
    "sick": "you are ill",
    "away": "you are away",
    "away-with-kit": "you are away",
    "paused": "you asked for a pause",
}
"""The same as part of a sentence."""

WORDED = frozenset(_BRIEF) | frozenset(_CLAUSE)
"""Rules that have words here."""

LONGEST = 4
"""Most lines that one change says about the week."""


def day_line(plan: DayPlan, begins: datetime | None, *, is_done: bool) -> str:
    """One day in a line: "· Thu 3 Dec: no fingers, wall on Fri".

    Args:
        plan: What the day is.
        begins: When its evening begins, local, where that differs from the usual; or None.
        is_done: True when the evening was trained already.
    """
    at = f" {begins:%H:%M}" if begins is not None else ""
    return f"· {short_day(plan.day)}{at}: {_what(plan, is_done=is_done)}"


def _what(plan: DayPlan, *, is_done: bool) -> str:
    if is_done:
        return "done"
    if plan.kind == "wall":
        return "wall, hips if you like" if plan.evening is not None else "wall"
    if plan.reasons and plan.reasons[0].rule == "away":
        return "trunk and hips if you like"
    if plan.fingers == "hard":
        return "fingers if you like" if plan.kind == "away" else "fingers"
    why = _BRIEF[plan.reasons[-1].rule].format(weekday=_weekday(plan.reasons[-1]))
    return f"{'light' if plan.fingers == 'light' else 'no'} fingers, {why}"


def _weekday(reason: Reason) -> str:
    day = reason.get("day")
    return weekday_name(day) if isinstance(day, date) else ""


def pause_line(plan: DayPlan) -> str:
    """Why nothing is planned from that day on, and until when."""
    reason = plan.reasons[0]
    until = reason.get("until")
    away = reason.rule in ("away", "away-with-kit")
    what = "ill, nothing hard" if reason.rule == "sick" else "away" if away else "a pause"
    end = short_day(until) if isinstance(until, date) else 'you type "back"'
    return f"· {what} until {end}"


def change_lines(changes: tuple[WeekChange, ...], today: date) -> list[str]:
    """What moved, a line each: "Thursday: fingers moved to Tuesday, you climb on Friday"."""
    return [_change_line(change, today) for change in changes[:LONGEST]]


def _change_line(change: WeekChange, today: date) -> str:
    why = f", {clause(change.why, today)}" if change.why is not None else ""
    if change.why is not None and change.why.get("day") == change.gained:
        # It moved because of where it moved to: once is enough.
        why = ""
    if change.lost is None:
        gained = change.gained or today
        return f"{_named(gained, today)}: fingers after all."
    if change.gained is None:
        return f"{_named(change.lost, today)}: no fingers{why}."
    to = _on(change.gained, today).removeprefix("on ")
    return f"{_named(change.lost, today)}: fingers moved to {to}{why}."


def clause(reason: Reason, today: date) -> str:
    """A reason as part of a sentence: "you climb on Friday"."""
    day = reason.get("day")
    if not isinstance(day, date):
        return _CLAUSE[reason.rule]
    if day == today and "{climb}" in _CLAUSE[reason.rule]:
        # Before or after the visit: nobody told which.
        return "wall today"
    whose = "tonight's" if day == today else f"{long_day(day)}'s"
    return _CLAUSE[reason.rule].format(
        climb="climbed" if day < today else "climb",
        on="today" if day == today else f"on {long_day(day)}",
        whose=whose,
    )


def tonight_lines(plan: DayPlan) -> list[str]:
    """What the week takes out of tonight, and why. What targets say of themselves is left out."""
    if not plan.reasons:
        return []
    head = plan.reasons[0]
    until = head.get("until")
    if head.rule == "wall-visit":
        return ["You were at the wall: no fingers or pulling tonight."]
    if head.rule == "wall-day":
        return ["A wall day: no fingers or pulling tonight."]
    if head.rule == "sick":
        return ["You are ill: nothing hard. Type back when you are well."]
    if head.rule == "away-with-kit":
        end = f" until {short_day(until)}" if isinstance(until, date) else ""
        lines = [f"You are away{end}: with the kit you have there."]
        if plan.reasons[-1].rule in SPACING:
            lines.append(f"No fingers tonight: {clause(plan.reasons[-1], plan.day)}.")
        return lines
    if head.rule == "away":
        end = f" until {short_day(until)}" if isinstance(until, date) else ""
        return [f"You are away{end}: only what needs no kit."]
    if plan.reasons[-1].rule in SPACING:
        return [f"No fingers tonight: {clause(plan.reasons[-1], plan.day)}."]
    return []


def _named(day: date, today: date) -> str:
    return "Tonight" if day == today else long_day(day)


def _on(day: date, today: date) -> str:
    return "tonight" if day == today else f"on {long_day(day)}"
