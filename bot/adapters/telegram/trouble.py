"""What the service's troubles mean for a message that was being sent."""

from datetime import timedelta

from telegram.error import (
    BadRequest,
    Forbidden,
    InvalidToken,
    NetworkError,
    RetryAfter,
    TelegramError,
    TimedOut,
)

from bot.adapters.telegram.backoff import backoff_s
from bot.adapters.telegram.transport import AnswerLost, NotSent
from bot.errors import (
    BadSettings,
    BotError,
    ChatGone,
    MaybeSent,
    NeverSendable,
    RetryLater,
    TooMany,
)

_GONE = ("chat not found", "user not found", "peer_id_invalid", "deactivated")


def send_trouble(error: TelegramError, *, attempts: int, seed: int) -> BotError:
    """The same trouble, classed by what the sender does next.

    Args:
        error: What the library raised.
        attempts: Tries before this one.
        seed: Whose wait it is, for ``backoff_s``.
    """
    later_s = backoff_s(attempts, seed=seed)
    match error:
        case RetryAfter():
            return TooMany(retry_after_s(error), "too many messages")
        case Forbidden():
            return ChatGone("the chat is closed to the bot")
        case InvalidToken():
            return refused_token()
        case BadRequest() if any(sign in error.message.lower() for sign in _GONE):
            return ChatGone("the chat does not exist")
        case BadRequest():
            # It may quote the message from there on.
            why = error.message.partition('"')[0].strip()
            return NeverSendable(f"the service refuses the message: {why}")
        case NotSent():
            return RetryLater(later_s, "no connection")
        case TimedOut() | AnswerLost():
            return MaybeSent(f"no answer came ({type(error).__name__})")
        case NetworkError():
            return RetryLater(later_s, "the service is in trouble")
        case _:
            return MaybeSent("the answer could not be read")


def retry_after_s(error: RetryAfter) -> float:
    """How long the service asks us to stay away. [s]"""
    after = error.retry_after
    return after.total_seconds() if isinstance(after, timedelta) else float(after)


def refused_token() -> BadSettings:
    """The setting is wrong; the token itself is never part of the message."""
    return BadSettings(
        "the chat service refuses the bot token: check WEEKNIGHT_TOKEN or WEEKNIGHT_TOKEN_FILE"
    )
