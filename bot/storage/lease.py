"""Rights that one process at a time holds: in PostgreSQL for so long, in a SQLite file for good.

PostgreSQL may serve many machines, so a holder that dies must lose its right without a word:
a row says until when it holds, by the database's clock, which is the same for all. A SQLite
file has one machine, whose kernel knows when a process dies: there a locked file does it.
"""

import os
import secrets
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path

from sqlalchemy import TIMESTAMP, Engine, Interval, bindparam, delete, func, literal, select
from sqlalchemy.dialects.postgresql import insert

from bot.errors import BadSettings
from bot.storage.engine import is_in_memory
from bot.storage.tables import LEASE
from bot.storage.trouble import passing_troubles

POLLING = "polling"
"""The right to fetch what people wrote: the chat service answers one caller only."""

LEASE_S = 15.0
"""How long a holder that says nothing keeps its right. [s]"""

_NOW = func.clock_timestamp(type_=TIMESTAMP(timezone=True))
_NEW = insert(LEASE).values(
    name=bindparam("its_name"),
    holder=bindparam("me"),
    until=_NOW + literal(timedelta(seconds=LEASE_S), Interval),
)
_TAKE = _NEW.on_conflict_do_update(
    index_elements=[LEASE.c.name],
    set_={"holder": _NEW.excluded.holder, "until": _NEW.excluded.until},
    where=(LEASE.c.holder == _NEW.excluded.holder) | (LEASE.c.until < _NOW),
).returning(LEASE.c.name)
_GIVE_BACK = delete(LEASE).where(
    LEASE.c.name == bindparam("its_name"), LEASE.c.holder == bindparam("me")
)
_HOLDER = select(LEASE.c.holder, LEASE.c.until).where(
    LEASE.c.name == bindparam("its_name"), LEASE.c.until >= _NOW
)


class SqlLease:
    """A ``bot.ports.Lease`` by name, in PostgreSQL. Every one made is a holder of its own."""

    def __init__(self, engine: Engine, name: str) -> None:
        self._engine = engine
        self._name = name
        self._me = f"{socket.gethostname()} {os.getpid()} {secrets.token_hex(4)}"

    def take(self) -> bool:
        """Take it, or hold it for ``LEASE_S`` more; False while another process holds it.

        Raises:
            StoreAway: The database cannot be asked.
        """
        with passing_troubles(), self._engine.begin() as connection:
            return connection.execute(_TAKE, self._asked()).first() is not None

    def give_back(self) -> None:
        """Let the next one have it at once; nothing happens if another holds it.

        Raises:
            StoreAway: The database cannot be asked.
        """
        with passing_troubles(), self._engine.begin() as connection:
            connection.execute(_GIVE_BACK, self._asked())

    def _asked(self) -> dict[str, str]:
        return {"its_name": self._name, "me": self._me}


def lease_holder(engine: Engine, name: str) -> tuple[str, datetime] | None:
    """Who holds a lease of a PostgreSQL database, and until when; None if nobody does."""
    with passing_troubles(), engine.begin() as connection:
        row = connection.execute(_HOLDER, {"its_name": name}).first()
    return None if row is None else (row.holder, row.until)


@contextmanager
def only_one(engine: Engine) -> Iterator[None]:
    """Be the only process inside this block on that SQLite file; others are refused.

    Raises:
        BadSettings: Another one is inside.
    """
    if is_in_memory(engine):
        yield
        return
    import fcntl

    with _lock_file(engine).open("a+", encoding="ascii") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise BadSettings(
                f"another weeknight serves this database already ({_written(file.name)}): a "
                "SQLite file takes one; stop that one, or use PostgreSQL for several"
            ) from None
        file.truncate(0)
        file.write(f"process {os.getpid()}")
        file.flush()
        yield
        file.truncate(0)


def only_one_inside(engine: Engine) -> str | None:
    """Which process is the only one on that SQLite file; None if there is none."""
    if is_in_memory(engine) or not (file := _lock_file(engine)).exists():
        return None
    import fcntl

    with file.open("a+", encoding="ascii") as opened:
        try:
            fcntl.flock(opened, fcntl.LOCK_SH | fcntl.LOCK_NB)
        except OSError:
            return _written(opened.name)
    return None


def _lock_file(engine: Engine) -> Path:
    return Path(f"{engine.url.database}.serving")


def _written(name: str) -> str:
    return Path(name).read_text(encoding="ascii").strip() or "a process"
