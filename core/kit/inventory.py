"""What an athlete owns, and how a change of it is applied."""

from dataclasses import dataclass, replace
from decimal import Decimal

from core.facts import BandOwned, KitChanged, PlateCount

MODEST_GRIPS: tuple[str, ...] = ("half-crimp", "open-hand")
"""Grips assumed until the athlete names theirs: any edge gives these two. House rule."""


@dataclass(frozen=True, slots=True)
class Inventory:
    """The kit.

    Attributes:
        plates: Plates by mass, heaviest first, no mass twice.
        pin_kg: Mass of the loading pin with its handle. [kg], >= 0
        pin_limit_kg: Most that pin and handle may carry, if known. [kg]
        bar_limit_kg: Most that the bar may carry, if known. [kg]
        edges_mm: Depths of the edges owned, deepest first. [mm]
        grips: Slugs of the finger exercises the grips allow; None until named.
        bands: Helping bands, least help first, no name twice.
    """

    plates: tuple[PlateCount, ...] = ()
    pin_kg: Decimal = Decimal(0)
    pin_limit_kg: Decimal | None = None
    bar_limit_kg: Decimal | None = None
    edges_mm: tuple[int, ...] = ()
    grips: tuple[str, ...] | None = None
    bands: tuple[BandOwned, ...] = ()


def inventory_after(kit: Inventory, change: KitChanged) -> Inventory:
    """The kit after the change. Removing more plates than there are leaves none of that mass."""
    if change.plates is not None:
        kit = replace(kit, plates=_plates_after(kit.plates, change))
    if change.pin_kg is not None:
        kit = replace(kit, pin_kg=change.pin_kg)
    if change.pin_limit_kg is not None:
        kit = replace(kit, pin_limit_kg=change.pin_limit_kg)
    if change.bar_limit_kg is not None:
        kit = replace(kit, bar_limit_kg=change.bar_limit_kg)
    if change.edges_mm is not None:
        kit = replace(kit, edges_mm=tuple(sorted(set(change.edges_mm), reverse=True)))
    if change.grips is not None:
        kit = replace(kit, grips=change.grips)
    if change.band is not None:
        others = [b for b in kit.bands if b.name != change.band.name]
        kit = replace(kit, bands=_by_help([*others, change.band]))
    if change.drop_band is not None:
        kit = replace(kit, bands=tuple(b for b in kit.bands if b.name != change.drop_band))
    return kit


def _by_help(bands: list[BandOwned]) -> tuple[BandOwned, ...]:
    return tuple(sorted(bands, key=lambda b: (b.help_kg, b.name)))


def _plates_after(owned: tuple[PlateCount, ...], change: KitChanged) -> tuple[PlateCount, ...]:
    counts: dict[Decimal, int] = {} if change.change == "set" else {p.kg: p.count for p in owned}
    sign = -1 if change.change == "remove" else 1
    for plate in change.plates or ():
        counts[plate.kg] = counts.get(plate.kg, 0) + sign * plate.count
    return tuple(
        PlateCount(kg, count) for kg, count in sorted(counts.items(), reverse=True) if count > 0
    )
