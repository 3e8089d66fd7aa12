"""One open transaction: what the parts of the store's work share.

Statements that every message needs are made once, with named places for what changes,
so that neither their making nor their translation into SQL is repeated.
"""

from datetime import datetime
from functools import cache
from typing import Any

from sqlalchemy import Connection, Executable, Select, Table
from sqlalchemy.dialects import postgresql, sqlite

from bot.kept import Kept
from bot.seal import Seal
from core.facts import Entry

Insert = sqlite.Insert | postgresql.Insert


class Holding:
    """A query that holds its rows until the end of the transaction, unless that only reads.

    SQLite holds the whole database instead.
    """

    def __init__(self, query: Select[Any]) -> None:
        self._reading = query
        self._writing = query.with_for_update()

    def statement(self, *, locks: bool) -> Select[Any]:
        """As it is to be asked inside a transaction of that kind."""
        return self._writing if locks else self._reading


KEPT_FACTS = 32_768
"""Facts kept in memory, 1 to 3 kB each: every message needs the whole record of its athlete."""

Records = Kept[tuple[int, datetime], tuple[Entry, ...]]
"""Whole records by the athlete's number and the moment at which it was opened."""


class Transaction:
    """A connection inside a transaction.

    Args:
        connection: Begun already.
        records: What was read before, by any transaction.
        locks: False where it only reads.
        seal: How text is kept.
    """

    def __init__(
        self, connection: Connection, *, records: Records, locks: bool, seal: Seal
    ) -> None:
        self._connection = connection
        self._records = records
        self._read: dict[tuple[int, datetime], tuple[Entry, ...]] = {}
        self._locks = locks
        self._seal = seal

    def over(self) -> None:
        """It is committed: what was read in it stays true for others."""
        for key, entries in self._read.items():
            self._records.put(key, entries)

    def _insert(self, table: Table) -> Insert:
        """An insert that can say what to do on conflict; both databases spell it alike."""
        return _insert_into(table, self._connection.dialect.name)

    def _insert_new(self, table: Table) -> Executable:
        """An insert that leaves alone what is there already; it returns the new row's key."""
        return _insert_new_into(table, self._connection.dialect.name)


@cache
def _insert_into(table: Table, dialect: str) -> Insert:
    return postgresql.insert(table) if dialect == "postgresql" else sqlite.insert(table)


@cache
def _insert_new_into(table: Table, dialect: str) -> Executable:
    return _insert_into(table, dialect).on_conflict_do_nothing().returning(table.c.id)
