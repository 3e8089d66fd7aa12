"""Which loads exist on a body on a bar: help, nothing, or plates on a belt.

Help is one band, two different bands at once, or a counterweight over a pulley; never band
and pulley together. House rule. While no help is known, what was logged before counts as a
way to help; while no plate is, so does the weight that was added. Only the athlete knows how
those were made.
"""

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from itertools import combinations

from core.errors import OutOfRange
from core.facts import PAIR, BandOwned, paired
from core.kit.counterweight import MOST_HELP_KG, Counterweights, counterweights
from core.kit.inventory import Inventory
from core.kit.loads import Loads, loads_on_belt
from core.quantity import GRAM_KG, ZERO_KG

START_HELP_FRAC = Decimal("0.25")
"""Part of the body taken off at a first session with a pulley. [-] House rule."""

ASSUMED_BODY_KG = Decimal(70)
"""Body weight assumed for that while it is not known. [kg] House rule."""


@dataclass(frozen=True, slots=True)
class BodyLoad:
    """One way to change what the body weighs.

    Attributes:
        load_kg: Added to the body; negative for help. [kg]
        band: Name of the helping band, or of both; None without one.
        plates_kg: Plates on the belt, or with help at the other end of the pulley's cord,
            heaviest first. [kg]
        belt_kg: Mass of the belt in the load. [kg], >= 0
    """

    load_kg: Decimal
    band: str | None
    plates_kg: tuple[Decimal, ...]
    belt_kg: Decimal = ZERO_KG


