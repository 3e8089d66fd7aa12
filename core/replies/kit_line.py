"""Set-up lines for the odder parts of a kit: pins and handles of one grip, belt, pulley, and
bands that were measured."""

from decimal import Decimal

from core.catalogue import get_exercise
from core.facts import EDGE_GRIP, GripMass, PulleyOwned
from core.quantity import Unit, kg_from
from core.replies import bounds
from core.replies.act import BandSaid, BandScaled, Kit
from core.replies.node import Clause, Weight
from core.replies.trouble import Trouble

KIT_RULES = frozenset(
    {"own_pin", "own_pin_limit", "handle", "handle_limit", "belt", "pulley", "pulley_dropped"}
    | {"band_scaled", "band_measured"}
)
"""Rules of the grammar that are read here."""

_RATINGS = ("own_pin_limit", "handle_limit")


def kit_from(clause: Clause, units: Unit) -> Kit | Trouble:
    """The part of the kit that a clause of ``KIT_RULES`` tells of."""
    masses_kg: list[Decimal] = []
    most = bounds.MOST_RATING_KG if clause.rule in _RATINGS else bounds.MOST_LOAD_KG
    for weight in (item for item in clause.items if isinstance(item, Weight)):
        mass_kg = kg_from(weight.number, weight.unit or units)
        trouble = bounds.mass(mass_kg, weight.at, weight.end, most=most, what="a mass")
        if trouble is not None:
            return trouble
        masses_kg.append(mass_kg)
    match clause.rule:
        case "pulley":
            return Kit(pulley=PulleyOwned(*masses_kg))
        case "pulley_dropped":
            return Kit(drop_pulley=True)
        case "belt":
            return Kit(belt_kg=masses_kg[0])
        case "band_scaled" | "band_measured":
            return _band(clause, masses_kg)
        case _:
            return _of_grip(clause, masses_kg[0])


def _band(clause: Clause, masses_kg: list[Decimal]) -> Kit:
    name = clause.tokens("BAND_NAME")[0].text
    if clause.rule == "band_scaled":
        return Kit(band=BandScaled(name, masses_kg[0]))
    bottom_kg, top_kg = masses_kg
    # The pull of a band falls about evenly with its length: the mean of the movement is half way.
    return Kit(band=BandSaid(name, (bottom_kg + top_kg) / 2, bottom_kg, top_kg))


def _of_grip(clause: Clause, mass_kg: Decimal) -> Kit | Trouble:
    named = clause.tokens("EXERCISE")
    if named and "grip" not in get_exercise(named[0].text).needs:
        return Trouble(named[0].start_pos, named[0].end_pos, ("an exercise done with a grip",))
    mass = GripMass(named[0].text if named else EDGE_GRIP, mass_kg)
    match clause.rule:
        case "own_pin":
            return Kit(pin=mass)
        case "own_pin_limit":
            return Kit(own_pin_limit=mass)
        case "handle":
            return Kit(handle=mass)
        case _:
            return Kit(handle_limit=mass)
