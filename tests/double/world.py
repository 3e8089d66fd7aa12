"""What the chat service knows: updates not yet confirmed, chats, messages, presses."""

import json
import threading
import time
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from typing import Any

Json = dict[str, Any]
Params = Mapping[str, Any]


class ApiError(Exception):
    """An error answer of the Bot API."""

    def __init__(self, status: int, description: str, retry_after: int | None = None) -> None:
        super().__init__(description)
        self.status = status
        self.description = description
        self.retry_after = retry_after


@dataclass(frozen=True, slots=True)
class Message:
    """A message of the bot as the person sees it now.

    Attributes:
        rows: The buttons, row by row: label and what pressing sends.
        kind: text, photo or document.
        edited: True once its text or buttons were changed.
        extra: The other parameters of the call that sent it.
        arrived_s: When it came, by ``time.monotonic``.
    """

    message_id: int
    chat_id: int
    text: str
    rows: tuple[tuple[tuple[str, str], ...], ...]
    date: int
    kind: str = "text"
    edited: bool = False
    extra: Params = field(default_factory=dict, compare=False)
    arrived_s: float = field(default_factory=time.monotonic, compare=False)

    @property
    def labels(self) -> tuple[str, ...]:
        """What stands on the buttons, in reading order."""
        return tuple(label for row in self.rows for label, _ in row)


class Allowance:
    """How fast messages may come: a bucket of ``burst`` turns that fills at ``per_s``."""

    def __init__(self, per_s: float, burst: int) -> None:
        self.refused = 0
        self._per_s = per_s
        self._burst = burst
        self._left = float(burst)
        self._at_s = time.monotonic()

    def take(self) -> None:
        """One message. Raises ApiError when it comes too soon."""
        now_s = time.monotonic()
        self._left = min(self._burst, self._left + (now_s - self._at_s) * self._per_s)
        self._at_s = now_s
        if self._left < 1:
            self.refused += 1
            raise ApiError(429, "Too Many Requests: retry after 1", 1)
        self._left -= 1


def system_now() -> datetime:
    """The machine's clock."""
    return datetime.now(UTC)


class World:
    """The service's memory. ``changed`` guards it and tells of every change."""

    def __init__(self, token: str, now: Callable[[], datetime]) -> None:
        self.token = token
        self.now = now
        self.changed = threading.Condition()
        self.waiting: list[Json] = []
        self.repeats: list[Json] = []
        self.ever: dict[int, Json] = {}
        self.reverse_next = False
        self.chats: dict[int, list[Message]] = defaultdict(list)
        self.names: dict[int, str] = {}
        self.blocked: set[int] = set()
        self.presses: dict[str, bool] = {}
        self.commands: list[Json] = []
        self.webhook = ""
        self.allowance: Allowance | None = None
        self.calls: list[tuple[str, Json]] = []
        self._update_id = 1000
        self._message_id = 0

    # --- the bot's own account
    @property
    def me(self) -> Json:
        return {
            "id": int(self.token.partition(":")[0]),
            "is_bot": True,
            "first_name": "Evening companion",
            "username": "evening_companion_bot",
            "can_join_groups": False,
            "can_read_all_group_messages": False,
            "supports_inline_queries": False,
        }

    def person(self, chat_id: int) -> Json:
        return {"id": abs(chat_id), "is_bot": False, "first_name": self.names[chat_id]}

    def chat(self, chat_id: int) -> Json:
        if chat_id < 0:
            return {"id": chat_id, "type": "group", "title": self.names[chat_id]}
        return {"id": chat_id, "type": "private", "first_name": self.names[chat_id]}

    def stamp(self) -> int:
        return int(self.now().timestamp())

    def next_message_id(self) -> int:
        self._message_id += 1
        return self._message_id

    # --- updates
    def push(self, content: Json) -> int:
        """Number an update and put it where polls find it."""
        self._update_id += 1
        update = {"update_id": self._update_id, **content}
        self.waiting.append(update)
        self.ever[self._update_id] = update
        self.changed.notify_all()
        return self._update_id

    def confirm_below(self, offset: int) -> None:
        """Forget what a poll with this offset confirms; a negative one keeps only the last."""
        if offset < 0:
            self.waiting = self.waiting[offset:]
        elif offset > 0:
            self.waiting = [each for each in self.waiting if each["update_id"] >= offset]
        self.changed.notify_all()

    def batch(self, limit: int) -> list[Json]:
        """What a poll gets now. It stays until it is confirmed."""
        found = self.waiting[:limit]
        if found and self.reverse_next:
            found.reverse()
            self.reverse_next = False
        found = [*self.repeats, *found]
        self.repeats = []
        return found

    # --- messages
    def add_message(self, chat_id: int, text: str, *, params: Params, kind: str = "text") -> Json:
        """The bot's message, checked and stored; as the Bot API shows it."""
        if self.allowance is not None:
            self.allowance.take()
        if chat_id not in self.names:
            raise ApiError(400, "Bad Request: chat not found")
        if chat_id in self.blocked:
            raise ApiError(403, "Forbidden: bot was blocked by the user")
        message = Message(
            self.next_message_id(),
            chat_id,
            checked_text(text) if kind == "text" else text,
            read_rows(params.get("reply_markup")),
            self.stamp(),
            kind=kind,
            extra=dict(params),
        )
        self.chats[chat_id].append(message)
        self.changed.notify_all()
        return self.show(message)

    def change_message(self, chat_id: int, message_id: int, *, params: Params) -> Json:
        """Edit the bot's message."""
        messages = self.chats[chat_id]
        for index, old in enumerate(messages):
            if old.message_id != message_id:
                continue
            text = checked_text(params["text"]) if "text" in params else old.text
            new = replace(old, text=text, rows=read_rows(params.get("reply_markup")))
            if new == old:
                raise ApiError(400, "Bad Request: message is not modified")
            messages[index] = replace(new, edited=True)
            self.changed.notify_all()
            return self.show(messages[index])
        raise ApiError(400, "Bad Request: message to edit not found")

    def show(self, message: Message) -> Json:
        """The message as the Bot API shows it."""
        shown: Json = {
            "message_id": message.message_id,
            "date": message.date,
            "chat": self.chat(message.chat_id),
            "from": self.me,
        }
        if message.kind == "text":
            shown["text"] = message.text
        elif message.text:
            shown["caption"] = message.text
        if message.rows:
            keys = [[{"text": a, "callback_data": b} for a, b in row] for row in message.rows]
            shown["reply_markup"] = {"inline_keyboard": keys}
        return shown


def checked_text(text: str) -> str:
    """The text, if the service takes it."""
    if not text.strip():
        raise ApiError(400, "Bad Request: message text is empty")
    if len(text.encode("utf-16-le")) // 2 > 4096:
        raise ApiError(400, "Bad Request: message is too long")
    return text


def read_rows(markup: str | Json | None) -> tuple[tuple[tuple[str, str], ...], ...]:
    """An inline keyboard's labels and data, if the service takes them."""
    if not markup:
        return ()
    keyboard: Json = json.loads(markup) if isinstance(markup, str) else markup
    rows: Sequence[Sequence[Json]] = keyboard.get("inline_keyboard", ())
    for row in rows:
        for key in row:
            if not 1 <= len(key.get("callback_data", "").encode()) <= 64:
                raise ApiError(400, "Bad Request: BUTTON_DATA_INVALID")
            if not key["text"].strip():
                raise ApiError(400, "Bad Request: button text is empty")
    return tuple(tuple((key["text"], key["callback_data"]) for key in row) for row in rows)
