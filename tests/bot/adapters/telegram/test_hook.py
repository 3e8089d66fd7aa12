"""Being called by the service, over HTTP as a stranger or the service would."""

import asyncio
import json
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import aiohttp
import pytest

from bot.adapters.telegram import open_account
from bot.adapters.telegram.hook import LONGEST_BODY, SECRET_HEADER, Hook, HookPlace
from bot.errors import BadSettings, StoreAway
from tests.bot.adapters.telegram.memory import MemoryService, free_port, serving
from tests.double import faults
from tests.double.bot_api import BotApiDouble

URL = "https://bot.example.org/weeknight/in"


@dataclass
class Caller:
    """The service's side: it knows what ``setWebhook`` told it."""

    session: aiohttp.ClientSession
    base: str
    secret: str

    async def brings(self, update: Any, *, path: str = "/weeknight/in", **headers: str) -> int:
        body = update if isinstance(update, bytes) else json.dumps(update).encode()
        sent = {SECRET_HEADER: self.secret, "Content-Type": "application/json", **headers}
        url = self.base + path
        async with self.session.post(url, data=BytesIO(body), headers=sent) as answer:
            assert answer.status != 200 or await answer.read() == b""
            return answer.status


@asynccontextmanager
async def called(double: BotApiDouble, service: MemoryService) -> AsyncIterator[Caller]:
    place = HookPlace(URL, ("127.0.0.1", free_port()))
    async with serving(double, service, hook=place), aiohttp.ClientSession() as session:
        await double.until_async(lambda: bool(double.calls("setWebhook")))
        told = double.calls("setWebhook")[-1][1]
        yield Caller(session, f"http://127.0.0.1:{place.address[1]}", told["secret_token"])


def typed(number: int, text: str, chat_id: int = 7) -> dict[str, Any]:
    person = {"id": chat_id, "is_bot": False, "first_name": "Rosalind"}
    chat = {"id": chat_id, "type": "private", "first_name": "Rosalind"}
    message = {"message_id": number, "date": 1, "chat": chat, "from": person, "text": text}
    return {"update_id": number, "message": message}


async def test_start_tells_the_service_where_to_call_and_drops_nothing(
    double: BotApiDouble, service: MemoryService
) -> None:
    async with called(double, service):
        told = double.calls("setWebhook")[-1][1]
    assert told["url"] == URL
    assert 1 <= len(told["secret_token"]) <= 256  # the Bot API's bounds
    assert double.token.partition(":")[2] not in told["secret_token"]
    assert json.loads(told["allowed_updates"]) == ["message", "callback_query", "my_chat_member"]
    assert str(told.get("drop_pending_updates", "false")).lower() == "false"
    assert not double.calls("getUpdates")


