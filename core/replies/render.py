"""A log written as a short reply that reads back to the same sets."""

from decimal import Decimal
from itertools import groupby

from core.catalogue import get_exercise
from core.quantity import Unit, in_unit, kg_from, plain
from core.replies.act import Log, SetSaid

_SIDES = {"left": "L", "right": "R", "both": "both"}
_LB_STEP = Decimal("0.001")
_REP_KINDS = ("rep-range", "slow-reps")


def log_text(log: Log, units: Unit) -> str:
    """The log as a reply, such as ``half crimp 20mm L 4x22kg 10s ok, R 4x20kg 10s hard``.

    Loads that are not a whole thousandth of a pound stay in kilograms, so that
    nothing is rounded. A log without an exercise has a bare value in all of its
    sets or in none.
    """
    runs = [(one, len(list(same))) for one, same in groupby(log.sets)]
    sided = any(one.side != "both" for one in log.sets)
    kind = get_exercise(log.exercise).dose.kind if log.exercise else None
    words: list[str] = []
    if log.exercise is not None:
        words.append(log.exercise.replace("-", " "))
    if log.edge_mm is not None:
        words.append(f"{log.edge_mm}mm")
    groups = []
    for one, many in runs:
        counted = many > 1 or len(runs) > 1
        dose = _dose(one, many if counted else None, units=units, bare_reps=kind in _REP_KINDS)
        groups.append(" ".join([_SIDES[one.side], *dose] if sided else dose))
    text = " ".join([*words, ", ".join(groups)])
    return f"{text} # {log.note}" if log.note else text


def _dose(one: SetSaid, many: int | None, *, units: Unit, bare_reps: bool) -> list[str]:
    """The words for ``many`` sets like this one; None for a single set that needs no count."""
    words: list[str] = []
    if one.value is not None:
        words.append(_number(one.value))
    if one.reps is not None:
        words.append(f"{one.reps}" if bare_reps and many is not None else f"{one.reps} reps")
    if one.load_kg is not None:
        words.append(_load(one.load_kg, units))
    if one.hold_s is not None:
        words.append(f"{one.hold_s}s")
    if many is not None:
        joined = bool(words) and not words[0].startswith("-")
        words[:1] = [f"{many}x{words[0]}"] if joined else [f"{many} sets", *words[:1]]
    if one.band is not None:
        words.append(f"{one.band} band")
    if one.effort is not None:
        words.append(one.effort)
    if one.rpe is not None:
        words.append(f"@{_number(one.rpe)}")
    if one.left is not None:
        words.append(f"rir {one.left}")
    # A set of which nothing was said; a name alone would ask what comes next.
    return words or ["1 set"]


def _load(load_kg: Decimal, units: Unit) -> str:
    if units == "lb":
        pounds = in_unit(load_kg, "lb").quantize(_LB_STEP)
        if kg_from(pounds, "lb") == load_kg:
            return f"{_number(pounds)}lb"
    return f"{_number(load_kg)}kg"


def _number(number: Decimal) -> str:
    return f"{plain(number):f}"
