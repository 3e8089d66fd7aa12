"""How a database is opened: SQLite in a file or in memory, or PostgreSQL.

SQLite's driver would otherwise begin transactions by its own rules, under which
two threads that read, change and write lose updates without an error. Here every
writing transaction takes the write lock first (BEGIN IMMEDIATE).
"""

from dataclasses import dataclass
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


_NETWORK = {
    "connect_timeout": "5",  # [s]
    "keepalives_idle": "10",  # [s]
    "keepalives_interval": "5",  # [s]
    "keepalives_count": "2",
    "tcp_user_timeout": "20000",  # [ms]
}
"""So that a PostgreSQL machine that went dark is noticed; the address may say otherwise."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """How much of a PostgreSQL server one process takes, and for how long.

    Attributes:
        connections: The most at a time, >= 1.
        statement_s: A statement that takes longer is ended. [s], > 0
        lock_s: Waiting longer for somebody else's row is given up. [s], > 0
        free_s: Waiting longer for a connection of our own is given up. [s], > 0
    """

    connections: int = 20
    statement_s: float = 15.0
    lock_s: float = 10.0
    free_s: float = 20.0


def make_engine(url: str, bounds: Bounds | None = None) -> Engine:
    """An engine for that database. What was written or read never shows in its errors or logs.

    Args:
        url: ``sqlite:///path``, ``sqlite://`` (in memory), ``postgresql://…`` or
            ``postgresql+psycopg://…``.
        bounds: For PostgreSQL; the usual ones unless given. What the address itself says of
            the server's limits (its ``options``) is left as it is.

    Raises:
        sqlalchemy.exc.ArgumentError: The URL cannot be read.
    """
    parsed = make_url(url)
    if parsed.get_backend_name() == "postgresql":
        return _make_postgresql(parsed, bounds or Bounds())
    if _is_in_memory(parsed):
        # One connection is the database: threads take turns on it.
        engine = create_engine(
            parsed,
            poolclass=QueuePool,
            pool_size=1,
            max_overflow=0,
            connect_args={"check_same_thread": False},
            hide_parameters=True,
        )
    else:
        engine = create_engine(parsed, hide_parameters=True)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _make_postgresql(url: URL, bounds: Bounds) -> Engine:
    limits = (
        f"-c statement_timeout={round(bounds.statement_s * 1000)} "
        f"-c lock_timeout={round(bounds.lock_s * 1000)} "
        f"-c idle_in_transaction_session_timeout={round(bounds.statement_s * 2000)}"
    )
    wanted = {"options": limits, **_NETWORK}
    return create_engine(
        url.set(drivername="postgresql+psycopg"),
        connect_args={name: value for name, value in wanted.items() if name not in url.query},
        pool_pre_ping=True,
        pool_size=bounds.connections,
        max_overflow=0,
        pool_timeout=bounds.free_s,
        pool_use_lifo=True,
        hide_parameters=True,
    )


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
