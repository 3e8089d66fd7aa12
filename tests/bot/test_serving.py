"""Serving whole, in this process: what it logs, and how it stops before it has begun."""

import asyncio
import json
import logging
from io import BytesIO
from pathlib import Path

import aiohttp
import pytest
from sqlalchemy import text

from bot.adapters.telegram.hook import SECRET_HEADER
from bot.errors import BadSettings
from bot.serving import Watched, serve_on
from bot.settings import Settings
from bot.wiring import open_house
from tests.bot.adapters.telegram.memory import free_port
from tests.double import faults
from tests.double.bot_api import BotApiDouble

PLANTED = ("planted words", "planted nonsense", "Planted Name", "Planted Surname")


def settings(double: BotApiDouble, **more: object) -> Settings:
    usual = {"token": double.token, "api_url": double.api_url, "tick_s": 0.1, "poll_s": 1}
    return Settings.model_validate(usual | {"chat_sends_per_s": 1000.0} | more)


@pytest.mark.parametrize("by_webhook", [False, True], ids=["polling", "webhook"])
async def test_logs_at_their_most_talkative_hold_no_token_text_or_name(
    tmp_path: Path,
    caplog: pytest.LogCaptureFixture,
    capsys: pytest.CaptureFixture[str],
    by_webhook: bool,
) -> None:
    caplog.set_level(logging.DEBUG)
    port = free_port()
    hook = {
        "webhook_url": "https://bot.example.org/in",
        "webhook_listen": f"127.0.0.1:{port}",
    }
    stop = asyncio.Event()
    with BotApiDouble() as double:
        double.meet(7, "Planted Name")
        double.fail("sendMessage", faults.garble(), faults.server_error(), chat_id=7)
        given = settings(double, **(hook if by_webhook else {}))
        serving = asyncio.create_task(serve_on(f"sqlite:///{tmp_path / 'a.db'}", given, stop=stop))
        if by_webhook:
            await double.until_async(lambda: bool(double.calls("setWebhook")), timeout=30)
            secret = double.calls("setWebhook")[-1][1]["secret_token"]
            await bring(port, secret, "crimp 4x22kg ok # planted words", "planted nonsense")
            await bring(port, "planted words", "a stranger", status=403)
        else:
            double.types(7, "crimp 4x22kg ok # planted words")
            double.types(7, "planted nonsense")
        await double.wait_for(7, "Not understood", timeout=60)
        stop.set()
        await serving
    captured = capsys.readouterr()
    logs = captured.out + captured.err + caplog.text
    assert "telegram_connected" in logs
    for planted in (double.token, double.token.partition(":")[2], *PLANTED):
        assert planted.lower() not in logs.lower()


async def bring(port: int, secret: str, *texts: str, status: int = 200) -> None:
    name = {"first_name": "Planted Name", "last_name": "Planted Surname"}
    chat = {"id": 7, "type": "private", **name}
    person = {"id": 7, "is_bot": False, **name}
    async with aiohttp.ClientSession() as session:
        for number, text in enumerate(texts, start=1):
            message = {"message_id": number, "date": 1, "chat": chat, "from": person, "text": text}
            body = json.dumps({"update_id": number, "message": message}).encode()
            url = f"http://127.0.0.1:{port}/in"
            headers = {SECRET_HEADER: secret}
            async with session.post(url, data=BytesIO(body), headers=headers) as answer:
                assert answer.status == status


async def test_stop_while_the_database_is_awaited_ends_at_once() -> None:
    stop = asyncio.Event()
    stopping: list[bool] = []
    with BotApiDouble() as double:
        serving = asyncio.create_task(
            serve_on(
                "postgresql:///none?host=/nowhere/at/all",
                settings(double),
                stop=stop,
                stopping=lambda: stopping.append(True),
            )
        )
        await asyncio.sleep(0.5)
        assert not serving.done()
        stop.set()
        async with asyncio.timeout(10):
            await serving
    assert stopping == [True]


async def test_database_that_refuses_us_for_good_is_not_waited_for(postgres_url: str) -> None:
    url = postgres_url.replace("/postgres?", "/never_made?")
    with BotApiDouble() as double, pytest.raises(BadSettings, match="never_made"):
        await asyncio.wait_for(serve_on(url, settings(double)), timeout=30)


@pytest.mark.parametrize(
    ("revision", "says"), [("0001", "the database lacks 0002"), ("9999", "at revision 9999")]
)
async def test_database_of_another_version_is_told_of(
    tmp_path: Path, revision: str, says: str
) -> None:
    with open_house(f"sqlite:///{tmp_path / 'a.db'}") as house:
        watched = Watched()
        watched.watch_house(house)
        watched.watch(lambda: None)
        assert await watched.health.troubles() == []
        watched.health.close()
        with house.engine.begin() as connection:
            connection.execute(text("UPDATE alembic_version SET version_num = :n"), {"n": revision})
        watched.watch_house(house)
        (trouble,) = await watched.health.troubles()
        watched.health.close()
    assert says in trouble
