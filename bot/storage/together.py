"""Writes of several threads in one transaction of SQLite, so that they wait once for the disk.

SQLite has one writer, and a commit that survives a power cut takes longer than what is written
in it. Threads write one after another; while others queue, a transaction is left open for the
next one, and nobody goes on before all of it is committed. Each write stands or falls alone, in
a savepoint of its own.
"""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from threading import Event, Lock

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import SQLAlchemyError

MOST = 16
"""Most writes in one transaction: nobody waits longer for others than for so many."""


class _Group:
    """A transaction with its writes so far."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection
        self.transaction = connection.begin()
        self.writes = 0
        self.is_over = Event()
        self.error: BaseException | None = None


class Together:
    """One database's writes, in turn."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._turn = Lock()
        self._counting = Lock()
        self._queued = 0
        self._open: _Group | None = None

    @property
    def queued(self) -> int:
        """Writes that wait for their turn."""
        with self._counting:
            return self._queued

    @contextmanager
    def begin(self) -> Iterator[Connection]:
        """A write: committed when the block has been left, rolled back on an exception.

        Raises:
            SQLAlchemyError: The commit failed; nothing of the block was written.
        """
        self._take_turn()
        try:
            group = self._group()
        except BaseException:
            self._turn.release()
            raise
        try:
            yield from self._written(group)
        finally:
            self._leave(group)
        group.is_over.wait()
        if group.error is not None:
            raise group.error

    def _take_turn(self) -> None:
        with self._counting:
            self._queued += 1
        self._turn.acquire()
        with self._counting:
            self._queued -= 1

    def _group(self) -> _Group:
        """The transaction left open by the write before, or a new one."""
        group, self._open = self._open, None
        if group is None:
            connection = self._engine.connect()
            try:
                group = _Group(connection)
            except BaseException:
                connection.close()
                raise
        return group

    def _written(self, group: _Group) -> Iterator[Connection]:
        connection = group.connection
        try:
            connection.exec_driver_sql("SAVEPOINT mine")
            yield connection
            connection.exec_driver_sql("RELEASE mine")
        except BaseException as error:
            try:
                connection.exec_driver_sql("ROLLBACK TO mine")
                connection.exec_driver_sql("RELEASE mine")
            except SQLAlchemyError as gone:
                # SQLite has ended the transaction, as it does when the disk is full.
                group.error = gone
            raise error
        group.writes += 1

    def _leave(self, group: _Group) -> None:
        """Pass the transaction on to the next in the queue, or end it."""
        with self._counting:
            goes_on = self._queued > 0 and group.writes < MOST and group.error is None
        if goes_on:
            self._open = group
            self._turn.release()
            return
        try:
            self._end(group)
        finally:
            self._turn.release()
            group.is_over.set()

    def _end(self, group: _Group) -> None:
        try:
            if group.error is None:
                group.transaction.commit()
        except BaseException as error:  # noqa: BLE001 - every thread of the group has to know
            group.error = error
        if group.error is not None:
            with suppress(SQLAlchemyError):
                group.transaction.rollback()
        group.connection.close()
