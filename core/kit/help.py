"""Which loads exist on a body on a bar: one band that helps, nothing, or plates on a belt.

While no band is known, the help that was logged before counts as a way to help; while no
plate is, so does the weight that was added. Only the athlete knows how those were made.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from core.errors import OutOfRange
from core.facts import BandOwned
from core.kit.inventory import Inventory
from core.kit.loads import Loads, loads_on_belt
from core.quantity import ZERO_KG


@dataclass(frozen=True, slots=True)
class BodyLoad:
    """One way to change what the body weighs.

    Attributes:
        load_kg: Added to the body; negative for help. [kg]
        band: Name of the helping band, or None.
        plates_kg: Plates on the belt, heaviest first. [kg]
    """

    load_kg: Decimal
    band: str | None
    plates_kg: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class BodyLoads:
    """Every load on the body, from the most help to the most weight.

    Attributes:
        bands: Bands that may be used, most help first. One band at a time.
        belt: What the plates make on a belt.
        most_kg: Most that may be added before bar and body are too heavy for the
            bar's limit (negative: help is needed); None where that is not known. [kg]
        used_kg: Loads used before whose making is not known, ascending. [kg]
    """

    bands: tuple[BandOwned, ...]
    belt: Loads
    most_kg: Decimal | None
    used_kg: tuple[Decimal, ...]

    def is_known(self, load_kg: Decimal) -> bool:
        """Whether there are known bands or plates of the kind that makes such a load."""
        return load_kg == 0 or (bool(self.bands) if load_kg < 0 else self.belt.known)

    @property
    def totals_kg(self) -> tuple[Decimal, ...]:
        """Every load, ascending. [kg]"""
        added = self.belt.totals_kg if self.belt.known else self._used_added()
        return tuple(kg for kg in (*self._helped(), ZERO_KG, *added) if self._allowed(kg))

    @property
    def lightest_kg(self) -> Decimal | None:
        """The most help there is, or no load; None if even that is too much for the bar. [kg]"""
        first = min((*self._helped(), ZERO_KG))
        return first if self._allowed(first) else None

    def at_most(self, load_kg: Decimal) -> Decimal | None:
        """The greatest load not above ``load_kg``, None if all are above it. [kg]"""
        wanted = load_kg if self.most_kg is None else min(load_kg, self.most_kg)
        if wanted < 0:
            return max((kg for kg in self._helped() if kg <= wanted), default=None)
        if self.belt.known:
            return self.belt.at_most(wanted) or ZERO_KG
        return max((kg for kg in self._used_added() if kg <= wanted), default=ZERO_KG)

    def step_above(self, load_kg: Decimal) -> Decimal | None:
        """The next load above ``load_kg``, None if there is none within the limit. [kg]"""
        above = self._next_above(load_kg)
        return above if above is not None and self._allowed(above) else None

    def step_below(self, load_kg: Decimal) -> Decimal | None:
        """The next load under ``load_kg``, None if there is none. [kg]"""
        if load_kg <= 0:
            return max((kg for kg in self._helped() if kg < load_kg), default=None)
        if self.belt.known:
            return self.at_most(self.belt.step_below(load_kg) or ZERO_KG)
        return self.at_most(max((kg for kg in self._used_added() if kg < load_kg), default=ZERO_KG))

    def is_capped(self, load_kg: Decimal) -> bool:
        """Whether a load above ``load_kg`` exists that only the bar's limit forbids."""
        above = self._next_above(load_kg)
        return above is not None and not self._allowed(above)

    def option_for(self, load_kg: Decimal, last: tuple[Decimal, ...] = ()) -> BodyLoad:
        """How to make that load; without band and plates where only the athlete knows.

        Raises:
            OutOfRange: It is none of the loads that exist.
        """
        if load_kg > 0 and self.belt.known:
            return BodyLoad(load_kg, None, self.belt.plates_for(load_kg, last))
        for band in self.bands:
            if -band.help_kg == load_kg:
                return BodyLoad(load_kg, band.name, ())
        if load_kg not in (*self._helped(), ZERO_KG, *self._used_added()):
            raise OutOfRange("load_kg", load_kg, "a load that a band or plates make")
        return BodyLoad(load_kg, None, ())

    def _helped(self) -> tuple[Decimal, ...]:
        if self.bands:
            return tuple(-band.help_kg for band in self.bands)
        return tuple(kg for kg in self.used_kg if kg < 0)

    def _used_added(self) -> tuple[Decimal, ...]:
        return tuple(kg for kg in self.used_kg if kg > 0 and not self.belt.known)

    def _next_above(self, load_kg: Decimal) -> Decimal | None:
        if load_kg < 0:
            return min((kg for kg in self._helped() if kg > load_kg), default=ZERO_KG)
        if self.belt.known:
            return self.belt.step_above(load_kg)
        return min((kg for kg in self._used_added() if kg > load_kg), default=None)

    def _allowed(self, load_kg: Decimal) -> bool:
        return self.most_kg is None or load_kg <= self.most_kg


def body_loads(
    kit: Inventory,
    *,
    takes_help: bool,
    body_kg: Decimal | None,
    used_kg: Iterable[Decimal] = (),
) -> BodyLoads:
    """The loads that exist on a body.

    Args:
        kit: What the athlete owns.
        takes_help: Whether a band may be used.
        body_kg: Body weight; None if unknown, and then no bar limit is checked. [kg]
        used_kg: Loads used before; they count only where no band, or no plate, is known. [kg]
    """
    most_kg = None if kit.bar_limit_kg is None or body_kg is None else kit.bar_limit_kg - body_kg
    bands = tuple(reversed(kit.bands)) if takes_help else ()
    used = sorted({kg for kg in used_kg if takes_help or kg > 0})
    return BodyLoads(bands, loads_on_belt(kit), most_kg, tuple(used))
