"""Sending: parcels become messages of the service."""

from collections.abc import Sequence

from telegram import Bot, InlineKeyboardButton, InlineKeyboardMarkup, LinkPreviewOptions
from telegram.constants import InlineKeyboardButtonLimit, MessageLimit
from telegram.error import TelegramError

from bot.adapters.telegram.trouble import send_trouble
from bot.errors import NeverSendable
from bot.ports import Button, Parcel

_IN_A_ROW = 2
_NO_PREVIEW = LinkPreviewOptions(is_disabled=True)


class TelegramChannel:
    """A ``Channel`` over one bot account."""

    def __init__(self, bot: Bot) -> None:
        self._bot = bot
        # Parts of a long message that went out before a later part failed: not sent again.
        self._parts_sent: dict[int, int] = {}

    async def send(self, parcel: Parcel) -> int | None:
        """Send; the number of the message (of its last part, if it took several).

        Raises:
            RetryLater, MaybeSent, ChatGone, NeverSendable, BadSettings: As in ``bot.errors``.
        """
        parts = split_text(parcel.message.text)
        if not parts:
            raise NeverSendable("the message holds no text")
        keyboard = _keyboard(parcel.message.buttons)
        number: int | None = None
        for index in range(self._parts_sent.pop(parcel.id, 0), len(parts)):
            try:
                number = await self._send_part(
                    parcel.chat.chat_id,
                    parts[index],
                    keyboard=keyboard if index == len(parts) - 1 else None,
                )
            except TelegramError as error:
                if index:
                    self._parts_sent[parcel.id] = index
                raise send_trouble(error, attempts=parcel.attempts, seed=parcel.id) from error
        return number

    async def _send_part(
        self, chat_id: int, text: str, *, keyboard: InlineKeyboardMarkup | None
    ) -> int:
        message = await self._bot.send_message(
            chat_id, text, reply_markup=keyboard, link_preview_options=_NO_PREVIEW
        )
        return message.message_id


def _keyboard(buttons: Sequence[Button]) -> InlineKeyboardMarkup | None:
    for button in buttons:
        if not 0 < len(button.send.encode()) <= InlineKeyboardButtonLimit.MAX_CALLBACK_DATA:
            raise NeverSendable(f"the reply behind a button is {len(button.send.encode())} bytes")
    keys = [InlineKeyboardButton(each.label, callback_data=each.send) for each in buttons]
    rows = [keys[start : start + _IN_A_ROW] for start in range(0, len(keys), _IN_A_ROW)]
    return InlineKeyboardMarkup(rows) if rows else None


def split_text(text: str, limit: int = MessageLimit.MAX_TEXT_LENGTH) -> tuple[str, ...]:
    """The text in parts that the service takes, cut at line breaks where there are any.

    Args:
        text: Not empty.
        limit: Longest part, in UTF-16 units: the narrowest way to count a character, so
            that a part is never too long.
    """
    parts = []
    rest = text
    while len(head := _head(rest, limit)) < len(rest):
        cut = head.rfind("\n") + 1 or len(head)
        parts.append(rest[:cut].rstrip("\n"))
        rest = rest[cut:]
    return tuple(part for part in (*parts, rest) if part.strip())


def _head(text: str, limit: int) -> str:
    """The longest beginning that fits, no character cut in two."""
    units = text[:limit].encode("utf-16-le")[: 2 * limit]
    return units.decode("utf-16-le", errors="ignore")
