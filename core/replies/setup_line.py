"""Set-up lines: kit, evenings, settings, start loads and body weight."""

from decimal import Decimal

from core.catalogue import get_exercise
from core.facts import PlateCount, Weekday
from core.quantity import Unit, kg_from
from core.replies import bounds
from core.replies.act import (
    BandSaid,
    BodyWeight,
    Evenings,
    Kit,
    Setting,
    StartLoad,
    WallDays,
)
from core.replies.calendar import NO_CLOCK, clock_of, weekday_of, written
from core.replies.kit_line import KIT_RULES, kit_from
from core.replies.node import Clause, Lasting, Plate, SideSaid, Weight
from core.replies.token import Token
from core.replies.trouble import Trouble

SetupAct = Kit | Evenings | WallDays | Setting | StartLoad | BodyWeight

_CHANGES = {"PLUS": "add", "MINUS": "remove"}


def setup_from(clause: Clause, units: Unit) -> SetupAct | Trouble:
    """The set-up act of a clause."""
    match clause.rule:
        case "plates":
            return _plates(clause, units)
        case "edges":
            return _edges(clause)
        case "grips":
            return _grips(clause)
        case rule if rule in KIT_RULES:
            return kit_from(clause, units)
        case "band_dropped":
            return Kit(drop_band=clause.tokens("BAND_NAME")[0].text)
        case "evenings":
            return _evenings(clause)
        case "wall_days":
            days = _days(clause)
            if days is None:
                token = clause.tokens("WALL_DAY")[0]
                return Trouble(token.end_pos, token.end_pos, ("a weekday",))
            return WallDays(days)
        case "no_wall_days":
            return _no_wall_days(clause.tokens("WALL_DAY")[0])
        case "units" | "zone" | "age" | "quiet" | "remind" | "rests":
            return _setting(clause)
        case _:
            return _weighed(clause, units)


def _weighed(clause: Clause, units: Unit) -> SetupAct | Trouble:
    """The acts that hold one mass."""
    weight = next(item for item in clause.items if isinstance(item, Weight))
    mass_kg = kg_from(weight.number, weight.unit or units)
    limit = clause.rule in ("bar_limit", "pin_limit")
    most = bounds.MOST_RATING_KG if limit else bounds.MOST_LOAD_KG
    trouble = bounds.mass(mass_kg, weight.at, weight.end, most=most, what="a mass")
    if trouble is not None:
        return trouble
    match clause.rule:
        case "pin":
            return Kit(pin_kg=mass_kg)
        case "pin_limit":
            return Kit(pin_limit_kg=mass_kg)
        case "bar_limit":
            return Kit(bar_limit_kg=mass_kg)
        case "band_owned":
            return Kit(band=BandSaid(clause.tokens("BAND_NAME")[0].text, mass_kg))
        case "start_load":
            return _start_load(clause, mass_kg)
        case _ if mass_kg < bounds.LEAST_BODY_KG:
            least = f"a body weight from {bounds.LEAST_BODY_KG} kg"
            return Trouble(weight.at, weight.end, (least,))
        case _:
            return BodyWeight(mass_kg)


def _start_load(clause: Clause, load_kg: Decimal) -> StartLoad | Trouble:
    sides = [item for item in clause.items if isinstance(item, SideSaid)]
    if len(sides) > 1:
        return Trouble(sides[1].at, sides[1].end, ("one side",))
    slug = clause.tokens("EXERCISE")[0].text
    return StartLoad(slug, load_kg, sides[0].side if sides else "both")


def _plates(clause: Clause, units: Unit) -> Kit | Trouble:
    counts: dict[Decimal, int] = {}
    unit = units
    # A unit behind the last plate holds for those in front of it that have none.
    for item in reversed(clause.items):
        if not isinstance(item, Plate):
            continue
        unit = item.weight.unit or unit
        mass_kg = kg_from(item.weight.number, unit)
        trouble = _plate_trouble(item, mass_kg)
        if trouble is not None:
            return trouble
        counts[mass_kg] = counts.get(mass_kg, 0) + (int(item.many.number) if item.many else 1)
    plates = tuple(PlateCount(mass_kg, many) for mass_kg, many in reversed(counts.items()))
    if clause.has("PLUS"):
        return Kit(plates=plates, change="add")
    return Kit(plates=plates, change="remove" if clause.has("MINUS") else "set")


