"""Sending through a service that can refuse, be slow, or leave us in doubt.

What happens to a message after a try:

| the channel says | answer, question, timer | reminder, follow-up, digest |
| --- | --- | --- |
| sent | sent | sent |
| ``RetryLater`` | again after that long, and nothing else goes meanwhile | the same |
| ``MaybeSent`` | once more, then given up as uncertain | given up as uncertain |
| ``ChatGone`` | the chat is marked, all that waits there given up | the same |
| ``NeverSendable`` | given up | given up |
"""

import asyncio
from collections.abc import Callable, Mapping
from datetime import datetime, timedelta

from bot.clock import Clock
from bot.delivery.budget import SendBudget
from bot.errors import ChatGone, MaybeSent, NeverSendable, RetryLater
from bot.ports import Channel, MessageKind, Parcel, Store, Work

IN_FLIGHT = 20
"""Messages of one adapter under way at once, each to another chat. [-]"""

LEASE_S = 120.0
"""Longer than any send takes, waiting for its turn included. [s]"""

DOUBT_PAUSE_S = 3.0
"""Before an answer that may have arrived is sent again. [s]"""

MAY_REPEAT: frozenset[MessageKind] = frozenset({"answer", "question", "timer"})
"""Kinds of which two are better than none."""

STALE_AFTER: Mapping[MessageKind, timedelta] = {
    "reminder": timedelta(minutes=90),
    "follow-up": timedelta(minutes=90),
}
"""When a message that could not be sent has lost its point: the evening is over. House rule."""


class Courier:
    """Sends what the store holds for its channels, by name of the adapter."""

    def __init__(
        self,
        store: Store,
        channels: Mapping[str, Channel],
        clock: Clock,
        *,
        budget: SendBudget | None = None,
    ) -> None:
        self._store = store
        self._channels = channels
        self._clock = clock
        self._budget = budget or SendBudget()
        self._halted_until: dict[str, datetime] = {}

    async def deliver(self, adapter: str) -> int:
        """Send what waits for that adapter until nothing may go now; how many were sent.

        Messages of one chat go one after another. When the service asks to wait,
        the round ends, and later rounds send nothing until the wait is over. Cancelled,
        it finishes what it has begun.
        """
        sending: set[asyncio.Task[bool]] = set()
        sent = 0
        try:
            while True:
                for parcel in await self._claim(adapter, IN_FLIGHT - len(sending)):
                    sending.add(asyncio.create_task(self._send(parcel)))
                if not sending:
                    return sent
                done, sending = await asyncio.wait(sending, return_when=asyncio.FIRST_COMPLETED)
                sent += sum(task.result() for task in done)
        finally:
            await asyncio.gather(*sending, return_exceptions=True)

    async def _claim(self, adapter: str, limit: int) -> tuple[Parcel, ...]:
        if self._is_halted(adapter):
            return ()

        def claim() -> tuple[Parcel, ...]:
            with self._store.work() as work:
                return work.claim_parcels(
                    adapter, now=self._clock.now(), limit=limit, lease_s=LEASE_S
                )

        return await asyncio.to_thread(claim)

    async def _send(self, parcel: Parcel) -> bool:
        adapter = parcel.chat.adapter
        stale_after = STALE_AFTER.get(parcel.message.kind)
        if stale_after and self._clock.now() - parcel.queued_at > stale_after:
            await self._mark(lambda work, now: work.give_up(parcel.id, at=now, why="stale"))
            return False
        await self._budget.take(parcel.chat)
        if self._is_halted(adapter):
            until = self._halted_until[adapter]
            await self._mark(lambda work, _: work.retry(parcel.id, at=until, why="held back"))
            return False
        try:
            message_id = await self._channels[adapter].send(parcel)
        except RetryLater as trouble:
            await self._after_refusal(parcel, trouble)
        except MaybeSent:
            await self._after_doubt(parcel)
        except ChatGone:
            await self._mark(lambda work, now: work.mark_gone(parcel.chat, at=now))
        except NeverSendable as trouble:
            why = str(trouble)
            await self._mark(lambda work, now: work.give_up(parcel.id, at=now, why=why))
        else:
            await self._mark(lambda work, now: work.sent(parcel.id, at=now, message_id=message_id))
            return True
        return False

    async def _after_refusal(self, parcel: Parcel, trouble: RetryLater) -> None:
        until = self._clock.now() + timedelta(seconds=trouble.after_s)
        halted = self._halted_until.get(parcel.chat.adapter, until)
        self._halted_until[parcel.chat.adapter] = max(until, halted)
        await self._mark(lambda work, _: work.retry(parcel.id, at=until, why=str(trouble)))

    async def _after_doubt(self, parcel: Parcel) -> None:
        if parcel.message.kind in MAY_REPEAT and parcel.doubts == 0:
            pause = timedelta(seconds=DOUBT_PAUSE_S)
            await self._mark(
                lambda work, now: work.retry(
                    parcel.id, at=now + pause, why="maybe sent", maybe_sent=True
                )
            )
        else:
            await self._mark(lambda work, now: work.give_up(parcel.id, at=now, why="uncertain"))

    async def _mark(self, act: Callable[[Work, datetime], None]) -> None:
        """Write down what became of a message, in a transaction of its own."""

        def write() -> None:
            with self._store.work() as work:
                act(work, self._clock.now())

        await asyncio.to_thread(write)

    def _is_halted(self, adapter: str) -> bool:
        until = self._halted_until.get(adapter)
        return until is not None and self._clock.now() < until
