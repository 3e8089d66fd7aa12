"""Telegram: updates become ``Inbound``, parcels become messages.

Start at ``serving``: it receives, keeps, hands over and stops. Messages come by ``poller``
(under ``shift`` where several processes serve) or by ``hook``. ``account`` opens the bot
account, ``channel`` sends, ``inbound`` translates, ``transport`` speaks HTTP.
"""

from bot.adapters.telegram.account import account_name, open_account
from bot.adapters.telegram.channel import TelegramChannel
from bot.adapters.telegram.hook import HookPlace
from bot.adapters.telegram.serving import Parts, Serving, Timing, serve, stopped_by_signals

__all__ = [
    "HookPlace",
    "Parts",
    "Serving",
    "TelegramChannel",
    "Timing",
    "account_name",
    "open_account",
    "serve",
    "stopped_by_signals",
]
