"""On a trip: which kit is at hand, and what was packed."""

from datetime import timedelta

from bot.conversation.turn import Turn
from bot.wording import record as record_words
from bot.wording import trip as words
from core.athlete import Athlete
from core.facts import BandOwned, KitChanged
from core.history import on_day
from core.kit.help import band_help_kg
from core.planning.evening import LOOK_AHEAD
from core.planning.week import home_evenings
from core.replies.act import Packed


def here(turn: Turn) -> Athlete:
    """The athlete with the kit that is at hand today."""
    return on_day(turn.athlete, turn.today)


def is_last_away(turn: Turn) -> bool:
    """True with a trip's kit at hand where the next evening is held at home again."""
    trip = here(turn).trip
    if trip is None:
        return False
    tomorrow = turn.today + timedelta(days=1)
    coming = home_evenings(turn.athlete, since=tomorrow, until=turn.today + LOOK_AHEAD)
    return bool(coming) and not trip.covers(coming[0].day)


def pack(turn: Turn, packed: Packed) -> None:
    """Note what is there on the trip that is on, and say it."""
    unknown: list[str] = []
    for name in packed.bands:
        help_kg = band_help_kg(turn.athlete.kit, name)
        if help_kg is None:
            unknown.append(name)
        else:
            turn.note(KitChanged(band=BandOwned(name, help_kg), for_trip=True))
    if packed.edges_mm:
        turn.note(KitChanged(edges_mm=packed.edges_mm, for_trip=True))
    if packed.bar:
        turn.note(KitChanged(bar=True, for_trip=True))
    there = here(turn)
    if there.trip is not None:
        turn.say(words.kit_line(there.kit, there.units))
    turn.say(*(record_words.unknown_band(name) for name in unknown))
