"""Somebody to talk to: one athlete in one chat, on Tuesday 1 December 2026 from noon in Oslo on."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from bot.conversation.step import hear
from bot.conversation.talk import talk_as_text, talk_from_text
from bot.ports import Chat, Loaded, Outgoing
from core.athlete import Athlete

NOON = datetime(2026, 12, 1, 11, 0, tzinfo=UTC)


class Talker:
    """Says replies one after the other and gives what was answered to the last one.

    Attributes:
        now: When the last one was said; a minute is between them, or days.
        athlete: What is known by now.
        rest_until: When the running rest ends, None without one.
    """

    def __init__(self) -> None:
        self.now = NOON
        self.athlete = Athlete()
        self.rest_until: datetime | None = None
        self._loaded = Loaded(1, Chat("terminal", 1), (), "")
        self.sent: tuple[Outgoing, ...] = ()

    def __call__(self, *texts: str, days: int = 0, minutes: float = 1) -> str:
        self.now += timedelta(days=days)
        for text in texts:
            self.now += timedelta(minutes=minutes)
            outcome = hear(self._loaded, text, pressed=False, now=self.now)
            entries = (*self._loaded.entries, *outcome.entries)
            talk = talk_as_text(outcome.talk)
            self._loaded = Loaded(1, self._loaded.chat, entries, talk)
            self.athlete, self.sent = outcome.athlete, outcome.messages
            self.rest_until = talk_from_text(talk).rest_until
        return "\n".join(m.text for m in self.sent if m.kind == "answer")


@pytest.fixture
def talker() -> Callable[..., Talker]:
    """Begins a talk with those replies."""

    def begin(*texts: str) -> Talker:
        talker = Talker()
        talker(*texts)
        return talker

    return begin
