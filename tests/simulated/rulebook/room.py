"""Loads that exist and the limits of the room: each target against the plates on the floor."""

from collections import Counter
from datetime import date
from decimal import Decimal

from core.catalogue import get_exercise
from core.target import Target
from tests.simulated.kits import Kit, floor_loads_kg, piles
from tests.simulated.rulebook.breach import Breach, told
from tests.simulated.rulebook.record import Record


def room_breaches(target: Target, record: Record, kit: Kit, day: date) -> list[Breach]:
    """What is wrong with the load of a target."""
    found: list[str] = []
    if not target.reasons:
        found.append("reasons: none given")
    if target.load_kg is None:
        if target.plates_kg:
            found.append("makeable: plates without a load")
    elif get_exercise(target.exercise).from_floor:
        found += _from_floor(target, kit)
    else:
        found += _on_body(target, record, kit)
    return [Breach(f.split(":")[0], day, f"{told(target)}: {f}") for f in found]


def _from_floor(target: Target, kit: Kit) -> list[str]:
    load, pin = target.load_kg, Decimal(kit.pin_kg)
    assert load is not None
    found = _plates(target, kit, load - pin)
    if load not in floor_loads_kg(kit):
        found.append("makeable: no handful of plates makes it")
    if target.pin_kg != pin:
        found.append("makeable: the pin's own mass is not the one told")
    if kit.pin_limit_kg is not None and load > Decimal(kit.pin_limit_kg):
        found.append("limit: more than the pin carries")
    return found


def _on_body(target: Target, record: Record, kit: Kit) -> list[str]:
    load = target.load_kg
    assert load is not None
    found = []
    if load < 0:
        helps = {name: Decimal(kg) for name, kg in kit.bands}
        named = [helps[name] for name in (target.band or "").split(" + ") if name in helps]
        if not named or sum(named) != -load:
            found.append("makeable: no band that is owned helps so much")
    else:
        found += _plates(target, kit, load)
    most = kit.bar_limit_kg
    if most is not None and record.body_kg is not None and record.body_kg + load > Decimal(most):
        found.append("limit: more than the bar carries")
    return found


def _plates(target: Target, kit: Kit, wanted_kg: Decimal) -> list[str]:
    """The plates shown: owned, adding up, and the fewest that do."""
    owned = {Decimal(kg): count for kg, count in kit.plates}
    used = Counter(target.plates_kg)
    if any(count > owned.get(kg, 0) for kg, count in used.items()):
        return ["makeable: plates that are not owned"]
    if sum(target.plates_kg, Decimal()) != wanted_kg:
        return ["makeable: plates shown do not make the load"]
    if len(target.plates_kg) > piles(kit.plates)[wanted_kg]:
        return ["makeable: fewer plates would do"]
    return []
