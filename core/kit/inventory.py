"""What an athlete owns, and how a change of it is applied."""

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from core.catalogue import get_exercise
from core.facts import (
    EDGE_GRIP,
    PAIR,
    BandOwned,
    GripMass,
    KitChanged,
    PlateCount,
    PulleyOwned,
)

MODEST_GRIPS: tuple[str, ...] = ("half-crimp", "open-hand")
"""Grips assumed until the athlete names theirs: any edge gives these two. House rule."""


@dataclass(frozen=True, slots=True)
class Inventory:
    """The kit.

    Attributes:
        plates: Plates by mass, heaviest first, no mass twice.
        pin_kg: Mass of the loading pin, with its handle where handles were not told apart.
            [kg], >= 0
        pin_limit_kg: Most that pin and handle may carry, if known. [kg]
        bar_limit_kg: Most that the bar may carry, if known. [kg]
        edges_mm: Depths of the edges owned, deepest first. [mm]
        grips: Slugs of the finger exercises the grips allow; None until named.
        bands: Helping bands, least help first, no name twice; two bands that were measured
            together stand here as one, under the name of both.
        pins: Pins of grips that have one of their own.
        handles: Handles by grip, on top of the pin.
        own_pin_limits: Most that the pin of a grip may carry. [kg]
        handle_limits: Most that the handle of a grip may carry. [kg]
        belt_kg: Mass of the belt that plates hang from. [kg], >= 0
        pulley: How much a counterweight takes off, None without a pulley.
    """

    plates: tuple[PlateCount, ...] = ()
    pin_kg: Decimal = Decimal(0)
    pin_limit_kg: Decimal | None = None
    bar_limit_kg: Decimal | None = None
    edges_mm: tuple[int, ...] = ()
    grips: tuple[str, ...] | None = None
    bands: tuple[BandOwned, ...] = ()
    pins: tuple[GripMass, ...] = ()
    handles: tuple[GripMass, ...] = ()
    own_pin_limits: tuple[GripMass, ...] = ()
    handle_limits: tuple[GripMass, ...] = ()
    belt_kg: Decimal = Decimal(0)
    pulley: PulleyOwned | None = None

    def base_kg(self, grip: str | None) -> Decimal:
        """What is lifted with that grip before any plate: its pin and its handle. [kg]"""
        pin_kg = _of_grip(self.pins, grip)
        return (self.pin_kg if pin_kg is None else pin_kg) + (
            _of_grip(self.handles, grip) or Decimal(0)
        )

    def handle_limit_kg(self, grip: str | None) -> Decimal | None:
        """Most that the handle of that grip may carry, if known. [kg]"""
        return _of_grip(self.handle_limits, grip)

    def limit_kg(self, grip: str | None) -> Decimal | None:
        """Most that may be lifted with that grip: the weaker of pin and handle. [kg]"""
        own = _of_grip(self.own_pin_limits, grip)
        limits = (self.pin_limit_kg if own is None else own, self.handle_limit_kg(grip))
        return min((kg for kg in limits if kg is not None), default=None)


def _of_grip(masses: tuple[GripMass, ...], grip: str | None) -> Decimal | None:
    """What was said of that grip, else of all that are held on an edge, else None. [kg]"""
    if not masses or grip is None:
        return None
    names = (grip, EDGE_GRIP) if get_exercise(grip).edged else (grip,)
    said = {mass.grip: mass.kg for mass in masses}
    return next((said[name] for name in names if name in said), None)


def inventory_after(kit: Inventory, change: KitChanged) -> Inventory:
    """The kit after the change. Removing more plates than there are leaves none of that mass."""
    parts: dict[str, Any] = {
        name: said for name in _AS_SAID if (said := getattr(change, name)) is not None
    }
    for one, many in _BY_GRIP:
        mass: GripMass | None = getattr(change, one)
        if mass is not None:
            parts[many] = _with_mass(getattr(kit, many), mass)
    if change.plates is not None:
        parts["plates"] = _plates_after(kit.plates, change)
    if change.edges_mm is not None:
        parts["edges_mm"] = tuple(sorted(set(change.edges_mm), reverse=True))
    if change.band is not None:
        others = [b for b in kit.bands if b.name != change.band.name]
        parts["bands"] = _by_help([*others, change.band])
    if change.drop_band is not None:
        parts["bands"] = _without(parts.get("bands", kit.bands), change.drop_band)
    if change.bar:
        parts["bar_limit_kg"] = None
    if change.drop_pulley:
        parts["pulley"] = None
    return replace(kit, **parts)


_AS_SAID = ("pin_kg", "pin_limit_kg", "bar_limit_kg", "belt_kg", "grips", "pulley")

_BY_GRIP = (
    ("pin", "pins"),
    ("handle", "handles"),
    ("own_pin_limit", "own_pin_limits"),
    ("handle_limit", "handle_limits"),
)


def _with_mass(masses: tuple[GripMass, ...], mass: GripMass) -> tuple[GripMass, ...]:
    return (*(m for m in masses if m.grip != mass.grip), mass)


def _without(bands: tuple[BandOwned, ...], name: str) -> tuple[BandOwned, ...]:
    """The bands without that one and without pairs that it was half of."""
    return tuple(b for b in bands if b.name != name and name not in b.name.split(PAIR))


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
