"""Which loads exist on a body on a bar: one band that helps, nothing, or plates on a belt."""

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
    """

    bands: tuple[BandOwned, ...]
    belt: Loads
    most_kg: Decimal | None

    @property
    def known(self) -> bool:
        """True: no load at all always exists, so the loads on a body are always known."""
        return True

    @property
    def totals_kg(self) -> tuple[Decimal, ...]:
        """Every load, ascending. [kg]"""
        every = (*self._helped(), ZERO_KG, *(self.belt.totals_kg if self.belt.known else ()))
        return tuple(kg for kg in every if self._allowed(kg))

    @property
    def lightest_kg(self) -> Decimal | None:
        """The most help there is, or no load; None if even that is too much for the bar. [kg]"""
        first = self._helped()[0] if self.bands else ZERO_KG
        return first if self._allowed(first) else None

    def at_most(self, load_kg: Decimal) -> Decimal | None:
        """The greatest load not above ``load_kg``, None if all are above it. [kg]"""
        wanted = load_kg if self.most_kg is None else min(load_kg, self.most_kg)
        if wanted >= 0:
            belt = self.belt.at_most(wanted) if self.belt.known else None
            return ZERO_KG if belt is None else belt
        return max((kg for kg in self._helped() if kg <= wanted), default=None)

    def step_above(self, load_kg: Decimal) -> Decimal | None:
        """The next load above ``load_kg``, None if there is none within the limit. [kg]"""
        above = self._next_above(load_kg)
        return above if above is not None and self._allowed(above) else None

    def step_below(self, load_kg: Decimal) -> Decimal | None:
        """The next load under ``load_kg``, None if there is none. [kg]"""
        if load_kg > 0:
            under = self.belt.step_below(load_kg)
            return self.at_most(ZERO_KG if under is None else under)
        return max((kg for kg in self._helped() if kg < load_kg), default=None)

    def is_capped(self, load_kg: Decimal) -> bool:
        """Whether a load above ``load_kg`` exists that only the bar's limit forbids."""
        above = self._next_above(load_kg)
        return above is not None and not self._allowed(above)

    def option_for(self, load_kg: Decimal, last: tuple[Decimal, ...] = ()) -> BodyLoad:
        """How to make that load.

        Raises:
            OutOfRange: Neither bands nor plates make it.
        """
        if load_kg > 0:
            return BodyLoad(load_kg, None, self.belt.plates_for(load_kg, last))
        if load_kg == 0:
            return BodyLoad(ZERO_KG, None, ())
        for band in self.bands:
            if -band.help_kg == load_kg:
                return BodyLoad(load_kg, band.name, ())
        raise OutOfRange("load_kg", load_kg, "a load that a band or plates make")

    def _helped(self) -> tuple[Decimal, ...]:
        return tuple(-band.help_kg for band in self.bands)

    def _next_above(self, load_kg: Decimal) -> Decimal | None:
        if load_kg < 0:
            return min((kg for kg in self._helped() if kg > load_kg), default=ZERO_KG)
        return self.belt.step_above(load_kg)

    def _allowed(self, load_kg: Decimal) -> bool:
        return self.most_kg is None or load_kg <= self.most_kg


def body_loads(kit: Inventory, *, takes_help: bool, body_kg: Decimal | None) -> BodyLoads:
    """The loads on a body of ``body_kg`` [kg], None if unknown: then no bar limit is checked."""
    most_kg = None if kit.bar_limit_kg is None or body_kg is None else kit.bar_limit_kg - body_kg
    bands = tuple(reversed(kit.bands)) if takes_help else ()
    return BodyLoads(bands, loads_on_belt(kit), most_kg)
