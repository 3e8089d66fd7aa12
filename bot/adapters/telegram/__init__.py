"""Telegram: updates become ``Inbound``, parcels become messages.

Start at ``serving.serve``: it fetches, keeps, hands over and stops. ``account`` opens the
bot account, ``channel`` sends, ``inbound`` translates, ``transport`` speaks HTTP.
"""

from bot.adapters.telegram.account import account_name, open_account
from bot.adapters.telegram.channel import TelegramChannel
from bot.adapters.telegram.serving import Parts, Timing, serve

__all__ = ["Parts", "TelegramChannel", "Timing", "account_name", "open_account", "serve"]
