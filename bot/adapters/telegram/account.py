"""Opening the bot account that a token stands for."""

import re

from telegram import Bot
from telegram.error import InvalidToken, TelegramError

from bot.adapters.telegram.backoff import backoff_s
from bot.adapters.telegram.quiet import quiet_libraries
from bot.adapters.telegram.transport import Transport
from bot.adapters.telegram.trouble import refused_token
from bot.errors import BadSettings, RetryLater

_TOKEN = re.compile(r"[0-9]+:[A-Za-z0-9_-]+", re.ASCII)
_ANSWER_S = 20.0


def open_account(token: str, *, api_url: str, answer_s: float = _ANSWER_S) -> Bot:
    """The account, not yet connected. Its ``repr`` holds the token: never log it.

    Args:
        token: As given out by the service, "12345:letters".
        api_url: Base address of the Bot API, to which the token is added.
        answer_s: How long a call may take before its outcome counts as unknown. [s], > 0

    Raises:
        BadSettings: This cannot be a token.
    """
    if not _TOKEN.fullmatch(token):
        raise BadSettings(
            "the bot token has another form than 12345:letters: copy it again, whole, "
            "into WEEKNIGHT_TOKEN or WEEKNIGHT_TOKEN_FILE"
        )
    quiet_libraries()
    return Bot(
        token,
        base_url=api_url,
        request=Transport(answer_s=answer_s),
        get_updates_request=Transport(answer_s=answer_s),
    )


def account_id(bot: Bot) -> int:
    """The account's number, which its token begins with: known without a connection."""
    return int(bot.token.partition(":")[0])


async def account_name(bot: Bot) -> str:
    """Connect once, for the doctor: the account's user name. Closes the account.

    Raises:
        BadSettings: The token is refused.
        RetryLater: The service cannot be reached or is in trouble.
    """
    try:
        await bot.initialize()
        return bot.username
    except InvalidToken:
        # Not "from": the library's error holds the token.
        raise refused_token() from None
    except TelegramError as error:
        raise RetryLater(backoff_s(0, seed=0), f"no answer ({type(error).__name__})") from error
    finally:
        await bot.shutdown()
