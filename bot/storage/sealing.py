"""Which columns are sealed, and rewriting them: at first, with another key, or as they read."""

import sqlite3
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Literal, Protocol

from sqlalchemy import (
    Connection,
    Engine,
    Row,
    TableClause,
    bindparam,
    column,
    func,
    or_,
    select,
    table,
    update,
)
from sqlalchemy.exc import OperationalError

from bot.seal import FORM, Ring
from bot.storage.engine import reading
from bot.storage.rows import athlete_owner, chat_owner

BATCH = 500
_TRIES = 12
"""Each waits as long as SQLite is told to wait for its lock, 5 s."""
_MARK = len(FORM) + 8  # the form and the key's id


@dataclass(frozen=True, slots=True)
class Place:
    """Columns of a table that are sealed, and the one that says whose values they are."""

    table: str
    columns: tuple[str, ...]
    owned_by: Literal["id", "athlete_id", "chat_id"]


SEALED = (
    Place("athlete", ("talk",), owned_by="id"),
    Place("fact", ("body",), owned_by="athlete_id"),
    Place("inbox", ("text",), owned_by="chat_id"),
    Place("outbox", ("text", "buttons", "targets"), owned_by="athlete_id"),
)


class Change(Protocol):
    """What becomes of a value."""

    def __call__(self, value: str, /, *, owner: str, place: str) -> str: ...


def rewrite_all(connection: Connection, change: Change, places: Sequence[Place]) -> int:
    """Change every value, inside the transaction that is open; how many rows that were."""
    count = 0
    for place in places:
        rows = _batch(connection, place, change, after=0)
        while rows:
            count += len(rows)
            rows = _batch(connection, place, change, after=rows[-1].id)
    return count


def reseal(engine: Engine, ring: Ring) -> None:
    """Seal what another key has sealed with the newest, one transaction for each batch."""

    def change(value: str, *, owner: str, place: str) -> str:
        if value.startswith(f"{FORM}{ring.newest}."):
            return value
        return ring.seal(ring.open(value, owner=owner, place=place), owner=owner, place=place)

    for place in SEALED:
        after: int | None = 0
        while after is not None:
            with patiently(engine) as connection:
                _take_time(connection)
                rows = _batch(connection, place, change, after=after, fresh=ring.newest)
            after = rows[-1].id if rows else None


def seals_by_key(engine: Engine) -> Mapping[str, int]:
    """How many values each key has sealed; under "" those that are not sealed."""
    found: Counter[str] = Counter()
    with reading(engine).begin() as connection:
        _take_time(connection)
        for place in SEALED:
            rows = _rows_of(place)
            for name in place.columns:
                mark = func.substr(rows.c[name], 1, _MARK)
                query = select(mark, func.count()).group_by(mark)
                for start, count in connection.execute(query):
                    found[start[len(FORM) :] if start.startswith(FORM) else ""] += count
    return found


@contextmanager
def patiently(engine: Engine) -> Iterator[Connection]:
    """A transaction that waits longer for its turn than answering people would.

    SQLite lets writers try for its lock in no order: where others write all the time, one that
    comes now and then may find it taken for many seconds.
    """
    with engine.connect() as connection:
        for tries_left in reversed(range(_TRIES)):
            try:
                transaction = connection.begin()
            except OperationalError as error:
                code = getattr(error.orig, "sqlite_errorcode", None)
                if (code or 0) & 0xFF != sqlite3.SQLITE_BUSY or not tries_left:
                    raise
            else:
                break
        with transaction:
            yield connection


def _take_time(connection: Connection) -> None:
    """Lift PostgreSQL's limit of a statement, which is for answering people, until the end."""
    if connection.dialect.name == "postgresql":
        connection.exec_driver_sql("SET LOCAL statement_timeout = 0")


def sweep(engine: Engine) -> bool:
    """Clear free space of what lay there before it was sealed; False when others are at work.

    Overwritten rows leave their bytes behind in both databases until their files are rebuilt.
    """
    try:
        if engine.dialect.name == "sqlite":
            _sweep_sqlite(engine)
        else:
            _sweep_postgresql(engine)
    except OperationalError:
        return False
    return True


def _sweep_sqlite(engine: Engine) -> None:
    # Not inside a transaction, which is what a connection of the engine would begin.
    connection = engine.raw_connection()
    try:
        cursor = connection.cursor()
        cursor.execute("VACUUM")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        cursor.close()
    finally:
        connection.close()


def _sweep_postgresql(engine: Engine) -> None:
    names = ", ".join(place.table for place in SEALED)
    with engine.execution_options(isolation_level="AUTOCOMMIT").connect() as connection:
        # Its limits are for answering people, and end with this connection.
        connection.detach()
        connection.exec_driver_sql("SET statement_timeout = 0")
        connection.exec_driver_sql(f"VACUUM (FULL) {names}")


def _batch(
    connection: Connection, place: Place, change: Change, *, after: int, fresh: str | None = None
) -> Sequence[Row[Any]]:
    """Change the next rows behind that number, leaving alone those sealed with the fresh key."""
    rows = _rows_of(place)
    query = select(rows).where(rows.c.id > after).order_by(rows.c.id).limit(BATCH)
    if fresh is not None:
        mark = f"{FORM}{fresh}."
        query = query.where(or_(*(~rows.c[name].startswith(mark) for name in place.columns)))
    found = connection.execute(query.with_for_update()).all()
    if found:
        values: dict[str, Any] = {name: bindparam(f"new_{name}") for name in place.columns}
        change_row = update(rows).where(rows.c.id == bindparam("of_id")).values(values)
        connection.execute(change_row, [_changed(row, place, change) for row in found])
    return found


def _changed(row: Row[Any], place: Place, change: Change) -> dict[str, Any]:
    if place.owned_by == "chat_id":
        owner = chat_owner(row.adapter, row.chat_id)
    else:
        owner = athlete_owner(getattr(row, place.owned_by))
    changed = {
        f"new_{name}": change(getattr(row, name), owner=owner, place=f"{place.table}.{name}")
        for name in place.columns
    }
    return changed | {"of_id": row.id}


def _rows_of(place: Place) -> TableClause:
    owner = {"id": (), "athlete_id": ("athlete_id",), "chat_id": ("adapter", "chat_id")}
    names = ("id", *owner[place.owned_by], *place.columns)
    return table(place.table, *(column(name) for name in names))
