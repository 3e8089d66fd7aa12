"""What to buy next: the one pair of plates or band that brings the kit nearest to the targets.

Each line of progress in use wishes for a load that rises from today's as fast as the rules
ever let it, a tenth in 28 days, evening by evening for eight weeks. The distance of a kit is
the mean, over all lines and evenings, of how far the greatest load it makes stays under the
wish, as a part of the wish; net loads for exercises on the body. What pin, handle and bar
forbid is not wished for. The candidate that lowers the distance most is the purchase; among
equals the lighter, plates before bands. House rule.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from core.catalogue import HoldRange, RepRange, get_exercise
from core.facts import BandOwned, KitChanged, PlateCount
from core.kit.help import BodyLoads, body_loads
from core.kit.inventory import Inventory, inventory_after
from core.kit.loads import Loads, loads_from_floor
from core.quantity import Unit, kg_from, to_gram

WEEKS = 8
"""How far ahead is looked. [weeks] House rule."""

MONTH_RISE = Decimal("1.10")
"""How far the wish rises in 28 days. [-] House rule: what fingers are asked at most."""

MONTH_DAYS = 28
WEEK_DAYS = 7

WORTH = Decimal("0.01")
"""A purchase that brings loads less than this much nearer is not worth naming. House rule."""

PLATES_KG = ("0.25", "0.5", "0.75", "1", "1.25", "2", "2.5", "5", "10", "15", "20")
"""Plates sold in kilograms. Common practice, no source."""

PLATES_LB = ("0.5", "0.75", "1", "1.25", "2.5", "5", "10", "25", "35", "45")
"""Plates sold in pounds. Common practice, no source."""

BANDS_KG = tuple(range(5, 45, 5))
"""Help of the bands thought of. [kg] House rule."""


@dataclass(frozen=True, slots=True)
class Wish:
    """Where one line of progress stands.

    Attributes:
        exercise: Slug.
        load_kg: Total from the floor, or added to the body (negative: help). [kg]
        body_kg: Body weight for exercises on the body, else None. [kg]
    """

    exercise: str
    load_kg: Decimal
    body_kg: Decimal | None

    @property
    def own_kg(self) -> Decimal:
        """What is carried besides the load. [kg]"""
        dose = get_exercise(self.exercise).dose
        if self.body_kg is None or not isinstance(dose, RepRange | HoldRange):
            return Decimal(0)
        return self.body_kg * Decimal(str(dose.share))


@dataclass(frozen=True, slots=True)
class Purchase:
    """One thing to buy, and what it is good for.

    Attributes:
        plate_kg: Mass of each plate of a pair; None for a band. [kg]
        help_kg: What the band should take off; None for plates. [kg]
        exercise: The exercise that gains most.
        before: Its distance as the kit is. [-]
        after: Its distance with the purchase. [-]
        load_kg: Its load today. [kg]
        net_kg: What is carried at that load, body included. [kg]
        step_kg: From there to the next load as the kit is; None where loads end. [kg]
        next_step_kg: The same with the purchase. [kg]
    """

    plate_kg: Decimal | None
    help_kg: Decimal | None
    exercise: str
    before: Decimal
    after: Decimal
    load_kg: Decimal
    net_kg: Decimal
    step_kg: Decimal | None
    next_step_kg: Decimal | None


def best_purchase(
    kit: Inventory, wishes: Sequence[Wish], *, evenings: int, unit: Unit = "kg"
) -> Purchase | None:
    """The purchase that helps most, None where none is worth it or nothing is wished for.

    Args:
        kit: What is owned.
        wishes: The lines of progress in use.
        evenings: Evenings a week. > 0
        unit: Which plates are sold where the athlete lives.
    """
    if not wishes:
        return None
    now = [distance(kit, wish, evenings=evenings) for wish in wishes]
    least, then, change = sum(now, Decimal(0)), now, KitChanged()
    for candidate in _candidates(wishes, unit):
        bought = inventory_after(kit, candidate)
        found = [distance(bought, wish, evenings=evenings) for wish in wishes]
        # Only what is strictly nearer: of two that are alike the first, which is lighter, stays.
        if sum(found, Decimal(0)) < least:
            least, then, change = sum(found, Decimal(0)), found, candidate
    if sum(now, Decimal(0)) - least < WORTH * len(wishes):
        return None
    gained = max(range(len(wishes)), key=lambda i: now[i] - then[i])
    wish, bought = wishes[gained], inventory_after(kit, change)
    return Purchase(
        plate_kg=change.plates[0].kg if change.plates else None,
        help_kg=change.band.help_kg if change.band else None,
        before=now[gained],
        after=then[gained],
        exercise=wish.exercise,
        load_kg=wish.load_kg,
        net_kg=wish.own_kg + wish.load_kg,
        step_kg=_step_kg(kit, wish),
        next_step_kg=_step_kg(bought, wish),
    )


def distance(kit: Inventory, wish: Wish, *, evenings: int) -> Decimal:
    """How far the loads of a kit stay under the wish, as a part of it, on average. [-] 0 to 1"""
    choices, own_kg = _choices(kit, wish), wish.own_kg
    missing = Decimal(0)
    wished = _wished(kit, wish, evenings)
    for load_kg in wished:
        made_kg = _made_kg(choices, load_kg)
        net_kg = own_kg + load_kg
        missing += 1 if made_kg is None else (load_kg - made_kg) / net_kg
    return missing / len(wished)


def wished_net_kg(net_kg: Decimal, *, evenings: int) -> tuple[Decimal, ...]:
    """The wish at each evening of eight weeks, from the net load of today. [kg]"""
    return tuple(to_gram(net_kg * factor) for factor in _factors(evenings))


@lru_cache(maxsize=16)
def _factors(evenings: int) -> tuple[Decimal, ...]:
    return tuple(
        MONTH_RISE ** (Decimal(k * WEEK_DAYS) / (evenings * MONTH_DAYS))
        for k in range(1, WEEKS * evenings + 1)
    )


def _wished(kit: Inventory, wish: Wish, evenings: int) -> tuple[Decimal, ...]:
    """The wished loads, no more than pin, handle or bar allow. [kg]"""
    own_kg, choices = wish.own_kg, _choices(kit, wish)
    most_kg = choices.limit_kg if isinstance(choices, Loads) else choices.most_kg
    nets_kg = wished_net_kg(own_kg + wish.load_kg, evenings=evenings)
    loads_kg = (net_kg - own_kg for net_kg in nets_kg)
    return tuple(kg if most_kg is None else min(kg, most_kg) for kg in loads_kg)


def _choices(kit: Inventory, wish: Wish) -> Loads | BodyLoads:
    exercise = get_exercise(wish.exercise)
    if exercise.from_floor:
        return loads_from_floor(kit, wish.exercise)
    return body_loads(kit, takes_help=exercise.takes_help, body_kg=wish.body_kg)


def _made_kg(choices: Loads | BodyLoads, load_kg: Decimal) -> Decimal | None:
    """The greatest load that is made and not above that one; of a pin alone, its own. [kg]"""
    if isinstance(choices, Loads) and not choices.known:
        return choices.base_kg if 0 < choices.base_kg <= load_kg else None
    return choices.at_most(load_kg)


def _step_kg(kit: Inventory, wish: Wish) -> Decimal | None:
    """How much heavier the next load above today's is, None where there is none. [kg]"""
    above = _choices(kit, wish).step_above(wish.load_kg)
    return None if above is None else above - wish.load_kg


def _candidates(wishes: Sequence[Wish], unit: Unit) -> Iterator[KitChanged]:
    """Pairs of plates, then a band where an exercise is done with help; lightest first."""
    for mass in PLATES_LB if unit == "lb" else PLATES_KG:
        pair = PlateCount(kg_from(Decimal(mass), unit), 2)
        yield KitChanged(plates=(pair,), change="add")
    if any(w.load_kg < 0 and get_exercise(w.exercise).takes_help for w in wishes):
        for help_kg in BANDS_KG:
            # A name that no athlete can type, so that it replaces no band of theirs.
            yield KitChanged(band=BandOwned(f"{help_kg} kg", Decimal(help_kg)))
