"""How fast we may send: so many messages a second in all, and to one chat."""

import asyncio
import time
from collections.abc import Awaitable, Callable

from bot.ports import Chat

OVERALL_PER_S = 30.0
"""The chat service's advice for one bot. [1/s]"""

CHAT_PER_S = 1.0
"""The chat service's advice for one chat. [1/s]"""

CHAT_BURST = 3
"""Messages to one chat that may go at once; short bursts pass. House rule. [-]"""

_REMEMBERED_CHATS = 1000


class _Spacing:
    """Lets ``burst`` turns pass at once and spaces the others ``1 / per_s`` apart."""

    def __init__(self, per_s: float, burst: int) -> None:
        self._step_s = 1.0 / per_s
        self._credit_s = (burst - 1) * self._step_s
        self.free_at_s = float("-inf")

    def wait_s(self, now_s: float) -> float:
        """Take the next turn; how long to wait for it. [s], >= 0"""
        start_s = max(now_s, self.free_at_s - self._credit_s)
        self.free_at_s = max(now_s, self.free_at_s) + self._step_s
        return start_s - now_s


class SendBudget:
    """Turns to send, shared by everything one process sends through one service."""

    def __init__(
        self,
        *,
        overall_per_s: float = OVERALL_PER_S,
        chat_per_s: float = CHAT_PER_S,
        chat_burst: int = CHAT_BURST,
        monotonic: Callable[[], float] = time.monotonic,
        sleep: Callable[[float], Awaitable[None]] = asyncio.sleep,
    ) -> None:
        self._overall = _Spacing(overall_per_s, burst=1)
        self._chats: dict[Chat, _Spacing] = {}
        self._chat_per_s = chat_per_s
        self._chat_burst = chat_burst
        self._monotonic = monotonic
        self._sleep = sleep

    async def take(self, chat: Chat) -> None:
        """Wait until a message may go to that chat."""
        # The chat's turn first: a chat that must wait takes no turn from the others.
        await self._pause(self._of(chat))
        await self._pause(self._overall)

    async def _pause(self, spacing: _Spacing) -> None:
        wait_s = spacing.wait_s(self._monotonic())
        if wait_s > 0:
            await self._sleep(wait_s)

    def _of(self, chat: Chat) -> _Spacing:
        if chat not in self._chats:
            self._forget_idle()
            self._chats[chat] = _Spacing(self._chat_per_s, self._chat_burst)
        return self._chats[chat]

    def _forget_idle(self) -> None:
        if len(self._chats) >= _REMEMBERED_CHATS:
            now_s = self._monotonic()
            self._chats = {c: s for c, s in self._chats.items() if s.free_at_s > now_s}
