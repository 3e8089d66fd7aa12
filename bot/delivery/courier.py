"""Sending through a service that can refuse, be slow, or leave us in doubt.

What happens to a message after a try:

| the channel says | answer, question, timer | reminder, follow-up, digest |
| --- | --- | --- |
| sent | sent | sent |
| ``TooMany`` | again after that long, and nothing of this account goes meanwhile | the same |
| ``RetryLater`` | again after that long, not for ever if others go through | the same |
| ``MaybeSent`` | once more, then given up as uncertain | given up as uncertain |
| ``ChatGone`` | the chat is marked, all that waits there given up | the same |
| ``NeverSendable`` | given up | given up |
| nothing: the process died | once more, then given up as uncertain | the same |
"""

import asyncio
from collections.abc import Mapping
from datetime import datetime, timedelta

from bot.clock import Clock
from bot.counting import Counting, Uncounted
from bot.delivery.limits import USUAL_LIMITS
from bot.delivery.line import Line, Mark
from bot.errors import BotError, ChatGone, MaybeSent, NeverSendable, RetryLater, TooMany
from bot.ports import Channel, Claim, MessageKind, Parcel, SendLimits, SendResult, Store, Work

IN_FLIGHT = 100
"""Messages of one adapter under way at once, each to another chat. [-]"""

LEASE_S = 20.0
"""How long a message is ours without a sign of life. [s] Kept up while it is being sent."""

DOUBT_PAUSE_S = 3.0
"""Before an answer that may have arrived is sent again. [s]"""

MAY_REPEAT: frozenset[MessageKind] = frozenset({"answer", "question", "timer"})
"""Kinds of which two are better than none, where the service only left us without an answer."""

MOST_TRIES = 12
"""Refusals after which a message is given up if the service takes others. House rule."""


