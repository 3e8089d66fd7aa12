"""What next: one module per dose kind, guards in one visible list, and the reasons.

Start with ``answer``. ``rules`` lists every reason there is.
"""

from core.progression.answer import next_on, next_targets

__all__ = ["next_on", "next_targets"]
