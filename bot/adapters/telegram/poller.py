"""Fetching: an update is confirmed to the service only after it was taken.

The library's own fetching confirms what it has merely put into memory; a crash then loses
it. Here the next call, whose offset confirms, is made only when ``take`` has returned.
"""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from typing import Any

import structlog
from telegram import Bot
from telegram.error import Conflict, EndPointNotFound, InvalidToken, RetryAfter

from bot.adapters.telegram.account import account_id
from bot.adapters.telegram.backoff import backoff_s
from bot.adapters.telegram.inbound import WANTED
from bot.adapters.telegram.menu import MENU
from bot.adapters.telegram.trouble import refused_token, retry_after_s
from bot.errors import StoreAway

_BATCH = 100
_GRACE_S = 10.0
_HANGS_S = 30.0
_STALL_S = 60.0
_STORE_BACK_S = 5.0

Update = dict[str, Any]
_log = structlog.get_logger(__name__)


class Poller:
    """Polls one account and hands each batch on."""

    def __init__(
        self,
        bot: Bot,
        *,
        take: Callable[[Sequence[Update]], Awaitable[None]],
        poll_s: int,
        stall_s: float = _STALL_S,
    ) -> None:
        """Make a poller.

        Args:
            bot: The account.
            take: Keeps a batch, oldest first, durably; raises if it could not.
            poll_s: How long the service holds a poll with nothing to say. [s], > 0
            stall_s: Time beyond ``poll_s`` without a poll that was answered and taken, that is
                worth a warning. [s], > 0
        """
        self._bot = bot
        self._take = take
        self._poll_s = max(1, poll_s)
        self._stall_s = stall_s
        self._offset = 0
        self._introduced = False
        self._done_at: float | None = None
        self._begun_at = asyncio.get_running_loop().time()

    def idle_for_s(self) -> float:
        """Time since a poll was last answered and what it brought taken, or since the start. [s]"""
        since = self._begun_at if self._done_at is None else self._done_at
        return asyncio.get_running_loop().time() - since

    def trouble(self) -> str | None:
        """What is wrong with polling; None when the last poll that went well is recent."""
        if self.idle_for_s() > self._poll_s + self._stall_s:
            return f"no poll went well for {self.idle_for_s():.0f} s"
        return "no poll was answered yet" if self._done_at is None else None

    async def introduce(self) -> None:
        """Check the token, leave webhook mode without losing what waits, set the menu."""
        await self._bot.initialize()
        await self._bot.delete_webhook(drop_pending_updates=False)
        await self._bot.set_my_commands(MENU)
        self._introduced = True
        _log.info("telegram_connected", bot_id=account_id(self._bot))

    async def run(self) -> None:
        """Poll until cancelled.

        Raises:
            BadSettings: The token is refused.
        """
        failures = 0
        self._begun_at, self._done_at = asyncio.get_running_loop().time(), None
        while True:
            try:
                await self.once()
            except (InvalidToken, EndPointNotFound):
                # Not "from": the library's error may hold the token.
                raise refused_token() from None
            except Exception as error:  # noqa: BLE001 polling outlives every passing trouble
                wait_s = self._trouble(error, failures)
                failures += 1
                await asyncio.sleep(wait_s)
            else:
                failures = 0

    async def once(self) -> None:
        """One poll: fetch, let it be taken, and only then move the offset on."""
        if not self._introduced:
            await self.introduce()
        # A call that neither ends nor fails, whatever the reason, must not end polling for good.
        async with asyncio.timeout(self._poll_s + _GRACE_S + _HANGS_S):
            fetched = await self._fetch()
        batch = sorted(fetched, key=lambda update: int(update["update_id"]))
        if batch:
            await self._take(batch)
        # A poll with nothing left has confirmed all; numbers may begin anywhere after it.
        self._offset = int(batch[-1]["update_id"]) + 1 if batch else 0
        self._done_at = asyncio.get_running_loop().time()

    async def _fetch(self) -> list[Update]:
        # Raw updates, one unreadable among them must not cost the others. The lower-case name
        # (the Bot API ignores case) is not one of the library's methods, which parse them all.
        fetched: list[Update] = await self._bot.do_api_request(
            "getupdates",
            {
                "offset": self._offset,
                "limit": _BATCH,
                # The first one only looks, so that it is known at once whether polling works.
                "timeout": 0 if self._done_at is None else self._poll_s,
                "allowed_updates": list(WANTED),
            },
            read_timeout=self._poll_s + _GRACE_S,
        )
        return fetched

    def _trouble(self, error: Exception, failures: int) -> float:
        """Say what went wrong, without its text; how long to wait. [s]"""
        wait_s = backoff_s(failures, seed=account_id(self._bot))
        if isinstance(error, RetryAfter):
            wait_s = max(wait_s, retry_after_s(error))
        elif isinstance(error, StoreAway):
            wait_s = min(wait_s, _STORE_BACK_S)
        why = type(error).__name__
        if isinstance(error, Conflict):
            self._introduced = False  # somebody may have set a webhook: leave that mode again
            _log.error(
                "another_poller",
                error=why,
                wait_s=round(wait_s, 1),
                hint="another program uses this bot token; stop it, only one may poll",
            )
        else:
            _log.warning("poll_failed", error=why, wait_s=round(wait_s, 1))
        return wait_s
