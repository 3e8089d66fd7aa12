"""How a database is opened: SQLite in a file or in memory, or PostgreSQL.

SQLite's driver would otherwise begin transactions by its own rules, under which
two threads that read, change and write lose updates without an error. Here every
writing transaction takes the write lock first (BEGIN IMMEDIATE).
"""

from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.pool import ConnectionPoolEntry, QueuePool

READ_ONLY = "read_only"
"""Execution option of connections that only read."""

_PRAGMAS = (
    "journal_mode=wal",
    "synchronous=full",  # what was answered survives a power cut
    "busy_timeout=5000",  # [ms]
    "foreign_keys=on",
)


def make_engine(url: str) -> Engine:
    """An engine for that database.

    Args:
        url: ``sqlite:///path``, ``sqlite://`` (in memory), ``postgresql://…`` or
            ``postgresql+psycopg://…``.

    Raises:
        sqlalchemy.exc.ArgumentError: The URL cannot be read.
    """
    parsed = make_url(url)
    if parsed.get_backend_name() == "postgresql":
        parsed = parsed.set(drivername="postgresql+psycopg")
        return create_engine(parsed, pool_pre_ping=True)
    if _is_in_memory(parsed):
        # One connection is the database: threads take turns on it.
        engine = create_engine(
            parsed,
            poolclass=QueuePool,
            pool_size=1,
            max_overflow=0,
            connect_args={"check_same_thread": False},
        )
    else:
        engine = create_engine(parsed)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def is_in_memory(engine: Engine) -> bool:
    """True for a database that ends with its process."""
    return engine.dialect.name == "sqlite" and _is_in_memory(engine.url)


def reading(engine: Engine) -> Engine:
    """The same database for transactions that only read: one snapshot, no write lock."""
    if engine.dialect.name == "postgresql":
        return engine.execution_options(
            isolation_level="REPEATABLE READ", postgresql_readonly=True, **{READ_ONLY: True}
        )
    return engine.execution_options(**{READ_ONLY: True})


def _is_in_memory(url: URL) -> bool:
    return url.database in (None, "", ":memory:")


def _prepare(connection: Any, _entry: ConnectionPoolEntry) -> None:
    connection.isolation_level = None  # the driver begins nothing of its own
    cursor = connection.cursor()
    for pragma in _PRAGMAS:
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _begin(connection: Connection) -> None:
    read_only = connection.get_execution_options().get(READ_ONLY, False)
    connection.exec_driver_sql("BEGIN" if read_only else "BEGIN IMMEDIATE")
