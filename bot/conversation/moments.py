"""When something is to be said next: reminders, follow-ups, the end of a rest. And saying it."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.conversation.talk import Talk
from bot.conversation.turn import Turn
from bot.ports import Due
from bot.wording import moment as words
from bot.wording.evening import evening_lines
from core.athlete import Athlete
from core.calendar import clock_time, instant, local, training_day
from core.planning.week import held_evening, home_evenings, is_off

LOOK_AHEAD_DAYS = 14
FOLLOW_UP_AFTER = timedelta(minutes=30)
"""From the end of an evening without a word to the one follow-up. House rule."""

FOLLOW_UP_WITHIN = timedelta(hours=14)
TIMER_WITHIN = timedelta(minutes=2)
LATER_WITHIN = timedelta(hours=2)
SILENT_BEFORE_ASKING = 2
"""Evenings without a word after which the fit of the evenings is asked, once."""


@dataclass(frozen=True, slots=True)
class Occurrence:
    """One planned evening: the training day it was planned for, and the one on which it is held.

    Instants are UTC.
    """

    day: date
    held: date
    begins: datetime
    ends: datetime


def occurrences(athlete: Athlete, *, now: datetime) -> tuple[Occurrence, ...]:
    """The planned evenings that have not ended, soonest first, over two weeks.

    Evenings called off, spent at the wall, or inside a pause are left out.
    """
    if athlete.zone is None or not athlete.plan.days:
        return ()
    today = training_day(now, athlete.zone)
    found: list[Occurrence] = []
    for evening in home_evenings(
        athlete, since=today - timedelta(days=1), until=today + timedelta(days=LOOK_AHEAD_DAYS)
    ):
        ends = evening.begins + timedelta(minutes=athlete.plan.minutes)
        visited = any(w.on == evening.day for w in athlete.walls)
        if ends > now and not visited and not is_off(athlete, evening.day):
            found.append(Occurrence(evening.planned, evening.day, evening.begins, ends))
    return tuple(found)


def moments(athlete: Athlete, talk: Talk, *, now: datetime) -> tuple[Due, ...]:
    """Every moment to plan. What is not among them is no longer planned."""
    dues: list[Due] = []
    # Two ahead: a moment that has fired stays fired, so the one after it must stand already.
    for evening in occurrences(athlete, now=now)[:2]:
        key = f"{evening.day}@{evening.begins:%Y-%m-%dT%H:%M}"
        at = _reminder_at(athlete, evening)
        dues.append(Due("reminder", key, at, evening.ends))
        after = _out_of_quiet(athlete, evening.ends + FOLLOW_UP_AFTER)
        dues.append(Due("follow-up", str(evening.day), after, after + FOLLOW_UP_WITHIN))
    if talk.remind_at is not None:
        key = f"later@{talk.remind_at:%Y-%m-%dT%H:%M:%S}"
        dues.append(Due("reminder", key, talk.remind_at, talk.remind_at + LATER_WITHIN))
    if talk.rest_until is not None:
        key = f"{talk.rest_until:%Y-%m-%dT%H:%M:%S.%f}"
        dues.append(Due("timer", key, talk.rest_until, talk.rest_until + TIMER_WITHIN))
    return tuple(dues)


def _reminder_at(athlete: Athlete, evening: Occurrence) -> datetime:
    """The planned reminder; if quiet hours would swallow it, just before they begin."""
    at = evening.begins - timedelta(minutes=athlete.remind_min)
    began = _quiet_began(athlete, at)
    return at if began is None else began - timedelta(minutes=1)


def _out_of_quiet(athlete: Athlete, at: datetime) -> datetime:
    """The same moment, or the end of the quiet hours it falls into."""
    began = _quiet_began(athlete, at)
    if began is None or athlete.zone is None:
        return at
    start = local(began, athlete.zone)
    end = clock_time(athlete.quiet[1])
    day = start.date() if end > start.time() else start.date() + timedelta(days=1)
    return instant(day, end, athlete.zone)


def _quiet_began(athlete: Athlete, at: datetime) -> datetime | None:
    """When the quiet hours around that moment began; None outside them."""
    if athlete.zone is None:
        return None
    start, end = (clock_time(text) for text in athlete.quiet)
    if start == end:
        return None
    here = local(at, athlete.zone)
    clock = here.time()
    if start < end:
        inside, day = start <= clock < end, here.date()
    else:
        inside = clock >= start or clock < end
        day = here.date() if clock >= start else here.date() - timedelta(days=1)
    return instant(day, start, athlete.zone) if inside else None


def fire(turn: Turn, due: Due) -> None:
    """Say what that moment is for, if it still holds."""
    match due.kind:
        case "reminder":
            _remind(turn, due)
        case "follow-up":
            _follow_up(turn, due)
        case "timer":
            _call_set(turn)


def _remind(turn: Turn, due: Due) -> None:
    if due.key.startswith("later@"):
        turn.remember(remind_at=None)
    if turn.is_guided or turn.talk.silent >= SILENT_BEFORE_ASKING:
        return
    begins = next((o.begins for o in occurrences(turn.athlete, now=turn.now)), None)
    shown = local(begins, turn.zone) if begins is not None else None
    targets = [t for item in turn.tonight.items for t in item.targets]
    turn.send(
        "reminder",
        words.when_text(shown, turn.now),
        *evening_lines(turn.tonight, turn.athlete.units),
        buttons=words.reminder_buttons(turn.today),
        targets=targets,
    )


def _follow_up(turn: Turn, due: Due) -> None:
    athlete = turn.athlete
    evening = held_evening(athlete, date.fromisoformat(due.key))
    if evening is None or is_off(athlete, evening.day):
        return
    day = evening.day
    spoke = {d.day for d in athlete.logs} | {p.day for p in athlete.pains}
    if day in spoke or any(w.on == day for w in athlete.walls):
        turn.remember(silent=0)
        return
    turn.remember(silent=turn.talk.silent + 1)
    if turn.talk.silent < SILENT_BEFORE_ASKING:
        turn.send("follow-up", words.follow_up_text(day))
    elif turn.talk.silent == SILENT_BEFORE_ASKING:
        turn.send("follow-up", words.FIT_TEXT, buttons=words.FIT_BUTTONS)


def _call_set(turn: Turn) -> None:
    turn.remember(rest_until=None)
    item = turn.tonight.current if turn.in_hand is None else turn.tonight.find(turn.in_hand)
    if item is not None and item.is_open:
        lines = words.rest_over_lines(item, turn.athlete.units)
        turn.send("timer", *lines, buttons=words.SET_BUTTONS, targets=item.targets)
