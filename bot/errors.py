"""Troubles of the outside world, classed by what the caller does next."""


class BotError(Exception):
    """Base of the shell's errors."""


class RetryLater(BotError):
    """The service took nothing; try again after that long. [s]"""

    def __init__(self, after_s: float, why: str) -> None:
        super().__init__(f"{why}; again in {after_s:g} s")
        self.after_s = after_s


class TooMany(RetryLater):
    """The same for everything that the account would send."""


class MaybeSent(BotError):
    """No answer came: the message may or may not have arrived."""


class ChatGone(BotError):
    """The chat is closed to us (blocked, deleted): stop sending there."""


class NeverSendable(BotError):
    """The service refuses this message for good; trying again cannot help."""


class BadSettings(BotError):
    """A setting is missing or wrong; the message says which, and what would do."""


class StoreAway(BotError):
    """The database cannot be asked just now; nothing was done that the next try would repeat."""


class Unreadable(BotError):
    """What was kept cannot be opened: sealed with a key that was not given, or changed."""
