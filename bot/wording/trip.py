"""Words about a trip and the kit that is there."""

from bot.wording.kit import band_name, plates_line
from bot.wording.number import listed, mass
from core.kit.inventory import Inventory
from core.quantity import Unit

AT_HOME = "Your kit at home stays as it was."
ON_THE_WAY = (
    "No reminders until then. Type tonight for an evening with that kit. "
    "Wall visits still count: wall 2h"
)
HOME_AGAIN = "Your kit at home holds again."


def of_trip(said: list[str]) -> list[str]:
    """What was said of the kit, as said of the one that is there."""
    first, *rest = said
    return [f"On this trip: {first[0].lower()}{first[1:]}", *rest]


def kit_line(kit: Inventory, unit: Unit) -> str:
    """All that is there: "Kit for this trip: green band, edge 20 mm. Your kit at home …"."""
    parts = [band_name(band.name) for band in kit.bands]
    if kit.plates:
        parts.append(plates_line(kit, unit))
    if kit.edges_mm:
        many = "edges" if len(kit.edges_mm) > 1 else "edge"
        parts.append(f"{many} {' and '.join(map(str, kit.edges_mm))} mm")
    if kit.bar_limit_kg is None:
        parts.append("a bar, rating not given: check its label")
    elif kit.bar_limit_kg:
        parts.append(f"bar {mass(kit.bar_limit_kg, unit)}")
    return f"Kit for this trip: {listed(parts) or 'nothing yet'}. {AT_HOME}"
