"""What people say is found neither in the database nor in the logs.

Words are planted in everything a person can send, through the real adapter, and then looked for:
in the bytes of the SQLite file and what lies beside it, in every column of PostgreSQL, and in
all that is logged, the libraries' finest level included. A run without seals finds them all,
or the search would prove nothing.
"""

import asyncio
import logging
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import structlog
from sqlalchemy import Engine, make_url, text

import bot.service
from bot import wiring
from bot.clock import SystemClock
from bot.conversation.step import hear
from bot.seal import Unsealed
from bot.serving import serve_telegram
from bot.settings import Settings
from bot.storage import make_engine
from bot.wiring import open_house
from tests.double.bot_api import BotApiDouble
from tests.double.faults import refused

CHAT_ID = 5
NAME = "Perpetua Zanzibel"
KEPT = {
    "crimp 4x22.5kg ok; marzipan": "marzipan",
    "pain left ring finger 4": "ring finger",
    "felt a pop in my finger": "felt a pop",
    "bw 73.21": "73.21",
    "band heliotrope 12kg": "heliotrope",
    "florb gazonk 4x22": "gazonk",
    "kaboomerang": "kaboomerang",  # what the handler chokes on
    "away until 14 dec": "away until",
    "sick": "sick",
}
"""What is typed, and a word of it that is kept somewhere."""

NEVER_KEPT = (NAME, "Zanzibel", "quibblewort", "gnomonic")
"""What is not kept even where nothing is sealed: names, the service's quotes, edits."""


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """A database that is not there yet."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'planted.db'}"
        return
    server_url = request.getfixturevalue("postgres_url")
    server = make_engine(server_url).execution_options(isolation_level="AUTOCOMMIT")
    with server.connect() as connection:
        connection.execute(text("DROP DATABASE IF EXISTS planted"))
        connection.execute(text("CREATE DATABASE planted"))
    yield make_url(server_url).set(database="planted").render_as_string(hide_password=False)
    with server.connect() as connection:
        connection.execute(text("DROP DATABASE planted"))
    server.dispose()


@pytest.fixture
def logged() -> Iterator[list[str]]:
    """All that is logged, by us and at the finest level of every library."""
    lines: list[str] = []

    class Listening(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            lines.append(logging.Formatter("%(name)s %(message)s").format(record))

    def ours(_: Any, method: str, event: dict[str, Any]) -> dict[str, Any]:
        lines.append(f"ours {method} {event!r}")
        raise structlog.DropEvent

    root, listening = logging.getLogger(), Listening()
    level = root.level
    root.addHandler(listening)
    root.setLevel(logging.DEBUG)
    structlog.configure(processors=[ours])
    yield lines
    root.setLevel(level)
    root.removeHandler(listening)
    structlog.reset_defaults()


def choking(loaded: Any, said: str, **rest: Any) -> Any:
    """The conversation, which cannot bear one word and repeats it."""
    if said == "kaboomerang":
        raise ValueError(f"cannot bear {said}")
    return hear(loaded, said, **rest)


async def plant(url: str, token_seen: list[str]) -> bytes:
    """Send all of it through the real adapter; what the database holds before it is closed."""
    with BotApiDouble() as double, open_house(url, clock=SystemClock()) as house:
        token_seen.append(double.token)
        settings = Settings(
            token=double.token,
            api_url=double.api_url,
            tick_s=0.05,
            poll_s=2,
            sends_per_s=1000,
            chat_sends_per_s=1000,
        )
        stop = asyncio.Event()
        serving = asyncio.create_task(serve_telegram(house, settings, stop=stop))
        try:
            double.meet(CHAT_ID, NAME)
            double.types(CHAT_ID, "/start")
            await double.wait_for(CHAT_ID, "Kilograms", timeout=60)
            for typed in KEPT:
                seen = len(double.messages(CHAT_ID))
                double.types(CHAT_ID, typed)
                await double.until_async(
                    lambda seen=seen: len(double.messages(CHAT_ID)) > seen, timeout=60
                )
            double.edits(CHAT_ID, "gnomonic 4x22")
            fault = refused('can\'t parse entities: unexpected "quibblewort"')
            double.fail("sendMessage", fault, chat_id=CHAT_ID)
            double.types(CHAT_ID, "kit")
            await double.until_async(lambda: double.faults_left() == 0, timeout=60)
            seen = len(double.messages(CHAT_ID))
            double.types(CHAT_ID, "week")
            await double.until_async(lambda: len(double.messages(CHAT_ID)) > seen, timeout=60)
            return contents(house.engine)
        finally:
            stop.set()
            await serving


def contents(engine: Engine) -> bytes:
    """Everything the database holds: the files' bytes, or every column of every table."""
    if engine.dialect.name == "sqlite":
        file = Path(str(engine.url.database))
        files = {each.name: each.read_bytes() for each in file.parent.glob(f"{file.name}*")}
        assert f"{file.name}-wal" in files
        return b"\n".join(files.values())
    rows: list[str] = []
    with engine.begin() as connection:
        names = connection.execute(
            text("SELECT table_name FROM information_schema.tables WHERE table_schema = 'public'")
        )
        for name in names.scalars().all():
            rows += [repr(row) for row in connection.execute(text(f'SELECT * FROM "{name}"'))]
    return "\n".join(rows).encode()


async def test_planted_words_are_in_no_byte_of_the_database_and_no_line_of_the_logs(
    url: str, logged: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bot.service, "hear", choking)
    tokens: list[str] = []
    held = await plant(url, tokens)
    planted = [*KEPT.values(), *NEVER_KEPT]
    assert [word for word in planted if word.encode().lower() in held.lower()] == []
    log = "\n".join(logged)
    assert "reply_not_handled" in log, "the log was listened to"
    secret = tokens[0].partition(":")[2]
    assert len(secret) > 8
    assert [word for word in (*planted, tokens[0], secret) if word.lower() in log.lower()] == []


async def test_planted_words_are_all_found_where_nothing_is_sealed(
    url: str, logged: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bot.service, "hear", choking)
    monkeypatch.setattr(wiring, "_sealing", lambda *_, **__: Unsealed)
    held = (await plant(url, [])).lower()
    assert [word for word in KEPT.values() if word.encode().lower() not in held] == []
    assert [word for word in NEVER_KEPT if word.encode().lower() in held] == []
