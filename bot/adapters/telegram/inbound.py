"""From the service's updates to what the rest of the program knows."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from telegram import CallbackQuery, ChatMemberUpdated, Message, Update
from telegram.constants import ChatMemberStatus, ChatType

from bot.ports import Chat, Inbound

ADAPTER = "telegram"
WANTED = ("message", "callback_query", "my_chat_member")

_COMMAND = re.compile(r"/([a-z][a-z0-9_]*)(@[a-z0-9_]+)?(?=\s|$)", re.ASCII | re.IGNORECASE)
# What a link to the bot carries is no word of the person who followed it.
_LINK = re.compile(r"/(start)(@[a-z0-9_]+)? [a-z0-9_-]{1,64}", re.ASCII | re.IGNORECASE)
_NOTICES = (
    "chat_background_set",
    "connected_website",
    "message_auto_delete_timer_changed",
    "pinned_message",
    "write_access_allowed",
)
# Messages are dated in whole seconds; only one that is clearly late takes its own date.
_LATE = timedelta(seconds=5)


@dataclass(frozen=True, slots=True)
class Arrival:
    """Something typed or pressed; ``press`` names the button press to acknowledge."""

    inbound: Inbound
    press: str | None


@dataclass(frozen=True, slots=True)
class Membership:
    """A person blocked the bot (not open) or let it in again."""

    chat: Chat
    open: bool


def read_update(
    raw: Mapping[str, Any], *, bot_id: int, now: datetime
) -> Arrival | Membership | None:
    """What an update means; None for what is not ours (groups, edits, notices).

    A leading slash of a command is left out: "/next crimp" is "next crimp". What holds no
    text has the text "".

    Args:
        raw: The update as the service sent it.
        bot_id: Number of the bot account.
        now: Moment of arrival. Aware, UTC.

    Raises:
        Exception: Whatever the library raises on an update it cannot read.
    """
    update = Update.de_json(dict(raw), None)
    if update.message is not None:
        return _typed(update.update_id, update.message, bot_id=bot_id, now=now)
    if update.callback_query is not None:
        return _pressed(update.update_id, update.callback_query, bot_id=bot_id, now=now)
    if update.my_chat_member is not None:
        return _membership(update.my_chat_member)
    return None


def _typed(update_id: int, message: Message, *, bot_id: int, now: datetime) -> Arrival | None:
    text = message.text or message.caption or ""
    if message.chat.type != ChatType.PRIVATE or any(getattr(message, name) for name in _NOTICES):
        return None
    inbound = Inbound(
        chat=Chat(ADAPTER, message.chat.id),
        source=f"{ADAPTER}:{bot_id}",
        update_id=update_id,
        text=_without_slash(text),
        pressed=False,
        at=message.date if now - message.date > _LATE else now,
    )
    return Arrival(inbound, press=None)


def _without_slash(text: str) -> str:
    link = _LINK.fullmatch(text)
    if link is not None:
        return link[1]
    return _COMMAND.sub(r"\1", text, count=1) if _COMMAND.match(text) else text


def _pressed(update_id: int, query: CallbackQuery, *, bot_id: int, now: datetime) -> Arrival | None:
    if query.message is None or query.message.chat.type != ChatType.PRIVATE or not query.data:
        return None
    inbound = Inbound(
        chat=Chat(ADAPTER, query.message.chat.id),
        source=f"{ADAPTER}:{bot_id}",
        update_id=update_id,
        text=query.data,
        pressed=True,
        at=now,
    )
    return Arrival(inbound, press=query.id)


def _membership(change: ChatMemberUpdated) -> Membership | None:
    if change.chat.type != ChatType.PRIVATE:
        return None
    return Membership(
        Chat(ADAPTER, change.chat.id), open=change.new_chat_member.status != ChatMemberStatus.BANNED
    )
