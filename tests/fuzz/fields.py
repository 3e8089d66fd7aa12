"""The JSON of a reading, field by field, as the reader's contract has it."""

import re
from collections.abc import Callable, Iterator
from typing import Any

from core.catalogue import logged_exercises

Fits = Callable[[Any], bool]


def _one_of(*values: Any) -> Fits:
    return lambda value: value in values


def _whole_number(least: int, most: int) -> Fits:
    return lambda value: type(value) is int and least <= value <= most


def _mass(most: float) -> Fits:
    return lambda value: type(value) is float and 0 < value <= most


def _or_null(fits: Fits) -> Fits:
    return lambda value: value is None or fits(value)


def _list_of(fits: Fits) -> Fits:
    return lambda value: type(value) is list and bool(value) and all(map(fits, value))


def _written_as(pattern: str) -> Fits:
    return lambda value: type(value) is str and re.fullmatch(pattern, value) is not None


def _record(shape: dict[str, Fits]) -> Fits:
    return lambda value: type(value) is dict and _fits(value, shape)


def _fits(said: dict[str, Any], shape: dict[str, Fits]) -> bool:
    """Exactly these fields (those with "?" may be missing), each of its kind."""
    wanted = {name.rstrip("?"): fits for name, fits in shape.items()}
    needed = {name for name in shape if not name.endswith("?")}
    return needed <= said.keys() <= wanted.keys() and all(wanted[k](v) for k, v in said.items())


_TEXT = _written_as(r"[\s\S]*")
_SLUG = _one_of(*(exercise.slug for exercise in logged_exercises()))
_GRIP = _one_of("edge", *(e.slug for e in logged_exercises() if "grip" in e.needs))
_SIDE = _one_of("left", "right", "both")
_EFFORT = _or_null(_one_of("easy", "ok", "hard", "limit", "fail"))
_RPE = _or_null(lambda value: value in [half / 2 for half in range(2, 21)])
_MINUTES = _whole_number(1, 1440)
_DAY = _written_as(r"\d{4}-\d\d-\d\d")
_CLOCK = _written_as(r"([01]\d|2[0-3]):[0-5]\d")
_DAYS = _list_of(_one_of("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
_SET: dict[str, Fits] = {
    "side": _SIDE,
    "load_kg": _or_null(lambda value: type(value) is float and 0 < abs(value) <= 300),
    "band": _or_null(_TEXT),
    "reps": _or_null(_whole_number(1, 100)),
    "hold_s": _or_null(_whole_number(1, 900)),
    "effort": _EFFORT,
    "rpe": _RPE,
    "left": _or_null(_whole_number(0, 100)),
    "value?": lambda value: type(value) in (int, float) and 0 < value <= 900,
}
_LOG: dict[str, Fits] = {
    "exercise": _or_null(_SLUG),
    "sets": lambda value: _list_of(_record(_SET))(value) and len(value) <= 20,
    "edge_mm": _or_null(_whole_number(1, 200)),
    "note": _or_null(_written_as(r"\S([^\n]*\S)?")),
}
_NAMING = ("next", "why", "skip", "progress", "swap")
_PLAIN = ("tonight", "week", "help", "undo", "start", "back", "deload", "same")
_SHAPES: dict[str, dict[str, Fits]] = {
    "log": _LOG,
    "fix": {"log": _record({"act": _one_of("log"), **_LOG})},
    "done": {"scope": _one_of("set", "session"), "effort": _EFFORT},
    **{about: {"exercise": _or_null(_SLUG)} for about in _NAMING},
    **{about: {} for about in _PLAIN},
    "time": {"minutes": _MINUTES},
    "wall": {"when": _or_null(_DAY), "minutes": _or_null(_MINUTES), "rpe": _RPE},
    "move": {"to": _written_as(r"\d{4}-\d\d-\d\d(T([01]\d|2[0-3]):[0-5]\d)?")},
    "later": {"minutes": _MINUTES},
    "pause": {"until": _or_null(_DAY), "cause": _one_of("rest", "sick", "away")},
    "bodyweight": {"kg": _mass(300)},
    "pain": {
        "site": _or_null(_TEXT),
        "side": _or_null(_SIDE),
        "score": _or_null(_whole_number(0, 10)),
        "flags": lambda value: set(value) <= {"pop", "swelling", "numb", "stuck", "night"},
    },
    "kit": {
        "plates?": _list_of(_record({"kg": _mass(300), "count": lambda value: value >= 1})),
        "change?": _one_of("add", "remove"),
        "pin_kg?": _mass(300),
        "pin_limit_kg?": _mass(1000),
        "bar_limit_kg?": _mass(1000),
        "edges_mm?": _list_of(_whole_number(1, 200)),
        "grips?": _list_of(_SLUG),
        "belt_kg?": _mass(300),
        "pin?": _record({"grip": _GRIP, "kg": _mass(300)}),
        "pin_limit?": _record({"grip": _GRIP, "kg": _mass(1000)}),
        "handle?": _record({"grip": _GRIP, "kg": _mass(300)}),
        "handle_limit?": _record({"grip": _GRIP, "kg": _mass(1000)}),
        "band?": _record(
            {
                "name": _TEXT,
                "help_kg?": _mass(300),
                "scale_kg?": _mass(300),
                "bottom_kg?": _mass(300),
                "top_kg?": _mass(300),
            }
        ),
        "drop_band?": _TEXT,
        "pulley?": _record({"hung_kg": _mass(300), "taken_kg": _mass(300)}),
        "drop_pulley?": lambda value: value is True,
    },
    "evenings": {"days": _or_null(_DAYS), "at": _or_null(_CLOCK), "minutes": _or_null(_MINUTES)},
    "wall_days": {"days": _DAYS},
    "setting": {
        "units?": _one_of("kg", "lb"),
        "zone?": _TEXT,
        "age?": _whole_number(1, 120),
        "quiet?": lambda value: len(value) == 2 and all(map(_CLOCK, value)),
        "remind_min?": _whole_number(0, 1440),
    },
    "start_load": {"exercise": _SLUG, "load_kg": _mass(300), "side": _SIDE},
}
_MISREAD: dict[str, Fits] = {
    "clause": _whole_number(1, 1001),
    "at": _whole_number(0, 1_000_000),
    "saw": _TEXT,
    "expected": _list_of(_TEXT),
    "try": lambda value: type(value) is list and all(map(_TEXT, value)),
}


def strange_fields(said: dict[str, Any]) -> Iterator[str]:
    """What the contract does not know, or not like this."""
    if list(said) != ["text", "acts", "misread"]:
        yield f"of a reading: {list(said)}"
    if said["misread"] is not None and not _fits(said["misread"], _MISREAD):
        yield f"of a misread: {said['misread']}"
    for act in said["acts"]:
        shape = _SHAPES.get(act.get("act"))
        if shape is None or not _fits({k: v for k, v in act.items() if k != "act"}, shape):
            yield f"of an act: {act}"