class Courier:
    """Sends what the store holds for its channels, by name of the adapter."""

    def __init__(
        self,
        store: Store,
        channels: Mapping[str, Channel],
        clock: Clock,
        *,
        limits: SendLimits = USUAL_LIMITS,
        lease_s: float = LEASE_S,
        counting: Counting | None = None,
    ) -> None:
        self._store = store
        self._channels = channels
        self._clock = clock
        self._limits = limits
        self._lease_s = lease_s
        self._counting = counting or Uncounted()
        self._lines: dict[str, Line] = {}

    async def deliver(self, adapter: str) -> int:
        """Send what waits for that adapter until nothing may go now; how many were sent.

        Messages of one chat go one after another. When the service asks to wait,
        the round ends, and later rounds send nothing until the wait is over. Called while
        a round is under way it makes that one look again. Cancelled, it finishes what it
        has begun.
        """
        line = self._lines.setdefault(adapter, Line())
        line.news.set()
        if line.busy:
            return 0
        line.busy = True
        try:
            return await self._round(adapter, line)
        finally:
            line.busy = False

    async def _round(self, adapter: str, line: Line) -> int:
        sent_before = line.sent
        try:
            while True:
                line.news.clear()
                most = IN_FLIGHT if line.trouble is None else 0
                claim = await self._write_and_claim(adapter, line, most)
                for kind, why in claim.closed:
                    self._counting.sent(kind, why)
                if claim.silent_until is not None:
                    line.pause(claim.silent_until)
                for parcel in claim.parcels:
                    line.begin(parcel, self._send(line, parcel))
                if line.trouble is not None:
                    trouble, line.trouble = line.trouble, None
                    raise trouble
                if line.is_idle and claim.again_at is None:
                    return line.sent - sent_before
                await line.wait(self._wait_s(line, claim.again_at))
        finally:
            await line.all_done()
            if line.marks:
                await self._write_and_claim(adapter, line, most=0)

    def _wait_s(self, line: Line, again_at: datetime | None) -> float | None:
        """How long to wait for news. [s]; None for as long as it takes."""
        waits = [self._lease_s / 4] if line.sending else []
        if again_at is not None:
            waits.append((again_at - self._clock.now()).total_seconds())
        return max(0.0, min(waits)) if waits else None

    async def _write_and_claim(self, adapter: str, line: Line, most: int = IN_FLIGHT) -> Claim:
        """Write down what became of messages and take more, in one transaction.

        What could not be written is kept for the next time.
        """
        marks = tuple(line.marks)
        limit = max(0, most - len(line.sending))
        under_way = tuple(line.sending)

        def step() -> Claim:
            with self._store.work() as work:
                now = self._clock.now()
                until = now + timedelta(seconds=self._lease_s)
                for mark in marks:
                    mark(work, now)
                if under_way and line.renewal_due(now, every_s=self._lease_s / 4):
                    work.renew(under_way, until=until)
                if not limit or line.is_paused(now):
                    return Claim(())
                return work.claim_turns(
                    adapter, now=now, limit=limit, lease_s=self._lease_s, limits=self._limits
                )

        writing = asyncio.ensure_future(asyncio.to_thread(step))
        try:
            claim = await asyncio.shield(writing)
        except asyncio.CancelledError:
            claim = await writing
            line.marks[: len(marks)] = [_put_back(each) for each in claim.parcels]
            raise
        del line.marks[: len(marks)]
        return claim

    async def _send(self, line: Line, parcel: Parcel) -> None:
        """Send one message in its turn; what became of it is left with the line."""
        if parcel.goes_at is not None:
            await asyncio.sleep(max(0.0, (parcel.goes_at - self._clock.now()).total_seconds()))
        if line.is_paused(self._clock.now()):
            line.marks.append(_put_back(parcel, at=line.paused_until))
            return
        if parcel.doubts:
            await asyncio.to_thread(self._say_calling, parcel)
        try:
            message_id = await self._channels[parcel.chat.adapter].send(parcel)
        except BotError as trouble:
            result, mark = self._after(line, parcel, trouble)
        else:
            line.went_well(self._clock.now())
            result, mark = "sent", _sent(parcel, message_id)
        line.marks.append(mark)
        self._counting.sent(parcel.message.kind, result)

    def _say_calling(self, parcel: Parcel) -> None:
        with self._store.work() as work:
            work.calling(parcel.id)

    def _after(self, line: Line, parcel: Parcel, trouble: BotError) -> tuple[SendResult, Mark]:
        """What is to be done about a message that was not sent, or not surely."""
        now = self._clock.now()
        match trouble:
            case TooMany():
                until = now + timedelta(seconds=trouble.after_s)
                line.pause(until)
                return "later", _held(parcel, until, str(trouble))
            case RetryLater():
                line.went_wrong(now, seed=parcel.id)
                if parcel.attempts + 1 >= MOST_TRIES and line.takes_others(now):
                    return "refused", _given_up(parcel, f"refused too often: {trouble}")
                until = now + timedelta(seconds=trouble.after_s)
                return "later", _put_back(parcel, at=until, why=str(trouble))
            case MaybeSent() if parcel.message.kind in MAY_REPEAT and not parcel.doubts:
                until = now + timedelta(seconds=DOUBT_PAUSE_S)
                return "doubtful", _put_back(parcel, at=until, why="maybe sent", maybe_sent=True)
            case MaybeSent():
                return "uncertain", _given_up(parcel, "uncertain")
            case ChatGone():
                return "gone", lambda work, now: work.mark_gone(parcel.chat, at=now)
            case NeverSendable():
                return "refused", _given_up(parcel, str(trouble))
            case _:
                # A setting is wrong: nothing was sent, and nothing can be.
                line.trouble = trouble
                return "later", _put_back(parcel, why=type(trouble).__name__)


def _sent(parcel: Parcel, message_id: int | None) -> Mark:
    return lambda work, now: work.sent(parcel.id, at=now, message_id=message_id)


def _given_up(parcel: Parcel, why: str) -> Mark:
    return lambda work, now: work.give_up(parcel.id, at=now, why=why)


def _put_back(
    parcel: Parcel,
    *,
    at: datetime | None = None,
    why: str = "held back",
    maybe_sent: bool = False,
) -> Mark:
    return lambda work, now: work.retry(parcel.id, at=at or now, why=why, maybe_sent=maybe_sent)


def _held(parcel: Parcel, until: datetime, why: str) -> Mark:
    """It and all that its account sends wait."""

    def mark(work: Work, _: datetime) -> None:
        work.retry(parcel.id, at=until, why=why)
        work.hold(parcel.chat.adapter, until=until)

    return mark
