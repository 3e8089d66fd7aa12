"""How databases are opened."""

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import text

from bot.ports import Chat
from bot.storage import SqlStore, make_engine, migrate

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
