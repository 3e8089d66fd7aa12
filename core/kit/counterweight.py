"""What plates at the other end of a pulley's cord take off a body, to the gram."""

from dataclasses import dataclass
from decimal import Decimal

from core.facts import PlateCount, PulleyOwned
from core.kit.loads import Loads, loads_from
from core.quantity import GRAM_KG, ZERO_KG, to_gram

MOST_HELP_KG = Decimal(150)
"""Counterweights that take off more are left out: nobody trains so. [kg] House rule."""


@dataclass(frozen=True, slots=True)
class Counterweights:
    """Every help that plates over a pulley give. Loads are below zero.

    Attributes:
        hung: What can hang at the cord's other end.
        pulley: What was measured: so much hung takes off so much.
    """

    hung: Loads
    pulley: PulleyOwned

    @property
    def totals_kg(self) -> tuple[Decimal, ...]:
        """Every load, ascending. [kg]"""
        loads = {self._load(hung_kg) for hung_kg in self.hung.totals_kg}
        return tuple(sorted(kg for kg in loads if -MOST_HELP_KG <= kg < 0))

    def at_most(self, load_kg: Decimal) -> Decimal | None:
        """The least help that takes off as much as that load, None if none does. [kg]"""
        most_kg = min(load_kg, -GRAM_KG)
        found = self.hung.step_above(self._hung_kg(-most_kg - GRAM_KG))
        while found is not None and self._load(found) > most_kg:
            found = self.hung.step_above(found)
        load = None if found is None else self._load(found)
        return load if load is not None and load >= -MOST_HELP_KG else None

    def above(self, load_kg: Decimal) -> Decimal | None:
        """The most help that takes off less than that load, None if none does. [kg]"""
        found = self.hung.at_most(self._hung_kg(min(-load_kg, MOST_HELP_KG) + GRAM_KG))
        while found is not None and not load_kg < self._load(found) >= -MOST_HELP_KG:
            found = self.hung.step_below(found)
        load = None if found is None else self._load(found)
        return load if load is not None and load < 0 else None

    def plates_for(
        self, load_kg: Decimal, last: tuple[Decimal, ...] = ()
    ) -> tuple[Decimal, ...] | None:
        """The plates to hang for that load, heaviest first; None if they do not make it."""
        if self.at_most(load_kg) != load_kg:
            return None
        found = self.hung.step_above(self._hung_kg(-load_kg - GRAM_KG))
        while found is not None and self._load(found) > load_kg:
            found = self.hung.step_above(found)
        return None if found is None else self.hung.plates_for(found, last)

    def _load(self, hung_kg: Decimal) -> Decimal:
        return -to_gram(hung_kg * self.pulley.taken_kg / self.pulley.hung_kg)

    def _hung_kg(self, help_kg: Decimal) -> Decimal:
        return max(help_kg, ZERO_KG) * self.pulley.hung_kg / self.pulley.taken_kg


def counterweights(
    pulley: PulleyOwned, plates: tuple[PlateCount, ...], *, room_kg: Decimal | None
) -> Counterweights | None:
    """What those plates take off over that pulley; None without plates.

    Args:
        pulley: What was measured.
        plates: What there is to hang.
        room_kg: What bar and body leave for it: the pulley hangs from the bar, which then
            carries body and counterweight both. None if not known. [kg]
    """
    hung = loads_from(plates, base_kg=ZERO_KG, limit_kg=room_kg)
    return Counterweights(hung, pulley) if hung.known else None
