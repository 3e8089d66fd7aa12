"""The week: what the coming days are, and what a change moved in them."""

from bot.conversation.turn import Turn
from bot.wording import change as change_words
from bot.wording import week as words
from core.calendar import clock_time, local
from core.planning.week import DEFAULT_AT, DayPlan, days_ahead, is_off, week_changes

SHOWN_DAYS = 8
"""Days that the answer shows: today, and on to its namesake a week later."""

FARTHEST_DAYS = 14
"""How far ahead the first evening after a pause is looked for."""


def say_week(turn: Turn) -> None:
    """What the coming days are."""
    athlete = turn.athlete
    if not athlete.plan.days:
        turn.say(words.NO_PLAN)
        return
    lines = [change_words.evenings_line(athlete, athlete.plan.at or DEFAULT_AT)]
    lines += _day_lines(turn)
    if athlete.zone is None:
        lines.append(words.NO_ZONE)
    # Loaded when asked for: it takes a while.
    from bot.conversation.review import week_load_line

    turn.say(*lines, week_load_line(turn))


def _day_lines(turn: Turn) -> list[str]:
    """A line for each day that is something; one for all of a pause.

    After a pause the days go on until the first that is something again.
    """
    lines: list[str] = []
    is_back = paused = False
    for ahead, plan in enumerate(days_ahead(turn.athlete, today=turn.today, days=FARTHEST_DAYS)):
        is_near = ahead < SHOWN_DAYS
        if is_back and not is_near:
            break
        off = is_off(turn.athlete, plan.day)
        if off and not paused:
            lines.append(words.pause_line(plan))
        paused = off
        if _is_shown(plan, off=off) and (is_near or not off):
            lines.append(_line(turn, plan))
            is_back = is_back or not off
    return lines


def _is_shown(plan: DayPlan, *, off: bool) -> bool:
    if plan.kind == "wall":
        return True
    return plan.evening is not None and (not off or plan.kind == "away")


def _line(turn: Turn, plan: DayPlan) -> str:
    athlete = turn.athlete
    begins = local(plan.evening.begins, turn.zone) if plan.evening is not None else None
    usual = clock_time(athlete.plan.at or DEFAULT_AT)
    if begins is not None and (begins.time() == usual or plan.kind != "home"):
        begins = None
    logged = any(d.day == plan.day for d in athlete.logs)
    done = plan.kind != "wall" and logged and turn.tonight.current is None
    return words.day_line(plan, begins, is_done=done)


def coming(turn: Turn) -> tuple[DayPlan, ...]:
    """The coming week as it stands, to compare with later."""
    return days_ahead(turn.athlete, today=turn.today, days=SHOWN_DAYS)


def say_changes(turn: Turn, before: tuple[DayPlan, ...]) -> None:
    """Say what this turn's facts moved in the week, if anything."""
    if turn.has_noted and before and before[0].day == turn.today:
        turn.say(*words.change_lines(week_changes(before, coming(turn)), turn.today))
