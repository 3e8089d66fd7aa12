"""What may be counted of sends, planned moments and replies, for those who watch the program."""

from typing import Literal, Protocol

from bot.ports import DueKind, MessageKind, SendResult

ReplyResult = Literal["understood", "misread", "failed"]


class Counting(Protocol):
    """Counts what happens, for those who watch the program. Any thread may call; never raises.

    Nothing of a person goes in: no chat, no text, no name.
    """

    def sent(self, kind: MessageKind, result: SendResult) -> None:
        """A message was taken to be sent, and this became of it."""
        ...

    def fired(self, kind: DueKind, *, late_s: float, dropped: bool) -> None:
        """A planned moment was dealt with, so long after its time. [s]"""
        ...

    def replied(self, result: ReplyResult, *, took_s: float) -> None:
        """A message was dealt with, and what was said to it committed, in so much time. [s]"""
        ...


class Uncounted:
    """A ``Counting`` that counts nothing, where nobody watches."""

    def sent(self, kind: MessageKind, result: SendResult) -> None: ...

    def fired(self, kind: DueKind, *, late_s: float, dropped: bool) -> None: ...

    def replied(self, result: ReplyResult, *, took_s: float) -> None: ...
