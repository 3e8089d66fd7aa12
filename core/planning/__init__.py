"""Planning: what is tonight, and what stands for an exercise now. Start with ``evening``."""

from core.planning.evening import (
    Evening,
    Item,
    before,
    evening,
    item_tonight,
    named_item,
    ramp_kg,
    standing_targets,
)

__all__ = [
    "Evening",
    "Item",
    "before",
    "evening",
    "item_tonight",
    "named_item",
    "ramp_kg",
    "standing_targets",
]