def _plate_trouble(plate: Plate, mass_kg: Decimal) -> Trouble | None:
    many, weight = plate
    trouble = _whole(many, least=1, most=bounds.MOST_PLATES, what="plates") if many else None
    most = bounds.MOST_LOAD_KG
    return trouble or bounds.mass(mass_kg, weight.at, weight.end, most=most, what="a plate")


def _edges(clause: Clause) -> Kit | Trouble:
    numbers = clause.tokens("NUMBER")
    for token in numbers:
        trouble = bounds.edge(token)
        if trouble is not None:
            return trouble
    return Kit(edges_mm=tuple(int(token.number) for token in numbers))


def _grips(clause: Clause) -> Kit | Trouble:
    names = clause.tokens("EXERCISE")
    for token in names:
        exercise = get_exercise(token.text)
        if "grip" not in exercise.needs:
            return Trouble(token.start_pos, token.end_pos, ("an exercise done with a grip",))
    return Kit(grips=tuple(dict.fromkeys(token.text for token in names)))


def _days(clause: Clause) -> tuple[Weekday, ...] | None:
    days = [weekday_of(token) for token in clause.tokens("WEEKDAY")]
    return tuple(dict.fromkeys(days)) or None


def _no_wall_days(said: Token) -> WallDays | Trouble:
    if said.text == "wall days":
        return WallDays(())
    # All of them, or the next one only?
    return Trouble(said.end_pos, said.end_pos, ("wall days, for all of them",), ("s",))


def _evenings(clause: Clause) -> Evenings | Trouble:
    once = ("one time and one length",)
    for token in clause.tokens("CLOCK")[1:]:
        return Trouble(token.start_pos, token.end_pos, once)
    lengths = [item for item in clause.items if isinstance(item, Lasting)]
    for length in lengths[1:]:
        return Trouble(length.at, length.end, once)
    at: str | None = None
    minutes: int | None = None
    for token in clause.tokens("CLOCK"):
        clock = clock_of(token)
        if clock is None:
            return Trouble(token.start_pos, token.end_pos, NO_CLOCK)
        at = written(clock)
    for length in lengths:
        trouble = bounds.minutes(length)
        if trouble is not None:
            return trouble
        minutes = int(length.minutes)
    days = _days(clause)
    if days is None and at is None and minutes is None:
        end = clause.tokens("EVENING")[0].end_pos
        return Trouble(end, end, ("a weekday", "a time of day", "minutes"))
    return Evenings(days, at, minutes)


def _setting(clause: Clause) -> Setting | Trouble:
    numbers = clause.tokens("NUMBER")
    match clause.rule:
        case "units":
            return Setting("units", "lb" if clause.has("LB") else "kg")
        case "zone":
            return Setting("zone", clause.tokens("ZONE_TEXT")[0].text)
        case "age":
            trouble = _whole(numbers[0], least=1, most=bounds.MOST_AGE, what="years")
            return trouble or Setting("age", str(int(numbers[0].number)))
        case "remind":
            return _remind(clause)
        case "rests":
            return Setting("rests", "shared" if clause.has("SHARED_RESTS") else "full")
        case _:
            return _quiet(clause.tokens("CLOCK"))


def _remind(clause: Clause) -> Setting | Trouble:
    minutes, at, end = next(
        (item.number, item.start_pos, item.end_pos)
        if isinstance(item, Token)
        else (item.minutes, item.at, item.end)
        for item in clause.items
        if isinstance(item, Lasting) or (isinstance(item, Token) and item.type == "NUMBER")
    )
    most = bounds.MOST_MINUTES
    trouble = bounds.whole(minutes, at, end, least=0, most=most, what="minutes")
    return trouble or Setting("remind_min", str(int(minutes)))


def _quiet(clocks: list[Token]) -> Setting | Trouble:
    hours: list[str] = []
    for token in clocks:
        clock = clock_of(token)
        if clock is None:
            return Trouble(token.start_pos, token.end_pos, NO_CLOCK)
        hours.append(written(clock))
    return Setting("quiet", "-".join(hours))


def _whole(token: Token, *, least: int, most: int, what: str) -> Trouble | None:
    return bounds.whole(
        token.number, token.start_pos, token.end_pos, least=least, most=most, what=what
    )
