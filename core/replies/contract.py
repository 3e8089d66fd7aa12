"""A reading as plain data for JSON. Masses are rounded to the gram here and nowhere before."""

from datetime import date, datetime
from decimal import Decimal

from core.facts import GripMass
from core.quantity import to_gram
from core.replies.act import (
    Act,
    Ask,
    BandSaid,
    BandScaled,
    BodyWeight,
    Done,
    Evenings,
    Fix,
    Kit,
    Later,
    Log,
    Minutes,
    Misread,
    Move,
    NoWall,
    Packed,
    Pain,
    Pause,
    Reading,
    SetSaid,
    Setting,
    StartLoad,
    Wall,
    WallDays,
)

Json = str | int | float | bool | None | list["Json"] | dict[str, "Json"]

_NAMING = frozenset({"next", "why", "skip", "progress", "swap"})
_BY_GRIP = (
    ("pin", "pin"),
    ("handle", "handle"),
    ("own_pin_limit", "pin_limit"),
    ("handle_limit", "handle_limit"),
)
"""Parts of the kit that belong to one grip, and what they are called in JSON."""

_NUMBERED = frozenset({"age", "remind_min"})


def reading_as_json(reading: Reading) -> dict[str, Json]:
    """The reading in the shape of the reader's contract."""
    return {
        "text": reading.text,
        "acts": [_act(act) for act in reading.acts],
        "misread": _misread(reading.misread) if reading.misread else None,
    }


def _misread(misread: Misread) -> dict[str, Json]:
    return {
        "clause": misread.clause,
        "at": misread.at,
        "saw": misread.saw,
        "expected": list(misread.expected),
        "try": list(misread.try_),
    }


def _act(act: Act) -> dict[str, Json]:
    match act:
        case Log():
            return {"act": "log", **_log(act)}
        case Fix(log):
            return {"act": "fix", "log": {"act": "log", **_log(log)}}
        case Done(scope, effort):
            return {"act": "done", "scope": scope, "effort": effort}
        case Ask(about, exercise):
            return {"act": about, "exercise": exercise} if about in _NAMING else {"act": about}
        case Kit():
            return _kit(act)
        case _:
            return _evening(act)


def _evening(act: Act) -> dict[str, Json]:
    match act:
        case Minutes(minutes):
            return {"act": "time", "minutes": minutes}
        case Wall(when, minutes, rpe):
            return {
                "act": "wall",
                "when": _day(when),
                "minutes": minutes,
                "rpe": _number(rpe),
            }
        case NoWall(when):
            return {"act": "no_wall", "when": _day(when)}
        case Move(to, evening):
            moved: dict[str, Json] = {"act": "move", "to": _day(to)}
            return moved if evening is None else {**moved, "evening": _day(evening)}
        case Later(minutes):
            return {"act": "later", "minutes": minutes}
        case Pause(until, cause, packed):
            pause: dict[str, Json] = {"act": "pause", "until": _day(until), "cause": cause}
            return pause if packed is None else {**pause, "with": _packed(packed)}
        case _:
            return _athlete(act)


def _packed(packed: Packed) -> dict[str, Json]:
    """What was said to be there, and nothing else."""
    said: dict[str, Json] = {}
    if packed.bands:
        said["bands"] = list(packed.bands)
    if packed.edges_mm:
        said["edges_mm"] = list(packed.edges_mm)
    if packed.bar:
        said["bar"] = True
    return said


def _athlete(act: Act) -> dict[str, Json]:
    match act:
        case BodyWeight(kg):
            return {"act": "bodyweight", "kg": _mass(kg)}
        case Pain(site, side, score, flags):
            return {
                "act": "pain",
                "site": site,
                "side": side,
                "score": score,
                "flags": list(flags),
            }
        case Evenings(days, at, minutes):
            return {
                "act": "evenings",
                "days": None if days is None else list(days),
                "at": at,
                "minutes": minutes,
            }
        case WallDays(days):
            return {"act": "wall_days", "days": list(days)}
        case Setting(name, value):
            return {"act": "setting", name: _setting(name, value)}
        case StartLoad(exercise, load_kg, side):
            return {
                "act": "start_load",
                "exercise": exercise,
                "load_kg": _mass(load_kg),
                "side": side,
            }
        case _:
            raise TypeError(f"no JSON for {type(act).__name__}")


def _log(log: Log) -> dict[str, Json]:
    return {
        "exercise": log.exercise,
        "sets": [_set(one) for one in log.sets],
        "edge_mm": log.edge_mm,
        "note": log.note,
    }


def _set(one: SetSaid) -> dict[str, Json]:
    said: dict[str, Json] = {
        "side": one.side,
        "load_kg": _mass(one.load_kg),
        "band": one.band,
        "reps": one.reps,
        "hold_s": one.hold_s,
        "effort": one.effort,
        "rpe": _number(one.rpe),
        "left": one.left,
    }
    if one.value is not None:
        said["value"] = _number(one.value)
    return said


def _kit(kit: Kit) -> dict[str, Json]:
    said: dict[str, Json] = {"act": "kit"}
    if kit.plates is not None:
        said["plates"] = [{"kg": _mass(p.kg), "count": p.count} for p in kit.plates]
    if kit.change != "set":
        said["change"] = kit.change
    for name in ("pin_kg", "pin_limit_kg", "bar_limit_kg", "belt_kg"):
        mass_kg: Decimal | None = getattr(kit, name)
        if mass_kg is not None:
            said[name] = _mass(mass_kg)
    for name, shown in _BY_GRIP:
        of_grip: GripMass | None = getattr(kit, name)
        if of_grip is not None:
            said[shown] = {"grip": of_grip.grip, "kg": _mass(of_grip.kg)}
    if kit.edges_mm is not None:
        said["edges_mm"] = list(kit.edges_mm)
    if kit.grips is not None:
        said["grips"] = list(kit.grips)
    if kit.band is not None:
        said["band"] = _band(kit.band)
    if kit.drop_band is not None:
        said["drop_band"] = kit.drop_band
    if kit.pulley is not None:
        pulley = kit.pulley
        said["pulley"] = {"hung_kg": _mass(pulley.hung_kg), "taken_kg": _mass(pulley.taken_kg)}
    if kit.drop_pulley:
        said["drop_pulley"] = True
    return said


def _band(band: BandSaid | BandScaled) -> dict[str, Json]:
    """What was measured of a band, and nothing else."""
    if isinstance(band, BandScaled):
        return {"name": band.name, "scale_kg": _mass(band.scale_kg)}
    said: dict[str, Json] = {"name": band.name, "help_kg": _mass(band.help_kg)}
    if band.bottom_kg is not None and band.top_kg is not None:
        said |= {"bottom_kg": _mass(band.bottom_kg), "top_kg": _mass(band.top_kg)}
    return said


def _setting(name: str, value: str) -> Json:
    if name in _NUMBERED:
        return int(value)
    return list(value.split("-")) if name == "quiet" else value


def _mass(mass_kg: Decimal | None) -> float | None:
    return None if mass_kg is None else float(to_gram(mass_kg))


def _number(number: Decimal | None) -> float | int | None:
    if number is None:
        return None
    return int(number) if number == number.to_integral_value() else float(number)


def _day(moment: date | datetime | None) -> str | None:
    if isinstance(moment, datetime):
        return moment.isoformat(timespec="minutes")
    return None if moment is None else moment.isoformat()
