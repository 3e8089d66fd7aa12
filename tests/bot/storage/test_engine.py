"""How databases are opened."""

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DBAPIError

from bot.errors import StoreAway
from bot.ports import Chat
from bot.storage import SqlStore, make_engine, migrate
from bot.storage.engine import Bounds

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)


def test_make_engine_postgresql_url_uses_the_installed_driver() -> None:
    for url in (
        "postgresql://me:secret@db/weeknight",
        "postgresql+psycopg://me:secret@db/weeknight",
    ):
        engine = make_engine(url)
        assert engine.url.drivername == "postgresql+psycopg"
        assert engine.url.password == "secret"


def test_make_engine_sqlite_file_is_durable_and_checks_references(tmp_path: Path) -> None:
    engine = make_engine(f"sqlite:///{tmp_path / 'a.db'}")
    with engine.connect() as connection:
        values = {
            name: connection.execute(text(f"PRAGMA {name}")).scalar()
            for name in ("journal_mode", "synchronous", "busy_timeout", "foreign_keys")
        }
    engine.dispose()
    # synchronous: 2 is FULL (sqlite.org, PRAGMA synchronous)
    assert values == {
        "journal_mode": "wal",
        "synchronous": 2,
        "busy_timeout": 5000,
        "foreign_keys": 1,
    }


def test_make_engine_in_memory_is_one_database_for_all_threads() -> None:
    engine = make_engine("sqlite://")
    migrate(engine)
    store = SqlStore(engine)

    def open_one(number: int) -> None:
        with store.work() as work:
            work.open(Chat("replay", number), at=NOW)

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(open_one, range(20)))
    with store.read() as work:
        assert len(work.athletes()) == 20
    engine.dispose()


def shown(engine: Engine, name: str) -> str:
    with engine.connect() as connection:
        return str(connection.execute(text(f"SHOW {name}")).scalar())


def test_make_engine_postgresql_bounds_statements_locks_and_connections(postgres_url: str) -> None:
    engine = make_engine(postgres_url, Bounds(connections=1, statement_s=0.05, free_s=0.05))
    assert shown(engine, "statement_timeout") == "50ms"
    assert shown(engine, "lock_timeout") == "10s"
    store = SqlStore(engine)
    with pytest.raises(StoreAway, match="statement timeout"), store.work() as work:
        work._connection.execute(text("SELECT pg_sleep(5)"))
    with engine.connect(), pytest.raises(StoreAway, match="free"), store.work():
        pass
    engine.dispose()


def test_make_engine_postgresql_leaves_limits_that_the_address_names(postgres_url: str) -> None:
    engine = make_engine(f"{postgres_url}&options=-c%20statement_timeout%3D7000")
    assert shown(engine, "statement_timeout") == "7s"
    assert shown(engine, "lock_timeout") == "0"
    engine.dispose()


def test_errors_do_not_hold_what_was_written(engine: Engine) -> None:
    with pytest.raises(DBAPIError) as caught, engine.begin() as connection:
        connection.execute(text("SELECT :word, * FROM nowhere"), {"word": "planted text"})
    assert "planted text" not in str(caught.value)
