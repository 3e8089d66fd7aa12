"""Being called: the service brings each update, and is told 200 only once it is kept.

It brings a chat's next update only after the last one got its 200, and brings one again that
got none. So any process behind the address may take any update.
"""

import asyncio
import hashlib
import hmac
import json
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlsplit

import structlog
from aiohttp import web
from telegram import Bot
from telegram.error import EndPointNotFound, InvalidToken, RetryAfter

from bot.adapters.telegram.account import account_id
from bot.adapters.telegram.backoff import backoff_s
from bot.adapters.telegram.gather import Gatherer
from bot.adapters.telegram.inbound import WANTED
from bot.adapters.telegram.menu import MENU
from bot.adapters.telegram.trouble import refused_token, retry_after_s
from bot.listening import listening

SECRET_HEADER = "X-Telegram-Bot-Api-Secret-Token"
LONGEST_BODY = 2**20
"""An update holds at most a few messages of 4096 characters each. [byte]"""

_BODY_S = 10.0
_LOOK_EVERY_S = 60.0
_CALLS_AT_ONCE = 40
_log = structlog.get_logger(__name__)


@dataclass(frozen=True, slots=True)
class HookPlace:
    """Where the service calls, and where we listen for it: a proxy in between ends TLS.

    Attributes:
        url: What the service is told, https.
        address: Host and port to listen on, without TLS.
    """

    url: str
    address: tuple[str, int]

    @property
    def path(self) -> str:
        """The one path that is ours."""
        return urlsplit(self.url).path or "/"


def secret_of(token: str) -> str:
    """What the service must show us: made of the token, so that all processes agree on it."""
    return hmac.new(token.encode(), b"weeknight webhook", hashlib.sha256).hexdigest()


class Hook:
    """Listens, and sees to it that the service calls here."""

    def __init__(
        self,
        bot: Bot,
        *,
        take: Callable[[Sequence[dict[str, Any]]], Awaitable[None]],
        place: HookPlace,
        look_every_s: float = _LOOK_EVERY_S,
    ) -> None:
        """Make one; nothing listens before ``run``.

        Args:
            bot: The account.
            take: Keeps updates durably; raises if it could not.
            place: Where.
            look_every_s: How often to see whether the service still calls here. [s], > 0
        """
        self._bot = bot
        self._place = place
        self._gatherer = Gatherer(take)
        self._secret = secret_of(bot.token)
        self._look_every_s = look_every_s
        self._is_set = False

    def trouble(self) -> str | None:
        """What keeps updates from coming here; None when nothing does."""
        return None if self._is_set else "the chat service is not set to call here yet"

    async def run(self) -> None:
        """Listen until cancelled.

        Raises:
            BadSettings: The token is refused, or the address cannot be listened on.
        """
        app = web.Application(client_max_size=LONGEST_BODY)
        app.router.add_post(self._place.path, self._receive)
        async with listening(app, self._place.address, setting="WEEKNIGHT_WEBHOOK_LISTEN"):
            await self._stay_set()

    async def _receive(self, request: web.Request) -> web.Response:
        shown = request.headers.get(SECRET_HEADER, "")
        if not hmac.compare_digest(shown.encode(errors="replace"), self._secret.encode()):
            return web.Response(status=403)
        try:
            async with asyncio.timeout(_BODY_S):
                update = json.loads(await request.read())
        except TimeoutError:
            return web.Response(status=408)
        except (ValueError, RecursionError):
            return web.Response(status=400)
        if not isinstance(update, dict) or type(update.get("update_id")) is not int:
            return web.Response(status=400)
        try:
            await self._gatherer.take(update)
        except Exception as error:  # noqa: BLE001 whatever it is, the service brings it again
            _log.warning("update_not_kept", error=type(error).__name__)
            return web.Response(status=503)
        return web.Response()

    async def _stay_set(self) -> None:
        failures = 0
        while True:
            try:
                await self._see_to_it()
            except (InvalidToken, EndPointNotFound):
                # Not "from": the library's error may hold the token.
                raise refused_token() from None
            except Exception as error:  # noqa: BLE001 passing troubles are waited out
                wait_s = backoff_s(failures, seed=account_id(self._bot))
                if isinstance(error, RetryAfter):
                    wait_s = max(wait_s, retry_after_s(error))
                failures += 1
                _log.warning("webhook_not_set", error=type(error).__name__, wait_s=round(wait_s, 1))
                await asyncio.sleep(wait_s)
            else:
                failures = 0
                await asyncio.sleep(self._look_every_s)

    async def _see_to_it(self) -> None:
        """Tell the service to call here, unless it does so since we told it."""
        await self._bot.initialize()
        if self._is_set:
            told = await self._bot.get_webhook_info()
            if told.url == self._place.url:
                return
            self._is_set = False
            _log.warning("webhook_was_changed", hint="another program uses this bot token; stop it")
        await self._bot.set_webhook(
            self._place.url,
            secret_token=self._secret,
            allowed_updates=WANTED,
            max_connections=_CALLS_AT_ONCE,
            drop_pending_updates=False,
        )
        await self._bot.set_my_commands(MENU)
        self._is_set = True
        _log.info("telegram_connected", bot_id=account_id(self._bot), by="webhook")
