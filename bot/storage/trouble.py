"""Telling a database that is away for a moment from one that refuses what was asked."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, InterfaceError, OperationalError, TimeoutError

from bot.errors import StoreAway

_SQLITE_ERROR = 1
"""SQLite's code for a statement that is wrong (sqlite.org, Result and Error Codes)."""


@contextmanager
def passing_troubles() -> Iterator[None]:
    """A trouble that may be over a moment later leaves as ``StoreAway``.

    Connections lost or refused, locks and statements that took too long, a full disk. The
    transaction inside is rolled back, or it was committed and the confirmation is lost.
    """
    try:
        yield
    except TimeoutError as error:
        raise StoreAway("no connection to the database is free") from error
    except DBAPIError as error:
        if is_passing(error):
            raise StoreAway(f"the database is away: {first_line(error.orig)}") from error
        raise


def is_passing(error: DBAPIError) -> bool:
    """Whether the same may succeed a moment later."""
    if error.connection_invalidated or isinstance(error, InterfaceError):
        return True
    code = getattr(error.orig, "sqlite_errorcode", None)
    return isinstance(error, OperationalError) and (code is None or code & 0xFF != _SQLITE_ERROR)


_NOT_YET = ("starting up", "shutting down", "recovery", "too many clients", "connection slots")


def is_out_of_reach(error: DBAPIError) -> bool:
    """Whether a PostgreSQL server is not there, or not yet, rather than refusing us for good."""
    if getattr(error.orig, "sqlite_errorcode", None) is not None or not is_passing(error):
        return False
    said = str(error.orig)
    return "FATAL" not in said or any(sign in said for sign in _NOT_YET)


def first_line(error: BaseException | None) -> str:
    """What the driver says, in one line."""
    return str(error).strip().splitlines()[0] if str(error).strip() else type(error).__name__
