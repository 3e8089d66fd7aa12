"""Which loads the plates make, and which plates make a load. Exact.

A load is a base (the pin with its handle, or nothing on a belt) and plates. Start with
``loads_from_floor`` and ``loads_on_belt``; both remember the answer for a kit.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from functools import lru_cache

from core.errors import OutOfRange
from core.facts import PlateCount
from core.kit.grid import Grid, fewest, grid_of
from core.kit.inventory import Inventory
from core.quantity import ZERO_KG, own_unit, plain

MOST_KG = Decimal(1000)
"""Totals above this are left out: nobody lifts them. [kg]"""


@dataclass(frozen=True, slots=True, eq=False)
class Loads:
    """Every load that a base and some plates make.

    A base without mass is not a load by itself. A load asked about need not be one that
    can be made. Nothing above ``limit_kg`` is ever offered.

    Attributes:
        base_kg: What is lifted before any plate. [kg], >= 0
        limit_kg: Most that may be lifted, if there is a limit. [kg]
        known: False while no plate is known: then any load is taken as it comes, since
            the athlete knows what they loaded, and there are no steps.
        unit_kg: The whole unit that all masses are counted in. [kg]
        main: The grid with most plates.
        offsets: (sum in units) of the plates that do not fit the main grid's step.
        other: The grid of those plates, if there are any.
    """

    base_kg: Decimal
    limit_kg: Decimal | None
    known: bool
    unit_kg: Decimal
    main: Grid
    offsets: tuple[int, ...]
    other: Grid | None

    @property
    def totals_kg(self) -> tuple[Decimal, ...]:
        """Every load, ascending. [kg]"""
        sums = {offset + s for offset in self.offsets for s in self.main.all_sums()}
        totals = (self._total(units) for units in sorted(sums))
        return tuple(t for t in totals if t > 0 and self._allowed(t))

    @property
    def lightest_kg(self) -> Decimal | None:
        """The lightest load, None if there is none. [kg]"""
        return self.step_above(ZERO_KG)

    def at_most(self, load_kg: Decimal) -> Decimal | None:
        """The greatest load not above ``load_kg``, None if all are above it. [kg]"""
        wanted = load_kg if self.limit_kg is None else min(load_kg, self.limit_kg)
        if not self.known:
            return wanted if wanted > 0 else None
        room = self._units(wanted)
        found = [
            offset + most
            for offset in self.offsets
            if (most := self.main.greatest(room - offset)) is not None
        ]
        return self._load(max(found, default=None))

    def step_above(self, load_kg: Decimal) -> Decimal | None:
        """The next load above ``load_kg``, None if there is none within the limit. [kg]"""
        above = self._next_above(load_kg)
        return above if above is not None and self._allowed(above) else None

    def step_below(self, load_kg: Decimal) -> Decimal | None:
        """The next load under ``load_kg``, None if there is none. [kg]"""
        if not self.known:
            return None
        under = self.at_most(load_kg)
        return self.at_most(load_kg - self.unit_kg) if under == load_kg else under

    def is_capped(self, load_kg: Decimal) -> bool:
        """Whether the plates make a load above ``load_kg`` that only the limit forbids."""
        above = self._next_above(load_kg)
        return above is not None and not self._allowed(above)

    def plates_for(self, load_kg: Decimal, last: tuple[Decimal, ...] = ()) -> tuple[Decimal, ...]:
        """The plates that make ``load_kg``, heaviest first.

        Fewest plates, then fewest to take off or put on after ``last``, then the heaviest.

        Raises:
            OutOfRange: The plates do not make that load.
        """
        return _plates_for(self, load_kg, last)

    def _next_above(self, load_kg: Decimal) -> Decimal | None:
        if not self.known:
            return None
        if load_kg < self.base_kg:
            return self._load(0) or self._load(self._least(1))
        return self._load(self._least(self._units(load_kg) + 1))

    def _least(self, units: int) -> int | None:
        found = [
            offset + least
            for offset in self.offsets
            if (least := self.main.least(units - offset)) is not None
        ]
        return min(found, default=None)

    def _units(self, load_kg: Decimal) -> int:
        return int(((load_kg - self.base_kg) / self.unit_kg).to_integral_value(ROUND_FLOOR))

    def _total(self, units: int) -> Decimal:
        return plain(self.base_kg + units * self.unit_kg)

    def _load(self, units: int | None) -> Decimal | None:
        total = ZERO_KG if units is None else self._total(units)
        return total if total > 0 else None

    def _allowed(self, load_kg: Decimal) -> bool:
        return self.limit_kg is None or load_kg <= self.limit_kg


@lru_cache(maxsize=4096)
def _plates_for(loads: Loads, load_kg: Decimal, last: tuple[Decimal, ...]) -> tuple[Decimal, ...]:
    exact = (load_kg - loads.base_kg) / loads.unit_kg
    amount = int(exact)
    now = Counter(int(kg / loads.unit_kg) for kg in last)
    ways = []
    for offset in loads.offsets if exact == amount and load_kg > 0 else ():
        if not loads.main.makes(amount - offset):
            continue
        plates, changes, masses = fewest(loads.main, amount - offset, now)
        if loads.other is not None:
            more, further, others = fewest(loads.other, offset, now)
            plates, changes, masses = plates + more, changes + further, masses + others
        ways.append((plates, changes, tuple(sorted(-m for m in masses))))
    if not ways:
        raise OutOfRange("load_kg", load_kg, "a load that the plates make")
    return tuple(plain(-m * loads.unit_kg) for m in min(ways)[2])


@lru_cache(maxsize=512)
def loads_from(
    plates: tuple[PlateCount, ...], *, base_kg: Decimal, limit_kg: Decimal | None = None
) -> Loads:
    """The loads that these plates make on that base.

    Plates are whole grams or whole thousandths of a pound; a plate that is neither is
    left out, since no scale at home tells such masses apart.
    """
    grams = [p for p in plates if own_unit(p.kg) == "kg"]
    pounds = [p for p in plates if own_unit(p.kg) == "lb"]
    unit_kg = _common_unit(p.kg for p in (*grams, *pounds))
    most = int(MOST_KG / unit_kg)
    grids = [
        grid_of({int(p.kg / unit_kg): p.count for p in group}, most=most)
        for group in sorted((grams, pounds), key=len, reverse=True)
        if group
    ] or [grid_of({}, most=most)]
    other = grids[1] if len(grids) > 1 else None
    offsets = other.all_sums() if other is not None else (0,)
    known = bool(grams or pounds)
    return Loads(base_kg, limit_kg, known, unit_kg, grids[0], offsets, other)


def loads_from_floor(kit: Inventory, grip: str | None = None) -> Loads:
    """What plates make with the pin and handle of a grip, within what both may carry.

    Args:
        kit: What the athlete owns.
        grip: Slug; None for the common pin without a handle of its own.
    """
    return loads_from(kit.plates, base_kg=kit.base_kg(grip), limit_kg=kit.limit_kg(grip))


def loads_on_belt(kit: Inventory) -> Loads:
    """What the plates and the belt make when they hang from the body."""
    return loads_from(kit.plates, base_kg=kit.belt_kg)


def _common_unit(masses_kg: Iterable[Decimal]) -> Decimal:
    """The decimal unit of which all masses are whole multiples, at least as fine as a gram."""
    places = 3
    for kg in masses_kg:
        exponent = plain(kg).as_tuple().exponent
        places = max(places, -exponent if isinstance(exponent, int) else 0)
    return Decimal(1).scaleb(-places)
