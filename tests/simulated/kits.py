"""Five kits from rich to poor, and every load each can make, counted out one by one.

The counting here shares nothing with the engine: it tries every handful of plates.
Kits are invented; which plates people own has no source.
"""

from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from itertools import combinations, product

from core.facts import BandOwned, Fact, KitChanged, PlateCount


@dataclass(frozen=True, slots=True)
class Kit:
    """What one athlete owns. Masses in kg as text, so that they are exact."""

    name: str
    plates: tuple[tuple[str, int], ...]
    pin_kg: str = "0"
    pin_limit_kg: str | None = None
    bar_limit_kg: str | None = None
    edges_mm: tuple[int, ...] = ()
    grips: tuple[str, ...] | None = None
    bands: tuple[tuple[str, str], ...] = ()

    def facts(self) -> tuple[Fact, ...]:
        """The replies in which the athlete tells about it."""
        plates = tuple(PlateCount(Decimal(kg), n) for kg, n in self.plates)
        told = KitChanged(
            plates=plates or None,
            pin_kg=Decimal(self.pin_kg) if plates else None,
            pin_limit_kg=None if self.pin_limit_kg is None else Decimal(self.pin_limit_kg),
            bar_limit_kg=None if self.bar_limit_kg is None else Decimal(self.bar_limit_kg),
            edges_mm=self.edges_mm or None,
            grips=self.grips,
        )
        bands = (KitChanged(band=BandOwned(name, Decimal(kg))) for name, kg in self.bands)
        return (told, *bands)


KITS: tuple[Kit, ...] = (
    Kit(
        "fine",
        (("20", 2), ("10", 2), ("5", 2), ("2.5", 2), ("1.25", 2), ("0.5", 2), ("0.25", 2)),
        pin_kg="1",
        pin_limit_kg="90",
        bar_limit_kg="130",
        edges_mm=(20, 15, 10),
        grips=("half-crimp", "open-hand", "wide-pinch"),
        bands=(("thin", "7"), ("broad", "16")),
    ),
    Kit(
        "2.5 kg",
        (("10", 4), ("5", 2), ("2.5", 2)),
        pin_kg="1.25",
        bar_limit_kg="110",
        edges_mm=(20, 15),
        bands=(("grey", "12"),),
    ),
    Kit("5 kg", (("5", 14),), edges_mm=(20,)),
    Kit("20 and 10", (("20", 1), ("10", 1)), pin_kg="2", edges_mm=(20,)),
    Kit("bands", (), bar_limit_kg="120", bands=(("one", "8"), ("two", "15"), ("three", "25"))),
)


@cache
def piles(plates: tuple[tuple[str, int], ...]) -> dict[Decimal, int]:
    """Every sum of a handful of plates, with the fewest plates that make it. [kg]"""
    fewest: dict[Decimal, int] = {}
    for handful in product(*(range(count + 1) for _, count in plates)):
        total = sum(
            (Decimal(kg) * n for (kg, _), n in zip(plates, handful, strict=True)), Decimal()
        )
        fewest[total] = min(sum(handful), fewest.get(total, sum(handful)))
    return fewest


@cache
def floor_loads_kg(kit: Kit) -> tuple[Decimal, ...]:
    """Every load from the floor, pin included, within the pin's rating, ascending. [kg]"""
    if not kit.plates:
        return ()
    limit = None if kit.pin_limit_kg is None else Decimal(kit.pin_limit_kg)
    loads = sorted(Decimal(kit.pin_kg) + pile for pile in piles(kit.plates))
    return tuple(kg for kg in loads if kg > 0 and (limit is None or kg <= limit))


@cache
def body_loads_kg(kit: Kit) -> tuple[Decimal, ...]:
    """Every load on the body: one band, two, nothing, or plates on a belt, ascending. [kg]"""
    helps = [-Decimal(kg) for _, kg in kit.bands]
    both = [one + other for one, other in combinations(helps, 2)]
    return tuple(sorted({*helps, *both, Decimal(0), *piles(kit.plates)}))
