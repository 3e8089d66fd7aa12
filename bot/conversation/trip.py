"""On a trip: which kit is at hand, and what was packed."""

from bot.conversation.turn import Turn
from bot.wording import record as record_words
from bot.wording import trip as words
from core.athlete import Athlete
from core.facts import BandOwned, KitChanged
from core.history import on_day
from core.kit.help import band_help_kg
from core.replies.act import Packed


def here(turn: Turn) -> Athlete:
    """The athlete with the kit that is at hand today."""
    return on_day(turn.athlete, turn.today)


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