async def test_update_is_kept_before_its_200_and_answered(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.meet(7)
    async with called(double, service) as caller:
        assert await caller.brings(typed(1, "crimp 4x22kg ok")) == 200
        assert ("telegram:4242", 1) in service.kept
        await double.wait_for(7, "got crimp 4x22kg ok")
        assert await caller.brings(typed(1, "crimp 4x22kg ok")) == 200
        assert await caller.brings(typed(2, "next")) == 200
        await double.wait_for(7, "got next")
    assert service.texts(7) == ["crimp 4x22kg ok", "next"]


async def test_no_200_while_the_update_is_not_committed(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.meet(7)
    reached, go_on = threading.Event(), threading.Event()

    def slow(_: object) -> None:
        reached.set()
        go_on.wait(10)

    service.before_keep = slow
    async with called(double, service) as caller:
        call = asyncio.create_task(caller.brings(typed(1, "crimp 4x22kg ok")))
        await asyncio.to_thread(reached.wait, 10)
        assert not call.done()
        go_on.set()
        assert await call == 200


async def test_update_that_could_not_be_kept_gets_no_200_and_may_come_again(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.meet(7)
    troubles = iter((StoreAway("made to fail"),))

    def fail_once(_: object) -> None:
        for trouble in troubles:
            raise trouble

    service.before_keep = fail_once
    async with called(double, service) as caller:
        assert await caller.brings(typed(1, "crimp 4x22kg ok")) == 503
        assert not service.kept
        assert await caller.brings(typed(1, "crimp 4x22kg ok")) == 200
        await double.wait_for(7, "got crimp")


@pytest.mark.parametrize("shown", ["", "wrong", "ü"])
async def test_stranger_without_the_secret_is_refused(
    double: BotApiDouble, service: MemoryService, shown: str
) -> None:
    async with called(double, service) as caller:
        assert await caller.brings(typed(1, "hello"), **{SECRET_HEADER: shown}) == 403
        assert await caller.brings(b"not even JSON", **{SECRET_HEADER: shown}) == 403
    assert not service.kept


async def test_only_our_path_and_method_are_answered(
    double: BotApiDouble, service: MemoryService
) -> None:
    async with called(double, service) as caller:
        for path in ("/", "/weeknight", "/weeknight/in/", "/weeknight/in/more", "/healthz"):
            assert await caller.brings(typed(1, "hello"), path=path) == 404
        for method in ("GET", "PUT", "DELETE", "HEAD"):
            url = f"{caller.base}/weeknight/in"
            headers = {SECRET_HEADER: caller.secret}
            async with caller.session.request(method, url, headers=headers) as answer:
                assert answer.status == 405
    assert not service.kept


@pytest.mark.parametrize(
    ("body", "status"),
    [
        (b"", 400),
        (b"{", 400),
        (b"\xff\xfe", 400),
        (b"[]", 400),
        (b'{"message": {}}', 400),
        (b'{"update_id": "1"}', 400),
        (b'{"update_id": true}', 400),
        (b"[" * 100_000, 400),
        (b" " * (LONGEST_BODY + 1), 413),
    ],
)
async def test_body_that_is_no_update_is_refused(
    double: BotApiDouble, service: MemoryService, body: bytes, status: int
) -> None:
    async with called(double, service) as caller:
        assert await caller.brings(body) == status
    assert not service.kept


async def test_unreadable_update_gets_its_200_so_that_the_chat_goes_on(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.meet(7)
    async with called(double, service) as caller:
        assert await caller.brings({"update_id": 1, "message": {"date": "never"}}) == 200
        assert await caller.brings(typed(2, "after")) == 200
        await double.wait_for(7, "got after")


async def test_webhook_is_set_in_the_end_after_troubles(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.fail("setWebhook", faults.server_error(502), faults.too_many(1))
    async with called(double, service):
        await double.until_async(lambda: len(double.calls("setWebhook")) >= 1, timeout=20)
    assert double.faults_left() == 0


async def test_webhook_that_somebody_changed_is_set_again(double: BotApiDouble) -> None:
    async def take(_: object) -> None: ...

    bot = open_account(double.token, api_url=double.api_url)
    hook = Hook(bot, take=take, place=HookPlace(URL, ("127.0.0.1", 0)), look_every_s=0.05)
    assert hook.trouble() is not None
    running = asyncio.create_task(hook.run())
    await double.until_async(lambda: len(double.calls("getWebhookInfo")) >= 2)
    assert hook.trouble() is None
    assert len(double.calls("setWebhook")) == 1  # told once, then only looked at
    double.hook("https://elsewhere.invalid/hook")
    await double.until_async(lambda: len(double.calls("setWebhook")) == 2)
    running.cancel()
    await asyncio.wait((running,))
    await bot.shutdown()


async def test_address_in_use_is_a_wrong_setting(
    double: BotApiDouble, service: MemoryService
) -> None:
    server = await asyncio.start_server(lambda *_: None, "127.0.0.1", 0)
    port = server.sockets[0].getsockname()[1]
    with pytest.raises(BadSettings, match=f"WEEKNIGHT_WEBHOOK_LISTEN.*{port}"):
        async with serving(double, service, hook=HookPlace(URL, ("127.0.0.1", port))) as task:
            await asyncio.wait((task,), timeout=10)
    server.close()


async def test_token_refused_is_a_wrong_setting(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.fail("getMe", faults.token_refused())
    place = HookPlace(URL, ("127.0.0.1", free_port()))
    with pytest.raises(BadSettings, match="WEEKNIGHT_TOKEN"):
        async with serving(double, service, hook=place) as task:
            await asyncio.wait((task,), timeout=10)
