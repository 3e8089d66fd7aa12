"""Which loads exist on a body on a bar: help, nothing, or plates on a belt.

Help is one band, two different bands at once, or a counterweight over a pulley; never band
and pulley together. House rule. While no help is known, what was logged before counts as a
way to help; while no plate is, so does the weight that was added. Only the athlete knows how
those were made.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from itertools import combinations

from core.errors import OutOfRange
from core.facts import PAIR, BandOwned, PlateCount, PulleyOwned, paired
from core.kit.inventory import Inventory
from core.kit.loads import Loads, loads_from, loads_on_belt
from core.quantity import ZERO_KG, to_gram

MOST_HELP_KG = Decimal(150)
"""Counterweights that take off more are left out: nobody trains so. [kg] House rule."""

START_HELP_FRAC = Decimal("0.25")
"""Part of the body taken off at a first session with a pulley. [-] House rule."""

ASSUMED_BODY_KG = Decimal(70)
"""Body weight assumed for that while it is not known. [kg] House rule."""


@dataclass(frozen=True, slots=True)
class Help:
    """One way to take load off a body.

    Attributes:
        load_kg: Below zero. [kg]
        band: Name of the band, or of both; None for a pulley.
        hung_kg: Plates at the other end of the cord; None for bands. [kg]
    """

    load_kg: Decimal
    band: str | None
    hung_kg: Decimal | None


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
        helps: Ways to help, most help first; empty where none is known.
        helped_kg: What helps, ascending: of ``helps``, or used before. [kg], < 0
        belt: What the plates make on a belt.
        most_kg: Most that may be added before bar and body are too heavy for the
            bar's limit (negative: help is needed); None where that is not known. [kg]
        used_kg: Loads used before whose making is not known, ascending. [kg]
        plates: All plates, for the other end of the pulley's cord.
        wished_start_kg: The load a first session would begin with. [kg], <= 0
    """

    helps: tuple[Help, ...]
    helped_kg: tuple[Decimal, ...]
    belt: Loads
    most_kg: Decimal | None
    used_kg: tuple[Decimal, ...]
    plates: tuple[PlateCount, ...]
    wished_start_kg: Decimal

    def is_known(self, load_kg: Decimal) -> bool:
        """Whether there are known bands or plates of the kind that makes such a load."""
        return load_kg == 0 or (bool(self.helps) if load_kg < 0 else self.belt.known)

    @property
    def totals_kg(self) -> tuple[Decimal, ...]:
        """Every load, ascending. [kg]"""
        added = self.belt.totals_kg if self.belt.known else self._used_added()
        return tuple(kg for kg in (*self.helped_kg, ZERO_KG, *added) if self._allowed(kg))

    @property
    def lightest_kg(self) -> Decimal | None:
        """The most help there is, or no load; None if even that is too much for the bar. [kg]"""
        first = self.helped_kg[0] if self.helped_kg else ZERO_KG
        return first if self._allowed(first) else None

    @property
    def start_kg(self) -> Decimal | None:
        """Where a first session begins; None if every load is too much for the bar. [kg]"""
        found = self.at_most(self.wished_start_kg)
        return self.lightest_kg if found is None else found

    def at_most(self, load_kg: Decimal) -> Decimal | None:
        """The greatest load not above ``load_kg``, None if all are above it. [kg]"""
        wanted = load_kg if self.most_kg is None else min(load_kg, self.most_kg)
        if wanted < 0:
            place = bisect_right(self.helped_kg, wanted)
            return self.helped_kg[place - 1] if place else None
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
            place = bisect_left(self.helped_kg, load_kg)
            return self.helped_kg[place - 1] if place else None
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
        place = bisect_left(self.helps, load_kg, key=lambda h: h.load_kg)
        if place < len(self.helps) and self.helps[place].load_kg == load_kg:
            found = self.helps[place]
            if found.hung_kg is None:
                return BodyLoad(load_kg, found.band, ())
            hung = loads_from(self.plates, base_kg=ZERO_KG)
            return BodyLoad(load_kg, None, hung.plates_for(found.hung_kg, last))
        if load_kg not in (*self.helped_kg, ZERO_KG, *self._used_added()):
            raise OutOfRange("load_kg", load_kg, "a load that a band or plates make")
        return BodyLoad(load_kg, None, ())

    def _used_added(self) -> tuple[Decimal, ...]:
        return tuple(kg for kg in self.used_kg if kg > 0 and not self.belt.known)

    def _next_above(self, load_kg: Decimal) -> Decimal | None:
        if load_kg < 0:
            place = bisect_right(self.helped_kg, load_kg)
            return self.helped_kg[place] if place < len(self.helped_kg) else ZERO_KG
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
        takes_help: Whether a band or a counterweight may be used.
        body_kg: Body weight; None if unknown, and then no bar limit is checked. [kg]
        used_kg: Loads used before; they count only where no help, or no plate, is known. [kg]
    """
    most_kg = None if kit.bar_limit_kg is None or body_kg is None else kit.bar_limit_kg - body_kg
    used = tuple(sorted({kg for kg in used_kg if takes_help or kg > 0}))
    helps: tuple[Help, ...] = ()
    if takes_help:
        helps = _helps(kit.bands, kit.pulley, kit.plates if kit.pulley else (), most_kg)
    helped = tuple([h.load_kg for h in helps]) or tuple([kg for kg in used if kg < 0])
    return BodyLoads(
        helps=helps,
        helped_kg=helped,
        belt=loads_on_belt(kit),
        most_kg=most_kg,
        used_kg=used,
        plates=kit.plates,
        wished_start_kg=_wished_start_kg(kit, helps, helped, body_kg),
    )


def band_help_kg(kit: Inventory, name: str) -> Decimal | None:
    """What a band, or two in either order, take off; None if that is not known. [kg]"""
    name = paired(*name.split(PAIR)) if name.count(PAIR) == 1 else name
    return next((-h.load_kg for h in _of_bands(kit.bands) if h.band == name), None)


def _wished_start_kg(
    kit: Inventory, helps: tuple[Help, ...], helped: tuple[Decimal, ...], body_kg: Decimal | None
) -> Decimal:
    """The most help of one band, else a part of the body by pulley, else what was used. [kg]"""
    single = [-b.help_kg for b in kit.bands if PAIR not in b.name]
    if helps and single:
        return min(single)
    if helps and kit.pulley is not None:
        return -(body_kg or ASSUMED_BODY_KG) * START_HELP_FRAC
    return min(helped, default=ZERO_KG)


@lru_cache(maxsize=256)
def _helps(
    bands: tuple[BandOwned, ...],
    pulley: PulleyOwned | None,
    plates: tuple[PlateCount, ...],
    room_kg: Decimal | None,
) -> tuple[Help, ...]:
    """Every help, most first; for the same help one band, else two, else the pulley."""
    found: dict[Decimal, Help] = {}
    for one in (*_of_bands(bands), *_of_pulley(pulley, plates, room_kg)):
        found.setdefault(one.load_kg, one)
    return tuple(found[kg] for kg in sorted(found))


@lru_cache(maxsize=256)
def _of_bands(bands: tuple[BandOwned, ...]) -> tuple[Help, ...]:
    """Each band alone, then any two together: as measured, else the sum. House rule."""
    single = [b for b in bands if PAIR not in b.name]
    helps = {b.name: b.help_kg for b in single}
    helps |= {paired(a.name, b.name): a.help_kg + b.help_kg for a, b in combinations(single, 2)}
    helps |= {b.name: b.help_kg for b in bands}
    return tuple(Help(-help_kg, name, None) for name, help_kg in helps.items())


def _of_pulley(
    pulley: PulleyOwned | None, plates: tuple[PlateCount, ...], room_kg: Decimal | None
) -> Iterator[Help]:
    """What counterweights take off, to the gram.

    The pulley hangs from the bar, which then carries the body and the counterweight both.
    """
    if pulley is None:
        return
    for hung_kg in loads_from(plates, base_kg=ZERO_KG).totals_kg:
        help_kg = to_gram(hung_kg * pulley.taken_kg / pulley.hung_kg)
        if 0 < help_kg <= MOST_HELP_KG and (room_kg is None or hung_kg <= room_kg):
            yield Help(-help_kg, None, hung_kg)
