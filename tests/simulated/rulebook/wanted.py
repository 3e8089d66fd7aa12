"""A dose that the text of the rules allows."""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Wanted:
    """One dose that the text allows: load, seconds or reps in total, and by which rule."""

    rule: str
    load_kg: Decimal | None
    total: int | None
    """Sum over the sets of the full dose; None: the text leaves it open."""
