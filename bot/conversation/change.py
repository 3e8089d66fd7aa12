"""Changes of kit, settings, plan and state: each becomes a fact and is read back."""

from datetime import datetime
from decimal import Decimal

from bot.conversation import days
from bot.conversation.answer import say_current, say_tonight
from bot.conversation.days import say_next_reminder
from bot.conversation.kit import change_kit
from bot.conversation.trip import here
from bot.conversation.turn import Turn
from bot.wording import change as words
from bot.wording import pain as pain_words
from bot.wording import setup as setup_words
from bot.wording.kit import over_rating
from bot.zones import find_zone, is_zone, zones_at
from core.calendar import local
from core.catalogue import get_exercise
from core.facts import (
    BodyWeighed,
    EveningsPlanned,
    PainFelt,
    SettingChanged,
    StartLoadStated,
    TimeLimited,
    WallDaysPlanned,
)
from core.planning.week import DEFAULT_AT
from core.replies.act import (
    BodyWeight,
    Evenings,
    Kit,
    Later,
    Minutes,
    Move,
    NoWall,
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
    | NoWall
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
        case Evenings(on, at, minutes):
            turn.note(EveningsPlanned(on, at, minutes))
            _say_evenings(turn)
        case WallDays(on):
            turn.note(WallDaysPlanned(on))
            turn.say(words.wall_days_line(on))
        case BodyWeight(kg):
            turn.note(BodyWeighed(kg))
            turn.say(words.bodyweight_line(kg, turn.athlete.units))
        case StartLoad(exercise, load_kg, side):
            turn.note(StartLoadStated(exercise, load_kg, side))
            _say_start(turn, exercise, load_kg)
        case Wall():
            days.note_wall(turn, act)
        case NoWall():
            days.note_no_wall(turn, act)
        case Minutes(minutes):
            _limit_time(turn, minutes)
        case Pain():
            _note_pain(turn, act)
        case Pause() | Move() | Later():
            days.change_when(turn, act)


def _say_start(turn: Turn, slug: str, load_kg: Decimal) -> None:
    exercise, unit = get_exercise(slug), turn.athlete.units
    over = over_rating(here(turn).kit, slug, load_kg, unit) if exercise.from_floor else None
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
        case "rests":
            turn.say(words.rests_line(is_shared=act.value == "shared"))


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


def say_set(turn: Turn) -> None:
    """Close the set-up talk."""
    turn.send("answer", words.SET, words.FIRST_STEPS)


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
