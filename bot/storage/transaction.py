"""One open transaction: what the parts of the store's work share."""

from typing import Any

from sqlalchemy import Connection, Select, Table
from sqlalchemy.dialects import postgresql, sqlite


class Transaction:
    """A connection inside a transaction. ``locks`` is False where it only reads."""

    def __init__(self, connection: Connection, *, locks: bool) -> None:
        self._connection = connection
        self._locks = locks

    def _held(self, query: Select[Any]) -> Select[Any]:
        """The query, holding its rows until the end. SQLite holds the whole database instead."""
        return query.with_for_update() if self._locks else query

    def _insert(self, table: Table) -> sqlite.Insert | postgresql.Insert:
        """An insert that can say what to do on conflict; both databases spell it alike."""
        if self._connection.dialect.name == "postgresql":
            return postgresql.insert(table)
        return sqlite.insert(table)
