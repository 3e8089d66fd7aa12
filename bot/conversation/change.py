"""Changes of kit, settings, plan and state: each becomes a fact and is read back."""

from datetime import date, datetime, timedelta
from decimal import Decimal

from bot.conversation.answer import say_current, say_tonight
from bot.conversation.kit import change_kit
from bot.conversation.moments import moments, occurrences
from bot.conversation.turn import Turn
from bot.wording import change as words
from bot.wording import pain as pain_words
from bot.wording import setup as setup_words
from bot.wording.kit import over_rating
from bot.wording.number import count, short_day
from bot.zones import find_zone, is_zone, zones_at
from core.calendar import local
from core.catalogue import get_exercise
from core.facts import (
    BodyWeighed,
    CameBack,
    DeloadAsked,
    EveningDropped,
    EveningMoved,
    EveningsPlanned,
    PainFelt,
    Paused,
    SettingChanged,
    StartLoadStated,
    TimeLimited,
    WallDaysPlanned,
    WallVisited,
)
from core.planning.week import DEFAULT_AT, home_evenings
from core.replies.act import (
    BodyWeight,
    Evenings,
    Kit,
    Later,
    Minutes,
    Move,
    Pain,
    Pause,
    Setting,
    StartLoad,
    Wall,
    WallDays,
)

CHANGES = (
    BodyWeight
    | Evenings
    | Kit
    | Later
    | Minutes
    | Move
    | Pain
    | Pause
    | Setting
    | StartLoad
    | Wall
    | WallDays
)

SET_UP = Kit | Evenings | WallDays | Setting | BodyWeight | StartLoad
"""The changes that answer set-up questions."""


def change(turn: Turn, act: CHANGES) -> None:
    """Note the change and say what holds now."""
    match act:
        case Kit():
            change_kit(turn, act)
        case Setting():
            _change_setting(turn, act)
        case Evenings(days, at, minutes):
            turn.note(EveningsPlanned(days, at, minutes))
            _say_evenings(turn)
        case WallDays(days):
            turn.note(WallDaysPlanned(days))
            turn.say(f"Wall days: {words.days_text(days)}.")
        case BodyWeight(kg):
            turn.note(BodyWeighed(kg))
            turn.say(words.bodyweight_line(kg, turn.athlete.units))
        case StartLoad(exercise, load_kg, side):
            turn.note(StartLoadStated(exercise, load_kg, side))
            _say_start(turn, exercise, load_kg)
        case Wall():
            _note_wall(turn, act)
        case Minutes(minutes):
            _limit_time(turn, minutes)
        case Pain():
            _note_pain(turn, act)
        case Pause() | Move() | Later():
            _change_when(turn, act)


def _say_start(turn: Turn, slug: str, load_kg: Decimal) -> None:
    exercise, unit = get_exercise(slug), turn.athlete.units
    over = over_rating(turn.athlete.kit, slug, load_kg, unit) if exercise.from_floor else None
    turn.say(words.start_line(exercise.name, load_kg, unit), over or "")


def names_zone(text: str, now: datetime) -> bool:
    """True when the text is a zone, a city in one, or a time that some familiar zone shows."""
    if is_zone(text) or find_zone(text):
        return True
    try:
        return bool(zones_at(text, now))
    except ValueError:
        return False


def _change_setting(turn: Turn, act: Setting) -> None:
    if act.name == "zone":
        _change_zone(turn, act.value)
        return
    turn.note(SettingChanged(act.name, act.value))
    match act.name:
        case "units":
            turn.say(f"Loads in {act.value}.")
        case "age":
            turn.say(pain_words.age_line(int(act.value)))
        case "quiet":
            start, _, end = act.value.partition("-")
            turn.say(f"Quiet from {start} to {end}: no reminders then.")
        case "remind_min":
            turn.say(f"Reminder {act.value} min before.")
            say_next_reminder(turn)


