"""What bare numbers mean: sets, seconds, repetitions or a load, by the exercise's dose kind.

``4x22`` is four sets at a load of 22 for a loaded hold, four sets of 22 repetitions for a
repetition range, and stays open where no exercise is named. All of that is worked out here:
of one product (``quantities_in``), and of products that follow each other (``together``).
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Literal, NamedTuple

from core.quantity import Unit, kg_from
from core.replies.node import Amount, AmountKind
from core.replies.trouble import Trouble

Kind = Literal[
    "loaded-hold", "rep-range", "hold-range", "timed-hold", "slow-reps", "long-hold", "unknown"
]
"""A dose kind of the catalogue, or unknown where no exercise is named."""

Quantity = Literal["count", "load", "hold", "reps", "value"]

_ROLES: dict[Kind, tuple[tuple[Quantity, ...], ...]] = {
    "loaded-hold": (("load",), ("hold", "load")),
    "rep-range": (("reps",), ("reps", "load")),
    "hold-range": (("hold",), ("hold", "load")),
    "timed-hold": (("hold",),),
    "slow-reps": (("reps",),),
    "long-hold": (("hold",),),
    "unknown": (("value",), ("value", "load")),
}
"""What one bare number, and two of them, mean once the sets are counted."""

_SAID: dict[AmountKind, Quantity] = {
    "load": "load",
    "plus": "load",
    "minus": "load",
    "seconds": "hold",
    "reps": "reps",
    "count": "count",
}
_IN_WORDS: dict[Quantity, str] = {
    "count": "a number of sets",
    "load": "a load",
    "hold": "a time",
    "reps": "a number of reps",
    "value": "a number",
}


class Known(NamedTuple):
    """One quantity with its number (kilograms, seconds, or a count) and where it was typed.

    ``bare`` is the number as typed, where it had no unit; ``plus`` is true behind a plus.
    """

    quantity: Quantity
    number: Decimal
    at: int
    end: int
    bare: Decimal | None = None
    plus: bool = False


def is_primary(said: AmountKind, kind: Kind) -> bool:
    """Whether a number with that unit is what one bare number would mean; loads are unsigned."""
    if said not in ("load", "seconds", "reps"):
        return False
    return kind == "unknown" or _ROLES[kind][0] == (_SAID[said],)


def quantities_in(
    product: tuple[Amount, ...], *, kind: Kind, units: Unit
) -> tuple[Known, ...] | Trouble:
    """What each number of ``4x10x22kg`` is. No quantity comes twice."""
    bare = [amount for amount in product if amount.kind == "bare"]
    said = [_SAID[amount.kind] for amount in product if amount.kind != "bare"]
    roles: list[Quantity] = []
    if len(product) > 1 and bare and "count" not in said:
        roles.append("count")
    rest = _rest_of(len(bare) - len(roles), said, kind)
    if rest is None:
        surplus = bare[-1]
        return Trouble(surplus.at, surplus.end, _expected(kind))
    roles.extend(rest)
    left = iter(roles)
    known: list[Known] = []
    for amount in product:
        quantity = next(left) if amount.kind == "bare" else _SAID[amount.kind]
        if any(one.quantity == quantity for one in known):
            return Trouble(amount.at, amount.end, (f"{_IN_WORDS[quantity]} only once",))
        number = _number(amount, units) if quantity == "load" else amount.number
        bare_number = amount.number if amount.kind == "bare" else None
        plus = amount.kind == "plus"
        known.append(Known(quantity, number, amount.at, amount.end, bare_number, plus))
    return tuple(known)


def kind_behind(known: Mapping[Quantity, Known], kind: Kind) -> Kind:
    """The dose kind by which to read a bare number behind "at": once dosed, it is a load."""
    return "loaded-hold" if known.keys() & {"reps", "hold", "value"} else kind


def says_more(
    known: Mapping[Quantity, Known], more: tuple[Known, ...], *, kind: Kind, clear: bool
) -> bool:
    """Whether numbers right behind others say more of the same sets.

    ``clear`` is true where they came with their units.
    """
    quantities = {one.quantity for one in more}
    if "value" in quantities and "load" in known and known.keys() & {"hold", "reps"}:
        # "5 3 reps 4": the load is said, and so is the rest.
        return False
    if not quantities & known.keys():
        # "4x22 reps 8" of a loaded hold: repetitions and a bare number make no sense of it.
        return clear or kind != "loaded-hold" or "reps" not in known
    # "4x10 22kg": the bare 10 was taken for a load, which is named only now.
    load = known.get("load")
    taken = load is not None and load.bare is not None and kind == "loaded-hold"
    counted = "count" in known and "hold" not in known
    return quantities == {"load"} and clear and taken and counted


def together(
    known: Mapping[Quantity, Known], more: tuple[Known, ...], units: Unit
) -> dict[Quantity, Known]:
    """What is known of the sets once more is said; what was said may become clearer by it."""
    found = dict(known)
    load = found.get("load")
    if load is not None and any(one.quantity == "load" for one in more):
        # "4x10 at 22kg": the load is said now, so the bare 10 was seconds.
        found["hold"] = load._replace(quantity="hold", number=load.bare or load.number)
    found.update((one.quantity, one) for one in more)
    value = found.get("value")
    if value is not None and "load" not in found and found.keys() & {"hold", "reps"}:
        # Beside seconds or repetitions a bare number can only be the load.
        found["load"] = value._replace(quantity="load", number=kg_from(value.number, units))
        del found["value"]
    return found


def _rest_of(many: int, said: list[Quantity], kind: Kind) -> tuple[Quantity, ...] | None:
    """The roles of ``many`` bare numbers beside what was said with a unit; None: too many."""
    if many == 0:
        return ()
    stated = "hold" in said or "reps" in said
    for roles in _ROLES[kind]:
        if len(roles) == many and not set(roles) & set(said):
            # Beside seconds or repetitions, a number of an unknown exercise is a load.
            return ("load",) if stated and roles == ("value",) and "load" not in said else roles
    free = [role for role in _ROLES[kind][-1] if role not in said]
    return (free[0],) if many == 1 and free and not (free[0] == "value" and stated) else None


def _number(amount: Amount, units: Unit) -> Decimal:
    load_kg = kg_from(amount.number, amount.unit or units)
    return -load_kg if amount.kind == "minus" else load_kg


def _expected(kind: Kind) -> tuple[str, ...]:
    said = (" x ".join(("sets", *roles)) for roles in _ROLES[kind])
    return tuple(said)
