"""Words around logs: what is left, what was undone, what could not be matched."""

from bot.wording.exercise import sets_text
from bot.wording.kit import band_name, over_rating
from bot.wording.number import count, duration, listed, mass, short_day
from core.catalogue import get_exercise
from core.facts import (
    PAIR,
    BodyWeighed,
    CameBack,
    DeloadAsked,
    EveningDropped,
    EveningMoved,
    EveningsPlanned,
    EveningStarted,
    Fact,
    KitChanged,
    LogConfirmed,
    Logged,
    PainFelt,
    Paused,
    QuestionSkipped,
    SetDone,
    SettingChanged,
    Side,
    Skipped,
    StartLoadStated,
    Swapped,
    TimeLimited,
    Undone,
    WallDaysPlanned,
    WallDropped,
    WallVisited,
)
from core.kit.inventory import Inventory
from core.kit.loads import loads_from_floor
from core.planning import Item
from core.quantity import Unit

NOTHING_IN_HAND = "No exercise is in hand. Name one, for example: crimp 4x22kg ok, or type start."
NOT_BEGUN = (
    "Nothing is begun tonight, so I count nothing. Type start, or log an exercise: crimp 4x22kg ok"
)


def no_sides(name: str) -> str:
    """A left and a right where there is none."""
    return (
        f"Not counted: {name} has no left and right. Name the exercise, for example: "
        "crimp L 4x22 R 4x20"
    )


def unknown_band(name: str) -> str:
    """A band whose help is not known."""
    bands = f"do the {band_name(name)}" if PAIR in name else f"does the {band_name(name)}"
    return f"How much {bands} take off? For example: band {name} 12kg"


def unmakeable(kit: Inventory, grip: str, done: tuple[SetDone, ...], unit: Unit) -> list[str]:
    """A hint when a logged load cannot be made from the plates on record, or may not be lifted."""
    heaviest = max((s.load_kg for s in done if s.load_kg is not None), default=None)
    over = None if heaviest is None else over_rating(kit, grip, heaviest, unit)
    if over is not None:
        return [over]
    if not kit.plates:
        return []
    table = loads_from_floor(kit, grip)
    odd = [kg for s in done if (kg := s.load_kg) is not None and table.at_most(kg) != kg]
    near = [table.at_most(odd[0]), table.step_above(odd[0])] if odd else []
    names = " or ".join(mass(kg, unit) for kg in near if kg is not None)
    if not names:
        return []
    return [f"Your plates make {names}, not {mass(odd[0], unit)}. Counted as typed."]


def sets_left(item: Item) -> str:
    """How much of an exercise is still to do."""
    words = []
    for target, left in zip(item.targets, item.left, strict=True):
        if left:
            side = f" {target.side}" if target.side != "both" else ""
            words.append(f"{left} of {target.sets}{side}")
    if len(words) == 2 and len(set(item.left)) == 1:
        words = [f"{item.left[0]} of {item.targets[0].sets} a hand"]
    return f"Still to do: {listed(words)}."


def rest_line(rest_s: int) -> str:
    """The rest before the next set. [s]"""
    return f"Rest {duration(rest_s)}, I call you."


def turn_line(name: str, rest_s: int) -> str:
    """The rest before the next set of the exercise whose turn it is. [s]"""
    return f"Then {name}: {duration(rest_s)} until it has rested, I call you."


def how_was(side: Side | None) -> str:
    """The question for the effort that was not said, of one side or of all."""
    return f"How was {'it' if side is None else f'the {side}'}? That decides the next load."


def fact_line(fact: Fact, unit: Unit) -> str:
    """A fact in a few words, for reading back what was undone."""
    match fact:
        case Logged(exercise=slug, sets=sets):
            exercise = get_exercise(slug)
            return f"{exercise.name} {sets_text(exercise, sets, unit)}"
        case Skipped(exercise) | Swapped(exercise):
            return f"{get_exercise(exercise).name} left out"
        case WallDropped(on):
            return f"no wall on {short_day(on)}"
        case KitChanged(for_trip=True):
            return "the kit for the trip"
        case WallVisited(on):
            return f"wall on {short_day(on)}"
        case PainFelt(site):
            return f"pain {site or ''}".strip()
        case BodyWeighed(kg):
            return f"body weight {mass(kg, unit)}"
        case StartLoadStated(exercise, load_kg):
            return f"start load of {get_exercise(exercise).name}, {mass(load_kg, unit)}"
        case SettingChanged(name, value):
            return f"{name.replace('_min', '')} {value}"
        case TimeLimited(minutes):
            return f"only {count(minutes, 'minute')}"
        case EveningMoved(on):
            return f"the move of {short_day(on)}"
        case EveningDropped(on):
            return f"no evening on {short_day(on)}"
        case Undone():
            return "the fix before it"
        case _:
            return _PLAIN[type(fact)]


_PLAIN: dict[type, str] = {
    KitChanged: "the change of kit",
    EveningsPlanned: "the planned evenings",
    WallDaysPlanned: "the wall days",
    EveningStarted: "the start of the evening",
    Paused: "the pause",
    CameBack: "the return",
    DeloadAsked: "the easier week",
    QuestionSkipped: "the skipped question",
    LogConfirmed: "the yes to a load far from the others",
}
