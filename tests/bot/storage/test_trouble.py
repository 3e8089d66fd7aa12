"""Which troubles of a database may be over a moment later."""

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DBAPIError

from bot.errors import StoreAway
from bot.storage import SqlStore, make_engine, migrate


def test_locked_file_is_away(tmp_path: Path) -> None:
    file = tmp_path / "a.db"
    engine = make_engine(f"sqlite:///{file}")
    migrate(engine)
    store = SqlStore(engine)
    with store.work():
        pass
    with engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA busy_timeout=1")
    other = sqlite3.connect(file, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreAway, match="locked"), store.work():
        pass
    other.close()
    with store.work():
        pass
    engine.dispose()


def test_connection_ended_by_the_server_is_away_and_the_next_one_works(
    _migrated_postgres: Engine,  # noqa: PT019 its value is used
) -> None:
    store = SqlStore(_migrated_postgres)
    with pytest.raises(StoreAway), store.work() as work:  # noqa: PT012 the block is what fails
        number = work._connection.execute(text("SELECT pg_backend_pid()")).scalar()
        with _migrated_postgres.connect() as other:
            other.execute(text("SELECT pg_terminate_backend(:n)"), {"n": number})
        work.waiting(1)
    with store.work() as work:
        assert work.waiting(1) == ()


def test_wrong_statement_is_not_away(engine: Engine) -> None:
    store = SqlStore(engine)
    with pytest.raises(DBAPIError), store.work() as work:
        work._connection.execute(text("SELECT * FROM nowhere"))
