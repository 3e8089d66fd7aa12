"""Days that are not as planned: the wall, evenings moved or called off, time off and the return."""

from datetime import date, datetime, timedelta

from bot.conversation.moments import moments, occurrences
from bot.conversation.trip import pack
from bot.conversation.turn import Turn
from bot.wording import change as words
from bot.wording import pain as pain_words
from bot.wording import trip as trip_words
from bot.wording.number import count, short_day
from core.calendar import local, weekday
from core.facts import (
    CameBack,
    DeloadAsked,
    EveningDropped,
    EveningMoved,
    Paused,
    WallDropped,
    WallVisited,
)
from core.kit.trip import trip_on
from core.planning.week import DEFAULT_AT, home_evenings
from core.replies.act import Later, Move, NoWall, Pause, Wall

WALL_WITHIN_DAYS = 7
"""How far ahead the next day at the wall is looked for. House rule."""


def note_wall(turn: Turn, act: Wall) -> None:
    """At the wall, today or another day."""
    on = act.when or turn.today
    evening = home_evenings(turn.athlete, since=on, until=on)
    is_news = bool(evening) and all(w.on != on for w in turn.athlete.walls)
    turn.note(WallVisited(on, act.minutes, act.rpe))
    turn.say(words.wall_line(on, turn.today, act.minutes, replaces=is_news))
    if on == turn.today and is_news:
        hips = [i for i in turn.tonight.items if i.exercise.block == "hips"]
        if hips:
            names = ", ".join(i.exercise.name for i in hips)
            turn.say(f"Hips may stay if you like: {names}.")


def note_no_wall(turn: Turn, act: NoWall) -> None:
    """Not at the wall after all: neither as planned nor as told."""
    on = act.when or _wall_day(turn)
    if on is None or not _is_wall_day(turn, on):
        turn.say(words.no_wall_known(on))
        return
    turn.note(WallDropped(on))
    turn.say(words.no_wall_line(on, turn.today))


def _wall_day(turn: Turn) -> date | None:
    """The day meant where none was said: today, or yesterday, or the next one."""
    today = turn.today
    near = [today, today - timedelta(days=1)]
    near += [today + timedelta(days=n) for n in range(1, WALL_WITHIN_DAYS + 1)]
    return next((day for day in near if _is_wall_day(turn, day)), None)


def _is_wall_day(turn: Turn, day: date) -> bool:
    athlete = turn.athlete
    if any(w.on == day for w in athlete.walls):
        return True
    return weekday(day) in athlete.plan.wall_days and day not in athlete.no_walls


def change_when(turn: Turn, act: Pause | Move | Later) -> None:
    """An evening moved or called off, a reminder put off, or time off."""
    match act:
        case Pause(until, cause) if until == turn.today + timedelta(days=1) and cause == "rest":
            # A moved evening is known by the day it was planned for.
            held = home_evenings(turn.athlete, since=turn.today, until=turn.today)
            turn.note(EveningDropped(held[0].planned if held else turn.today))
            turn.say("Not tonight, then. No other evening gets longer for it.")
            say_next_reminder(turn)
        case Pause():
            _pause(turn, act)
        case Later(minutes):
            turn.remember(remind_at=turn.now + timedelta(minutes=minutes))
            turn.say(f"Again in {count(minutes, 'minute')}.")
        case Move():
            _move(turn, act)


def _pause(turn: Turn, act: Pause) -> None:
    """Time off; on a trip "away with …" without an end only says what is there."""
    is_on = trip_on(turn.athlete.trips, turn.today) is not None
    if act.packed is None or act.until is not None or not is_on:
        turn.note(Paused(act.until, act.cause))
        end = f"until {short_day(act.until)}" if act.until else 'until you type "back"'
        turn.say(f"Paused {end}.")
    if act.packed is not None:
        pack(turn, act.packed)
    trip = trip_on(turn.athlete.trips, turn.today)
    if trip is not None and trip.kit is not None:
        turn.say(trip_words.ON_THE_WAY)
    else:
        turn.say(pain_words.PAUSE[act.cause])


def _move(turn: Turn, act: Move) -> None:
    evening = _evening_meant(turn, act.evening)
    if evening is None:
        return
    at = turn.athlete.plan.at or DEFAULT_AT
    to = act.to
    moment = f"{to:%Y-%m-%dT%H:%M}" if isinstance(to, datetime) else f"{to:%Y-%m-%d}T{at}"
    begins = datetime.fromisoformat(moment)
    taken = home_evenings(turn.athlete, since=begins.date(), until=begins.date())
    turn.note(EveningMoved(evening, moment))
    turn.say(
        f"The evening of {short_day(evening)} is on {short_day(begins.date())} at {begins:%H:%M}.",
        words.takes_place(begins.date()) if any(e.planned != evening for e in taken) else "",
    )
    say_next_reminder(turn)


def _evening_meant(turn: Turn, on: date | None) -> date | None:
    """The planned day of the evening held on that day, of the next one where no day was said.

    Where none is held on it, which are is said.
    """
    coming = occurrences(turn.athlete, now=turn.now)
    if on is None:
        return coming[0].day if coming else turn.today
    held = home_evenings(turn.athlete, since=on, until=on)
    if held:
        return held[0].planned
    turn.say(words.no_evening_on(on, [o.held for o in coming]))
    return None


def say_next_reminder(turn: Turn) -> None:
    """Say when the next evening is and when its reminder comes."""
    coming = [o for o in occurrences(turn.athlete, now=turn.now) if o.begins > turn.now]
    if not coming:
        turn.say(words.reminder_line(None, None))
        return
    begins = coming[0].begins
    planned = moments(turn.athlete, turn.talk, now=turn.now)
    reminders = [d for d in planned if d.kind == "reminder"]
    at = next((d.at for d in reminders if d.key.startswith(str(coming[0].day))), begins)
    turn.say(words.reminder_line(local(begins, turn.zone), local(at, turn.zone)))


def come_back(turn: Turn) -> None:
    """End a pause."""
    standing = [p for p in turn.athlete.pains if p.pain.flags and p.cleared is None]
    trip = trip_on(turn.athlete.trips, turn.today)
    turn.note(CameBack())
    turn.say("Welcome back. How long a part was not loaded decides how it starts again.")
    if trip is not None and trip.kit is not None:
        turn.say(trip_words.HOME_AGAIN)
    if standing:
        still = [p for p in turn.athlete.pains if p.pain.flags and p.cleared is None]
        words_of = pain_words.sign_still_open if still else pain_words.sign_cleared
        turn.say(*(words_of(dated) for dated in standing))
    say_next_reminder(turn)


def deload(turn: Turn) -> None:
    """Ask for an easier week from today."""
    turn.note(DeloadAsked())
    until = turn.today + timedelta(days=7)
    turn.say(
        f"Easier until {short_day(until)}: about half of the sets, loads down by a tenth, "
        "no increases."
    )
