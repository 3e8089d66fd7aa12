"""Where updates become kept messages, and kept messages are handed to the service."""

import asyncio
import contextlib
import itertools
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Executor
from typing import Any

import structlog
from telegram import Bot
from telegram.error import TelegramError

from bot.adapters.telegram.account import account_id
from bot.adapters.telegram.backoff import backoff_s
from bot.adapters.telegram.inbound import Arrival, Membership, read_update
from bot.adapters.telegram.lanes import Lanes
from bot.adapters.telegram.menu import SORRY
from bot.clock import Clock
from bot.errors import StoreAway
from bot.ports import Chat, Handler, Inbound

_ROOM_FOR = 1000
_SWEEP_EVERY_S = 5.0
_STORE_BACK_S = 5.0
_SORRY_AFTER_S = 20.0
Number = tuple[str, int]
_log = structlog.get_logger(__name__)


class Desk:
    """Keeps what arrives, then has it answered: in order per chat, chats side by side."""

    def __init__(
        self,
        bot: Bot,
        handler: Handler,
        *,
        clock: Clock,
        threads: Executor,
        at_once: int,
        answered: Callable[[], None],
        sweep_every_s: float = _SWEEP_EVERY_S,
    ) -> None:
        """Make a desk.

        Args:
            bot: The account.
            handler: The service; it blocks, so it runs in ``threads``.
            clock: Tells the moment of arrival.
            threads: At least ``at_once`` + 1.
            at_once: How many chats are worked on at the same time.
            answered: Called after each message, when there may be something to send.
            sweep_every_s: How often to look for messages that nobody answers. [s], > 0
        """
        self._bot = bot
        self._handler = handler
        self._clock = clock
        self._threads = threads
        self._answered = answered
        self._lanes = Lanes(self._handle, at_once=at_once, room_for=_ROOM_FOR)
        self._mine: set[Number] = set()
        self._sweep_every_s = sweep_every_s
        self._acknowledging: set[asyncio.Task[None]] = set()
        self._closing = asyncio.Event()

    async def resume(self) -> None:
        """Handle what an earlier run kept and did not finish, oldest first."""
        seen: set[Number] = set()
        while True:
            try:
                waiting = await self._in_thread(self._handler.waiting)
            except StoreAway:
                _log.warning("not_resumed_yet", error="StoreAway")
                await asyncio.sleep(_STORE_BACK_S)
                continue
            except Exception as error:  # noqa: BLE001 what cannot be read must not stop the rest
                _log.error("not_resumed", error=type(error).__name__)
                return
            fresh = [each for each in waiting if _number(each) not in seen]
            if not fresh:
                return
            _log.info("resuming", messages=len(fresh))
            for inbound in fresh:
                seen.add(_number(inbound))
                self._put(inbound)
            await self._lanes.empty()

    async def sweep(self) -> None:
        """Look now and then, until cancelled, for what was kept and nobody answers.

        Its keeper may have died, or have lost the word that its keeping was committed.
        """
        last: set[Number] = set()
        while True:
            await asyncio.sleep(self._sweep_every_s)
            try:
                waiting = await self._in_thread(self._handler.waiting)
            except Exception as error:  # noqa: BLE001 the next look tries again
                _log.warning("not_swept", error=type(error).__name__)
                continue
            left = [each for each in waiting if _number(each) in last - self._mine]
            if left:
                _log.info("taking_over", messages=len(left))
            for inbound in left:
                self._put(inbound)
            last = {_number(each) for each in waiting}

    async def take(self, batch: Sequence[Mapping[str, Any]]) -> None:
        """Keep a batch of updates durably, then queue what is new in it.

        Raises:
            Exception: It could not be kept; nothing of it was queued.
        """
        await self._lanes.room()
        meanings = [meaning for raw in batch if (meaning := self._read(raw)) is not None]
        arrivals = [each for each in meanings if isinstance(each, Arrival)]
        fresh = await self._in_thread(
            self._handler.keep, tuple(arrival.inbound for arrival in arrivals)
        )
        # After keeping, and only where closing is the last word: someone who blocked the bot
        # and came back within one batch is here.
        for chat in _closed(meanings):
            await self._in_thread(self._handler.gone, chat)
        for arrival in arrivals:
            if arrival.press is not None:
                self._acknowledge(arrival.press)
        for inbound in fresh:
            self._put(inbound)

    async def close(self) -> None:
        """Finish what is under way; what waits stays kept for the next run."""
        self._closing.set()
        await self._lanes.close()
        if self._acknowledging:
            await asyncio.wait(self._acknowledging)

    def _read(self, raw: Mapping[str, Any]) -> Arrival | Membership | None:
        try:
            return read_update(raw, bot_id=account_id(self._bot), now=self._clock.now())
        except Exception as error:  # noqa: BLE001 one unreadable update must not stop the rest
            _log.error(
                "update_unreadable", update_id=raw.get("update_id"), error=type(error).__name__
            )
            return None

    def _put(self, inbound: Inbound) -> None:
        self._mine.add(_number(inbound))
        self._lanes.put(inbound)

    async def _handle(self, inbound: Inbound) -> None:
        """Have it answered; while the service cannot even mark it as failed, try again."""
        waited_s = 0.0
        for attempt in itertools.count():
            wait_s = backoff_s(attempt, seed=inbound.update_id)
            try:
                await self._in_thread(self._handler.handle, inbound)
                break
            except StoreAway:
                wait_s = min(wait_s, _STORE_BACK_S)
                _log.warning("message_waits", update_id=inbound.update_id, error="StoreAway")
            except Exception as error:  # noqa: BLE001 one failing message must not stop its chat
                _log.error(
                    "message_failed", update_id=inbound.update_id, error=type(error).__name__
                )
                if not await self._is_waiting(inbound):
                    await self._apologise(inbound.chat)
                    break
            # A trouble that is soon over is not worth a word: the answer comes all the same.
            if waited_s < _SORRY_AFTER_S <= waited_s + wait_s:
                await self._apologise(inbound.chat)
            waited_s += wait_s
            if await self._closes_within(wait_s):
                break
        self._mine.discard(_number(inbound))
        self._answered()

    async def _is_waiting(self, inbound: Inbound) -> bool:
        try:
            waiting = await self._in_thread(self._handler.waiting)
        except Exception:  # noqa: BLE001 a store that cannot say has not marked it either
            return True
        return _number(inbound) in {_number(each) for each in waiting}

    async def _closes_within(self, wait_s: float) -> bool:
        with contextlib.suppress(TimeoutError):
            await asyncio.wait_for(self._closing.wait(), wait_s)
        return self._closing.is_set()

    async def _apologise(self, chat: Chat) -> None:
        try:
            await self._bot.send_message(chat.chat_id, SORRY)
        except TelegramError as error:
            _log.warning("apology_failed", error=type(error).__name__)

    def _acknowledge(self, press: str) -> None:
        task = asyncio.create_task(self._answer_press(press))
        self._acknowledging.add(task)
        task.add_done_callback(self._acknowledging.discard)

    async def _answer_press(self, press: str) -> None:
        """Stop the waiting sign on a pressed button. A courtesy: nothing depends on it."""
        try:
            await self._bot.answer_callback_query(press)
        except TelegramError as error:
            _log.info("press_not_acknowledged", error=type(error).__name__)

    async def _in_thread(self, act: Callable[..., Any], *given: Any) -> Any:
        return await asyncio.get_running_loop().run_in_executor(self._threads, act, *given)


def _number(inbound: Inbound) -> Number:
    return inbound.source, inbound.update_id


def _closed(meanings: Sequence[Arrival | Membership]) -> tuple[Chat, ...]:
    """The chats whose last sign in the batch was that they closed."""
    last: dict[Chat, bool] = {}
    for each in meanings:
        chat, is_open = (
            (each.inbound.chat, True) if isinstance(each, Arrival) else (each.chat, each.open)
        )
        last[chat] = is_open
    return tuple(chat for chat, is_open in last.items() if not is_open)
