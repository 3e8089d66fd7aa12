"""How strong, and how sure: from logged sets to an estimate of the maximum with its spread.

``observation`` what one set says, ``filter`` what is believed from day to day, ``gate`` which
sets look like slips, ``fold`` one walk over a line of progress. Start with ``estimate``.
"""

from core.strength.estimate import Estimate, load_for, load_for_reps, strength_from, strength_of
from core.strength.outlier import Doubt, doubt_of, trusted

__all__ = [
    "Doubt",
    "Estimate",
    "doubt_of",
    "load_for",
    "load_for_reps",
    "strength_from",
    "strength_of",
    "trusted",
]
