"""What the athlete owns: changes noted and read back, and the answer to "kit"."""

from bot.conversation.trip import here
from bot.conversation.turn import Turn
from bot.wording import kit as words
from bot.wording import trip as trip_words
from bot.wording.number import mass
from core.catalogue import get_exercise
from core.facts import EDGE_GRIP, BandOwned, GripMass, KitChanged
from core.kit.trip import trip_on
from core.replies.act import BandSaid, BandScaled, Kit


def say_kit(turn: Turn) -> None:
    """What the athlete owns, and what would help most."""
    # Loaded when asked for: it takes a while.
    from core.review.next_purchase import next_purchase

    there = here(turn)
    if there.trip is not None:
        turn.say(trip_words.kit_line(there.kit, there.units))
    purchase = next_purchase(turn.athlete, today=turn.today)
    turn.say(*words.kit_lines(turn.athlete, purchase, at_home=there.trip is not None))


def change_kit(turn: Turn, act: Kit) -> None:
    """Note a part of the kit and say what holds now."""
    band = None if act.band is None else _owned(turn, act.band)
    if act.band is not None and band is None:
        return
    on_trip = trip_on(turn.athlete.trips, turn.today) is not None
    turn.note(
        KitChanged(
            for_trip=on_trip,
            plates=act.plates,
            change=act.change,
            pin_kg=act.pin_kg,
            pin_limit_kg=act.pin_limit_kg,
            bar_limit_kg=act.bar_limit_kg,
            edges_mm=act.edges_mm,
            grips=act.grips,
            band=band,
            drop_band=act.drop_band,
            pin=act.pin,
            handle=act.handle,
            own_pin_limit=act.own_pin_limit,
            handle_limit=act.handle_limit,
            belt_kg=act.belt_kg,
            pulley=act.pulley,
            drop_pulley=act.drop_pulley,
        )
    )
    said = _said(turn, act, band)
    if on_trip:
        said = [*trip_words.of_trip(said), trip_words.AT_HOME]
    turn.say(*said)


def _owned(turn: Turn, said: BandSaid | BandScaled) -> BandOwned | None:
    """The band with its help; None where the scale does not tell it, which is said."""
    if isinstance(said, BandSaid):
        return BandOwned(said.name, said.help_kg, said.bottom_kg, said.top_kg)
    body_kg = turn.athlete.body_kg
    if body_kg is not None and said.scale_kg < body_kg:
        return BandOwned(said.name, body_kg - said.scale_kg)
    turn.say(words.scale_line(said.name, said.scale_kg, body_kg, turn.athlete.units))
    return None


def _said(turn: Turn, act: Kit, band: BandOwned | None) -> list[str]:
    """What holds now, of the part that was told."""
    kit, unit = here(turn).kit, turn.athlete.units
    if act.plates is not None:
        line = words.plates_line(kit, unit)
        return [f"{line[0].upper()}{line[1:]}."]
    if act.pin_kg is not None:
        return [f"Pin {mass(kit.pin_kg, unit)}."]
    if act.pin_limit_kg is not None:
        return [f"Pin limit {mass(act.pin_limit_kg, unit)}."]
    if act.bar_limit_kg is not None:
        return [f"Bar {mass(act.bar_limit_kg, unit)}. The door frame has a limit of its own."]
    if act.edges_mm is not None:
        return [f"Edges {', '.join(map(str, kit.edges_mm))} mm."]
    if act.grips is not None:
        return [f"Grips: {', '.join(get_exercise(g).name for g in act.grips)}."]
    if band is not None:
        return [words.band_line(band, unit)]
    if act.drop_band is not None:
        return [f"No {words.band_name(act.drop_band)} any more."]
    if act.belt_kg is not None:
        return [f"Belt {mass(act.belt_kg, unit)}."]
    if act.pulley is not None or act.drop_pulley:
        return [words.pulley_line(act.pulley, unit)]
    return _of_grip(turn, act)


def _of_grip(turn: Turn, act: Kit) -> list[str]:
    kit, unit = here(turn).kit, turn.athlete.units
    parts: tuple[tuple[str, GripMass | None], ...] = (
        ("Pin", act.pin),
        ("Handle", act.handle),
        ("Pin limit", act.own_pin_limit),
        ("Handle limit", act.handle_limit),
    )
    lines: list[str] = []
    for what, one in parts:
        if one is not None:
            lines.append(words.grip_mass_line(what, one.grip, one.kg, unit))
    weighed = act.pin or act.handle
    if weighed is not None:
        grip = weighed.grip if weighed.grip != EDGE_GRIP else "half-crimp"
        lines.append(words.base_line(kit, grip, unit))
    return lines
