"""The store: transactions over one database."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime

from sqlalchemy import Engine

from bot.kept import Kept
from bot.seal import Seal, Unsealed
from bot.storage.athletes import AthleteWork
from bot.storage.dues import DueWork
from bot.storage.engine import reading
from bot.storage.inbox import InboxWork
from bot.storage.outbox import OutboxWork
from bot.storage.pruning import PruneWork
from bot.storage.together import Together
from bot.storage.transaction import KEPT_FACTS, Records
from bot.storage.trouble import passing_troubles


class SqlWork(AthleteWork, InboxWork, OutboxWork, DueWork, PruneWork):
    """One transaction, see ``bot.ports.Work``."""

    def release(self, adapter: str, *, now: datetime) -> None:
        """End all leases on that adapter's messages and on moments: their holder has died."""
        self._release_parcels(adapter, now=now)
        self._release_dues()

    def counts(self) -> dict[str, int]:
        """Rows waiting: inbox, outbox, due."""
        return {
            "inbox": self._inbox_count(),
            "outbox": self._outbox_count(),
            "due": self._due_count(),
        }


class SqlStore:
    """Everything that is kept, in SQLite or PostgreSQL. Threads may share it.

    ``seal`` gives what seals in a transaction that begins: keys may change while the program
    runs. Without it nothing is sealed, which is for a database in memory only.
    """

    def __init__(self, engine: Engine, seal: Callable[[], Seal] = Unsealed) -> None:
        self._seal = seal
        self._reading = reading(engine)
        self._records: Records = Kept(most=KEPT_FACTS, weigh=len)
        # SQLite has one writer: threads queue here, in turn, instead of polling for its lock.
        is_sqlite = engine.dialect.name == "sqlite"
        self._begin = Together(engine).begin if is_sqlite else engine.begin

    @contextmanager
    def work(self) -> Iterator[SqlWork]:
        """One transaction: commits at the end of the block, rolls back on an exception.

        Raises:
            StoreAway: The database cannot be asked just now.
        """
        with passing_troubles(), self._begin() as connection:
            work = SqlWork(connection, records=self._records, locks=True, seal=self._seal())
            yield work
        work.over()

    @contextmanager
    def read(self) -> Iterator[SqlWork]:
        """One snapshot for reading only: takes no write lock.

        Raises:
            StoreAway: The database cannot be asked just now.
        """
        with passing_troubles(), self._reading.begin() as connection:
            work = SqlWork(connection, records=self._records, locks=False, seal=self._seal())
            yield work
        work.over()
