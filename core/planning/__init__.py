"""Planning: what is tonight, and what stands for an exercise now. Start with ``evening``."""

from core.planning.allowance import Allowance, allowance
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
    "Allowance",
    "Evening",
    "Item",
    "allowance",
    "before",
    "evening",
    "item_tonight",
    "named_item",
    "ramp_kg",
    "standing_targets",
]