@dataclass(frozen=True, slots=True, eq=False)
class BodyLoads:
    """Every load on the body, from the most help to the most weight.

    Attributes:
        bands: Name by load of what bands make, one or two of them. [kg], < 0
        banded_kg: The same loads, or while no help is known those used before, ascending. [kg]
        pulley: What counterweights take off; None without a pulley.
        belt: What the plates make on a belt.
        most_kg: Most that may be added before bar and body are too heavy for the
            bar's limit (negative: the body alone is); None where that is not known. [kg]
        used_kg: Loads used before whose making is not known, ascending. [kg]
        wished_start_kg: The load a first session would begin with. [kg], <= 0
    """

    bands: Mapping[Decimal, str]
    banded_kg: tuple[Decimal, ...]
    pulley: Counterweights | None
    belt: Loads
    most_kg: Decimal | None
    used_kg: tuple[Decimal, ...]
    wished_start_kg: Decimal

    def is_known(self, load_kg: Decimal) -> bool:
        """Whether there are known bands or plates of the kind that makes such a load."""
        return load_kg == 0 or (self._helps if load_kg < 0 else self.belt.known)

    @property
    def totals_kg(self) -> tuple[Decimal, ...]:
        """Every load, ascending. [kg]"""
        hung = () if self.pulley is None else self.pulley.totals_kg
        helped = sorted({*self.banded_kg, *hung})
        added = self.belt.totals_kg if self.belt.known else self._used_added()
        return tuple(kg for kg in (*helped, ZERO_KG, *added) if self._allowed(kg))

    @property
    def lightest_kg(self) -> Decimal | None:
        """The most help there is, or no load; None if even that is too much for the bar. [kg]"""
        hung = None if self.pulley is None else self.pulley.above(-MOST_HELP_KG - GRAM_KG)
        found = (kg for kg in (*self.banded_kg[:1], hung) if kg is not None)
        first = min(found, default=ZERO_KG)
        return first if self._allowed(first) else None

    @property
    def start_kg(self) -> Decimal | None:
        """Where a first session begins; None if every load is too much for the bar. [kg]"""
        found = self.at_most(self.wished_start_kg)
        return self.lightest_kg if found is None else found

    def at_most(self, load_kg: Decimal) -> Decimal | None:
        """The greatest load not above ``load_kg``, None if all are above it. [kg]"""
        if not self._allowed(ZERO_KG):
            return None
        wanted = load_kg if self.most_kg is None else min(load_kg, self.most_kg)
        if wanted < 0:
            return self._helped(wanted)
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
            return self._helped(load_kg - GRAM_KG)
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
            plates_kg = self.belt.plates_for(load_kg, last)
            return BodyLoad(load_kg, None, plates_kg, self.belt.base_kg)
        if load_kg in self.bands:
            return BodyLoad(load_kg, self.bands[load_kg], ())
        hung = (
            None if self.pulley is None or load_kg >= 0 else self.pulley.plates_for(load_kg, last)
        )
        if hung is not None:
            return BodyLoad(load_kg, None, hung)
        if load_kg not in (*self.banded_kg, ZERO_KG, *self._used_added()):
            raise OutOfRange("load_kg", load_kg, "a load that a band or plates make")
        return BodyLoad(load_kg, None, ())

    @property
    def _helps(self) -> bool:
        return bool(self.bands) or self.pulley is not None

    def _helped(self, most_kg: Decimal) -> Decimal | None:
        """The least help that leaves no more than that load, None if none does. [kg]"""
        place = bisect_right(self.banded_kg, most_kg)
        banded = self.banded_kg[place - 1] if place else None
        hung = None if self.pulley is None else self.pulley.at_most(most_kg)
        return max((kg for kg in (banded, hung) if kg is not None), default=None)

    def _used_added(self) -> tuple[Decimal, ...]:
        return tuple(kg for kg in self.used_kg if kg > 0 and not self.belt.known)

    def _next_above(self, load_kg: Decimal) -> Decimal | None:
        if load_kg < 0:
            place = bisect_right(self.banded_kg, load_kg)
            hung = None if self.pulley is None else self.pulley.above(load_kg)
            found = (kg for kg in (*self.banded_kg[place : place + 1], hung) if kg is not None)
            return min(found, default=ZERO_KG)
        if self.belt.known:
            return self.belt.step_above(load_kg)
        return min((kg for kg in self._used_added() if kg > load_kg), default=None)

    def _allowed(self, load_kg: Decimal) -> bool:
        # A band that hangs from the bar takes nothing off it: the bar carries the whole body.
        return self.most_kg is None or max(load_kg, ZERO_KG) <= self.most_kg


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
        takes_help: Whether a band or a counterweight may be used.
        body_kg: Body weight; None if unknown, and then no bar limit is checked. [kg]
        used_kg: Loads used before; they count only where no help, or no plate, is known. [kg]
    """
    most_kg = None if kit.bar_limit_kg is None or body_kg is None else kit.bar_limit_kg - body_kg
    used = tuple(sorted({kg for kg in used_kg if takes_help or kg > 0}))
    bands = _banded(kit.bands) if takes_help else {}
    pulley = None
    if takes_help and kit.pulley is not None:
        pulley = counterweights(kit.pulley, kit.plates, room_kg=most_kg)
    known = bool(bands) or pulley is not None
    return BodyLoads(
        bands=bands,
        banded_kg=tuple(bands) if known else tuple([kg for kg in used if kg < 0]),
        pulley=pulley,
        belt=loads_on_belt(kit),
        most_kg=most_kg,
        used_kg=used,
        wished_start_kg=_wished_start_kg(kit, used, body_kg) if takes_help else ZERO_KG,
    )


def band_names(kit: Inventory) -> tuple[str, ...]:
    """The name of each band, of those known only together too."""
    return tuple(dict.fromkeys(name for band in kit.bands for name in band.name.split(PAIR)))


def band_help_kg(kit: Inventory, name: str) -> Decimal | None:
    """What a band, or two in either order, take off; None if that is not known. [kg]"""
    name = paired(*name.split(PAIR)) if name.count(PAIR) == 1 else name
    return _helps_kg(kit.bands).get(name)


def _wished_start_kg(kit: Inventory, used: tuple[Decimal, ...], body_kg: Decimal | None) -> Decimal:
    """The most help of one band, else a part of the body by pulley, else what was used. [kg]"""
    single = [-b.help_kg for b in kit.bands if PAIR not in b.name]
    if single:
        return min(single)
    if kit.bands:
        return min(-b.help_kg for b in kit.bands)
    if kit.pulley is not None and kit.plates:
        return -(body_kg or ASSUMED_BODY_KG) * START_HELP_FRAC
    return min((*used[:1], ZERO_KG))


@lru_cache(maxsize=256)
def _banded(bands: tuple[BandOwned, ...]) -> Mapping[Decimal, str]:
    """Name by load, most help first; for the same help one band rather than two."""
    found: dict[Decimal, str] = {}
    for name, help_kg in _helps_kg(bands).items():
        found.setdefault(-help_kg, name)
    return {load_kg: found[load_kg] for load_kg in sorted(found)}


@lru_cache(maxsize=256)
def _helps_kg(bands: tuple[BandOwned, ...]) -> Mapping[str, Decimal]:
    """Each band alone, then any two together: as measured, else the sum. [kg] House rule."""
    single = [b for b in bands if PAIR not in b.name]
    pairs = {paired(a.name, b.name): a.help_kg + b.help_kg for a, b in combinations(single, 2)}
    measured = {b.name: b.help_kg for b in bands if PAIR in b.name}
    return {**{b.name: b.help_kg for b in single}, **pairs, **measured}
