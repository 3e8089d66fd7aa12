"""Bringing a database up to date. Alembic is loaded only when there is something to do.

A database in memory was never at an older revision and is never kept: its tables are made
straight from their definitions, which tests prove to be what the migrations make.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, text

from bot.errors import BadSettings
from bot.storage.engine import is_in_memory, make_engine, reading

_PACKAGE = Path(__file__).parents[1]
_PLACES = (_PACKAGE / "_migrations", _PACKAGE.parent / "migrations")
_REVISION_FILE = re.compile(r"(\d{4})_\w+\.py")
_LOCK = 7_319_204
"""Any fixed number: those who migrate one PostgreSQL database take turns on it."""


def migrations_folder() -> Path:
    """Inside the package when installed, beside the packages in a working tree.

    Raises:
        BadSettings: Neither is there.
    """
    for place in _PLACES:
        if (place / "env.py").is_file():
            return place
    raise BadSettings("the folder of migrations is missing; install weeknight again")


def pending(engine: Engine) -> tuple[str, ...]:
    """Revisions that the database lacks, oldest first; empty when it is up to date.

    Raises:
        BadSettings: The database was made by a newer version of this program.
    """
    with reading(engine).begin() as connection:
        return _lacking(connection)


def migrate(database: Engine | str) -> tuple[str, ...]:
    """Bring the database up to date, in one transaction.

    Args:
        database: An engine, or the URL of one as ``make_engine`` takes it.

    Returns:
        The revisions that were applied, oldest first; empty when there was nothing to do.

    Raises:
        BadSettings: The database was made by a newer version of this program.
    """
    if isinstance(database, str):
        engine = make_engine(database)
        try:
            return migrate(engine)
        finally:
            engine.dispose()
    lacking = pending(database)
    if not lacking:
        return ()
    if is_in_memory(database):
        _make_at_once(database, lacking[-1])
        return lacking
    with schema_change(database) as connection:
        lacking = _lacking(connection)  # another process may have been quicker
        if lacking:
            _upgrade(connection)
    return lacking


@contextmanager
def schema_change(engine: Engine) -> Iterator[Connection]:
    """A transaction in which tables may be rebuilt; nobody else migrates meanwhile."""
    with engine.connect() as connection:
        is_sqlite = engine.dialect.name == "sqlite"
        if is_sqlite:
            # SQLite rebuilds a table by copying it, and ignores this switch inside a transaction.
            _switch_foreign_keys(connection, "off")
        try:
            with connection.begin():
                if not is_sqlite:
                    # Limits are for answering people; a change of tables may take its time.
                    connection.execute(text("SET LOCAL statement_timeout = 0"))
                    connection.execute(text("SET LOCAL lock_timeout = 0"))
                    connection.execute(text("SELECT pg_advisory_xact_lock(:n)"), {"n": _LOCK})
                yield connection
        finally:
            if is_sqlite:
                _switch_foreign_keys(connection, "on")


def _switch_foreign_keys(connection: Connection, to: str) -> None:
    driver = connection.connection.driver_connection
    if driver is not None:
        driver.execute(f"PRAGMA foreign_keys={to}")


def _lacking(connection: Connection) -> tuple[str, ...]:
    known = sorted(
        match[1]
        for file in (migrations_folder() / "versions").iterdir()
        if (match := _REVISION_FILE.fullmatch(file.name))
    )
    current = ""
    if inspect(connection).has_table("alembic_version"):
        current = connection.execute(text("SELECT version_num FROM alembic_version")).scalar() or ""
    if current and current not in known:
        raise BadSettings(
            f"the database is at revision {current}, this program knows {known[-1]}; "
            "install the newer weeknight that was used before"
        )
    return tuple(revision for revision in known if revision > current)


def _make_at_once(engine: Engine, revision: str) -> None:
    from sqlmodel import SQLModel

    import bot.storage.tables  # noqa: F401  (fills the metadata)

    with engine.begin() as connection:
        SQLModel.metadata.create_all(connection)
        connection.exec_driver_sql(
            "CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL)"
        )
        connection.execute(text("INSERT INTO alembic_version VALUES (:n)"), {"n": revision})


def _upgrade(connection: Connection) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(migrations_folder()).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")
