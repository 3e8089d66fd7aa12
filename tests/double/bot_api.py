"""A Bot API double on loopback, with the person's side in Python.

    with BotApiDouble() as double:
        # give double.token and double.api_url to the program, in this process or another
        double.types(7, "crimp 4x22kg ok")
        double.wait(7, "Next")
        double.presses(7, "Start")

It runs in a thread of its own: the same object serves plain tests, tests with a loop, and
programs started as child processes. Updates are kept until a poll's offset confirms them.
"""

import asyncio
from collections.abc import Callable
from datetime import datetime
from types import TracebackType
from typing import Self, TypeVar

from tests.double.faults import Fault
from tests.double.server import Server
from tests.double.world import Allowance, Json, Message, World, system_now

TOKEN = "4242:AAplanted-secret_of-the-double"
PATIENCE_S = 5.0
Found = TypeVar("Found")
Wanted = str | Callable[[Message], bool]


class BotApiDouble:
    """A chat service with one bot account and any number of people."""

    def __init__(
        self,
        *,
        token: str = TOKEN,
        now: Callable[[], datetime] = system_now,
        latency_s: float = 0.0,
    ) -> None:
        """Make one; nothing listens before ``start`` or the ``with`` block.

        Args:
            token: The only one it takes.
            now: Dates the messages. Aware.
            latency_s: How long every call takes at least. [s], >= 0
        """
        self.token = token
        self._world = World(token, now)
        self._server = Server(self._world, latency_s=latency_s)

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.stop()

    def start(self) -> None:
        self._server.start()

    def stop(self) -> None:
        self._server.stop()

    @property
    def api_url(self) -> str:
        """The base address to give to the program."""
        return f"http://127.0.0.1:{self._server.port}/bot"

    # --- what a person does; each gives the update's number
    def meet(self, chat_id: int, name: str = "Rosalind Quill") -> None:
        """Somebody who has opened the chat. Everyone who writes is met already."""
        with self._world.changed:
            self._world.names.setdefault(chat_id, name)

    def types(self, chat_id: int, text: str, *, at: datetime | None = None) -> int:
        """Write; a negative number is a group."""
        content: Json = {"text": text}
        if text.startswith("/"):
            length = len(text.split()[0])
            content["entities"] = [{"type": "bot_command", "offset": 0, "length": length}]
        return self.sends(chat_id, content, at=at)

    def sends(self, chat_id: int, content: Json, *, at: datetime | None = None) -> int:
        """Send a message with any content, for example ``PHOTO`` or ``VOICE``."""
        self.meet(chat_id)
        with self._world.changed:
            return self._push({"message": self._message(chat_id, content, at=at)})

    def edits(self, chat_id: int, text: str) -> int:
        """Change an earlier message of their own."""
        self.meet(chat_id)
        with self._world.changed:
            message = self._message(chat_id, {"text": text}, at=None)
            return self._push({"edited_message": {**message, "edit_date": message["date"]}})

    def presses(self, chat_id: int, label: str) -> int:
        """Press the button with this label on the newest message that has one.

        Raises:
            LookupError: No message has it.
        """
        with self._world.changed:
            for message in reversed(self._world.chats[chat_id]):
                for name, data in (key for row in message.rows for key in row):
                    if name == label:
                        return self._push(self._press(message, data))
        raise LookupError(f"no button {label!r} in chat {chat_id}: {self.messages(chat_id)}")

    def blocks(self, chat_id: int) -> int:
        """Block the bot: sends to them fail from now on."""
        return self._member(chat_id, old="member", new="kicked")

    def unblocks(self, chat_id: int) -> int:
        """Let the bot in again."""
        return self._member(chat_id, old="kicked", new="member")

    # --- what the person sees
    def messages(self, chat_id: int) -> tuple[Message, ...]:
        """The bot's messages in a chat, oldest first, as they look now."""
        with self._world.changed:
            return tuple(self._world.chats[chat_id])

    def wait(
        self, chat_id: int, wanted: Wanted, *, timeout: float = PATIENCE_S, after: int = 0
    ) -> Message:
        """The first message that is wanted, waiting for it if need be.

        Args:
            chat_id: Where.
            wanted: Text it holds, or what is true of it.
            timeout: [s], > 0
            after: Only messages numbered above this.

        Raises:
            TimeoutError: None came; the text shows what did.
        """

        def find() -> Message | None:
            for message in self.messages(chat_id):
                fits = wanted in message.text if isinstance(wanted, str) else wanted(message)
                if message.message_id > after and fits:
                    return message
            return None

        return self._wait(find, timeout, lambda: f"in chat {chat_id}: {self.messages(chat_id)}")

    async def wait_for(
        self, chat_id: int, wanted: Wanted, *, timeout: float = PATIENCE_S, after: int = 0
    ) -> Message:
        """``wait`` without blocking the loop."""
        return await asyncio.to_thread(self.wait, chat_id, wanted, timeout=timeout, after=after)

    # --- what the service knows
    def until(self, true: Callable[[], bool], *, timeout: float = PATIENCE_S) -> None:
        """Wait until something is true of this double. Raises TimeoutError."""
        self._wait(lambda: true() or None, timeout, lambda: f"never true; calls: {self.calls()}")

    async def until_async(self, true: Callable[[], bool], *, timeout: float = PATIENCE_S) -> None:
        """``until`` without blocking the loop."""
        await asyncio.to_thread(self.until, true, timeout=timeout)

    def calls(self, method: str | None = None) -> tuple[tuple[str, Json], ...]:
        """Calls so far, in lower case, with their parameters; those of one method if named."""
        with self._world.changed:
            calls = tuple(self._world.calls)
        return tuple(each for each in calls if method is None or each[0] == method.lower())

    def confirmed(self, update_id: int) -> bool:
        """True once the program has told the service to forget this update."""
        with self._world.changed:
            waiting = {each["update_id"] for each in self._world.waiting}
            return update_id in self._world.ever and update_id not in waiting

    def unacknowledged(self) -> int:
        """Button presses that still show the waiting sign."""
        with self._world.changed:
            return sum(not answered for answered in self._world.presses.values())

    def menu(self) -> tuple[str, ...]:
        """The names of the commands in the menu."""
        with self._world.changed:
            return tuple(each["command"] for each in self._world.commands)

    # --- trouble
    def fail(self, method: str, *faults: Fault, chat_id: int | None = None, times: int = 1) -> None:
        """Let the next calls of a method (to one chat, if named) end so, one fault per call."""
        with self._world.changed:
            self._server.faults.extend((method, chat_id, each) for each in faults * times)

    def faults_left(self) -> int:
        """Faults scripted and not yet met."""
        with self._world.changed:
            return len(self._server.faults)

    def allow(self, *, per_s: float, burst: int) -> None:
        """Refuse messages beyond that rate with 429, as the service does: so many may come at once
        after a silence, and one more every ``1 / per_s`` seconds."""
        with self._world.changed:
            self._world.allowance = Allowance(per_s, burst)

    def refused_for_haste(self) -> int:
        """Messages that came faster than was allowed."""
        with self._world.changed:
            return self._world.allowance.refused if self._world.allowance else 0

    def heal(self) -> None:
        """Forget the faults that nobody met."""
        with self._world.changed:
            self._server.faults.clear()

    def repeat(self, update_id: int) -> None:
        """Deliver an update once more, whatever was confirmed."""
        with self._world.changed:
            self._world.repeats.append(self._world.ever[update_id])
        self._server.poke()

    def reverse_next(self) -> None:
        """Deliver the next batch newest first."""
        with self._world.changed:
            self._world.reverse_next = True

    def hook(self, url: str) -> None:
        """As if another program had set a webhook: polls are refused until it is removed."""
        with self._world.changed:
            self._world.webhook = url
        self._server.poke()

    def push(self, content: Json) -> int:
        """Any update, without its number."""
        with self._world.changed:
            return self._push(content)

    # --- inside
    def _push(self, content: Json) -> int:
        number = self._world.push(content)
        self._server.poke()
        return number

    def _message(self, chat_id: int, content: Json, *, at: datetime | None) -> Json:
        return {
            "message_id": self._world.next_message_id(),
            "date": int(at.timestamp()) if at else self._world.stamp(),
            "chat": self._world.chat(chat_id),
            "from": self._world.person(chat_id),
            **content,
        }

    def _press(self, message: Message, data: str) -> Json:
        press = f"press-{len(self._world.presses) + 1}"
        self._world.presses[press] = False
        return {
            "callback_query": {
                "id": press,
                "from": self._world.person(message.chat_id),
                "message": self._world.show(message),
                "chat_instance": "1",
                "data": data,
            }
        }

    def _member(self, chat_id: int, *, old: str, new: str) -> int:
        self.meet(chat_id)
        with self._world.changed:
            (self._world.blocked.add if new == "kicked" else self._world.blocked.discard)(chat_id)
            before: Json = {"user": self._world.me, "status": old}
            now: Json = {"user": self._world.me, "status": new}
            (now if new == "kicked" else before)["until_date"] = 0
            change = {
                "chat": self._world.chat(chat_id),
                "from": self._world.person(chat_id),
                "date": self._world.stamp(),
                "old_chat_member": before,
                "new_chat_member": now,
            }
            return self._push({"my_chat_member": change})

    def _wait(
        self, find: Callable[[], Found | None], timeout: float, tell: Callable[[], str]
    ) -> Found:
        found: list[Found] = []

        def look() -> bool:
            if (value := find()) is not None:
                found.append(value)
            return bool(found)

        with self._world.changed:
            if not self._world.changed.wait_for(look, timeout):
                raise TimeoutError(f"nothing in {timeout:g} s {tell()}")
        return found[0]


_FILE: Json = {"file_id": "file", "file_unique_id": "file"}
PHOTO: Json = {"photo": [{**_FILE, "width": 90, "height": 60}]}
VOICE: Json = {"voice": {**_FILE, "duration": 3}}
STICKER: Json = {
    "sticker": {
        **_FILE,
        "type": "regular",
        "width": 512,
        "height": 512,
        "is_animated": False,
        "is_video": False,
    }
}
