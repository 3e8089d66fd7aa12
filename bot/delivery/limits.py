"""How fast the chat service lets one account send."""

from bot.ports import SendLimits

PER_S = 30.0
"""The chat service's advice for one bot. [1/s]"""

CHAT_PER_S = 1.0
"""The chat service's advice for one chat. [1/s]"""

CHAT_BURST = 3
"""Messages to one chat that may go at once; short bursts pass. House rule. [-]"""

USUAL_LIMITS = SendLimits(PER_S, CHAT_PER_S, CHAT_BURST)
"""Of an account to which nothing more was granted."""