def _change_zone(turn: Turn, text: str) -> None:
    zone = text if is_zone(text) else find_zone(text)
    if zone is not None:
        turn.note(SettingChanged("zone", zone))
        turn.say(f"Time zone {zone}: it is {local(turn.now, zone):%H:%M} there.")
        if turn.athlete.plan.days:
            say_next_reminder(turn)
        return
    try:
        zones = zones_at(text, turn.now)
    except ValueError:
        zones = ()
    if zones:
        question, buttons = setup_words.zone_choices(zones)
        turn.say(question, buttons=buttons)
    else:
        turn.say(setup_words.zone_unknown(text))


def _say_evenings(turn: Turn) -> None:
    athlete = turn.athlete
    if not athlete.plan.days:
        turn.say("Which days? For example: evenings tue thu 20:30 60 min")
        return
    turn.say(words.evenings_line(athlete, athlete.plan.at or DEFAULT_AT))
    if athlete.zone is None:
        turn.say("No reminders until I know your time zone: zone Oslo")
    else:
        say_next_reminder(turn)


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


def say_set(turn: Turn) -> None:
    """Close the set-up talk."""
    turn.send("answer", words.SET, words.FIRST_STEPS)


def _note_wall(turn: Turn, act: Wall) -> None:
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


def _note_pain(turn: Turn, act: Pain) -> None:
    pain = PainFelt(act.site, act.side, act.score, act.flags)
    turn.note(pain)
    turn.say(*pain_words.pain_lines(pain))
    tonight = turn.tonight
    stopped = [i.exercise.name for i in tonight.stopped]
    instead = [i.exercise.name for i in tonight.items if i.is_open]
    if stopped:
        turn.say(
            f"Not tonight: {', '.join(stopped)}.",
            f"Still on: {', '.join(instead)}." if instead else "",
        )


def _limit_time(turn: Turn, minutes: int) -> None:
    """So many minutes from now: tonight anew, and the next exercise if this one found no room."""
    turn.note(TimeLimited(minutes))
    say_tonight(turn)
    if turn.is_guided and turn.tonight.items:
        item = turn.tonight.find(turn.in_hand) if turn.in_hand is not None else None
        if item is None or not item.is_open:
            turn.remember(rest_until=None)
            say_current(turn)


def _change_when(turn: Turn, act: Pause | Move | Later) -> None:
    match act:
        case Pause(until, cause) if until == turn.today + timedelta(days=1) and cause == "rest":
            # A moved evening is known by the day it was planned for.
            held = home_evenings(turn.athlete, since=turn.today, until=turn.today)
            turn.note(EveningDropped(held[0].planned if held else turn.today))
            turn.say("Not tonight, then. No other evening gets longer for it.")
            say_next_reminder(turn)
        case Pause(until, cause):
            turn.note(Paused(until, cause))
            end = f"until {short_day(until)}" if until else 'until you type "back"'
            turn.say(f"Paused {end}.", pain_words.PAUSE[cause])
        case Later(minutes):
            turn.remember(remind_at=turn.now + timedelta(minutes=minutes))
            turn.say(f"Again in {count(minutes, 'minute')}.")
        case Move(to):
            _move(turn, to)


def _move(turn: Turn, to: date | datetime) -> None:
    coming = occurrences(turn.athlete, now=turn.now)
    planned = coming[0].day if coming else turn.today
    at = turn.athlete.plan.at or DEFAULT_AT
    moment = f"{to:%Y-%m-%dT%H:%M}" if isinstance(to, datetime) else f"{to:%Y-%m-%d}T{at}"
    turn.note(EveningMoved(planned, moment))
    begins = datetime.fromisoformat(moment)
    turn.say(
        f"The evening of {short_day(planned)} is on {short_day(begins.date())} at {begins:%H:%M}."
    )
    say_next_reminder(turn)


def come_back(turn: Turn) -> None:
    """End a pause."""
    standing = [p for p in turn.athlete.pains if p.pain.flags and p.cleared is None]
    turn.note(CameBack())
    turn.say("Welcome back. How long a part was not loaded decides how it starts again.")
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
