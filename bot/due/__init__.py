"""What makes planned moments happen: one short tick. The moments themselves are in the store."""

from bot.due.ticker import Ticker

__all__ = ["Ticker"]
