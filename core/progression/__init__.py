"""What next: one module per dose kind, guards in one visible list, and the reasons.

Start with ``answer``. ``rules`` lists every reason there is.
"""

from core.progression.answer import next_on, next_targets
from core.progression.rules import RULES, Rule

__all__ = ["RULES", "Rule", "next_on", "next_targets"]
