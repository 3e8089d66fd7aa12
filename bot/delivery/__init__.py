"""Sending what the outbox holds: order, limits, retries.

``Courier`` sends through services that can refuse; ``deliver_now`` shows on a screen,
which cannot. Both take messages from the store and mark what became of them, so a
crash can repeat an answer but not lose one.
"""

from bot.delivery.budget import SendBudget
from bot.delivery.courier import Courier
from bot.delivery.showing import deliver_now

__all__ = ["Courier", "SendBudget", "deliver_now"]
