"""Copying a SQLite database while it is in use, and putting a copy in its place again."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from bot.errors import BadSettings

_PRIVATE = 0o600
_BUSY_S = 5.0  # [s]
_BESIDE = ("-wal", "-shm", "-journal")
"""What SQLite keeps beside a database."""


def back_up(database: Path, to: Path) -> None:
    """Copy the database as it is at one moment; others may read and write meanwhile.

    The copy is whole or not there at all, and only its owner can read it.

    Raises:
        BadSettings: There is no such database, ``to`` exists, or it cannot be written.
    """
    if not database.is_file():
        raise BadSettings(f"there is no database {database}")
    if to.exists():
        raise BadSettings(f"{to} exists; say another name")
    with copied(database, to) as copy:
        _put(copy, to)


@contextmanager
def copied(database: Path, to: Path) -> Iterator[Path]:
    """A private copy under a name of its own beside ``to``, gone at the end unless moved.

    Raises:
        BadSettings: ``database`` is none, or the copy cannot be written.
    """
    copy = to.with_name(f".{to.name}.{os.getpid()}")
    try:
        os.close(os.open(copy, os.O_WRONLY | os.O_CREAT | os.O_EXCL, _PRIVATE))
    except OSError as error:
        raise BadSettings(f"{to} cannot be written: {error.strerror}") from error
    try:
        with _open(database) as connection:
            # One reading transaction: it sees one moment, and holds up nobody.
            connection.execute("VACUUM INTO ?", (str(copy),))
        with copy.open("rb+") as file:
            os.fsync(file.fileno())
        yield copy
    except sqlite3.Error as error:
        raise BadSettings(f"{database} cannot be copied to {to}: {error}") from error
    finally:
        for name in ("", *_BESIDE):
            copy.with_name(copy.name + name).unlink(missing_ok=True)


def check_sound(database: Path) -> None:
    """Refuse a file that is no database of ours, or is harmed.

    Raises:
        BadSettings: It is; the message says what is wrong.
    """
    if not database.is_file():
        raise BadSettings(f"there is no file {database}")
    try:
        with _open(database) as connection:
            wrong = connection.execute("PRAGMA integrity_check(1)").fetchone()[0]
            stray = connection.execute("PRAGMA foreign_key_check").fetchone()
            tables = connection.execute(
                "SELECT count(*) FROM sqlite_master WHERE name IN ('alembic_version', 'fact')"
            ).fetchone()[0]
    except sqlite3.Error as error:
        raise BadSettings(f"{database} is no database: {error}") from error
    if wrong != "ok" or stray is not None:
        raise BadSettings(f"{database} is harmed: {wrong if wrong != 'ok' else 'rows are missing'}")
    if tables != 2:
        raise BadSettings(f"{database} is a database, but none of weeknight")


def put_in_place(copy: Path, database: Path) -> Path | None:
    """Make the copy the database; where the one that was there before is now, if there was one.

    Raises:
        BadSettings: A program has the old database open, or nothing can be written there.
    """
    _settle(copy)
    aside = _free_name(database)
    is_there = database.exists()
    if is_there:
        _settle(database)
        os.link(database, aside)
    # Where the old database could not be settled these are left, and would spoil the new one.
    for ending in _BESIDE:
        left = database.with_name(database.name + ending)
        if left.exists():
            left.replace(aside.with_name(aside.name + ending))
    if not is_there:
        _put(copy, database)
        return None
    copy.replace(database)
    _fsync_folder(database.parent)
    return aside


def _settle(database: Path) -> None:
    """Leave all of it in the one file, which only works while nobody else has it open."""
    try:
        with _open(database) as connection:
            connection.execute("PRAGMA journal_mode=DELETE")
    except sqlite3.OperationalError as error:
        raise BadSettings(f"{database} is in use ({error}); stop weeknight first") from error
    except sqlite3.DatabaseError:
        return  # what is no database any more has no journal either


def _free_name(database: Path) -> Path:
    number = 1
    while (name := database.with_name(f"{database.name}.before-{number}")).exists():
        number += 1
    return name


def _put(copy: Path, to: Path) -> None:
    try:
        os.link(copy, to)  # unlike a move, it never takes the place of another file
    except FileExistsError:
        raise BadSettings(f"{to} exists; say another name") from None
    except OSError as error:
        raise BadSettings(f"{to} cannot be written: {error.strerror}") from error
    _fsync_folder(to.parent)


def _fsync_folder(folder: Path) -> None:
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


@contextmanager
def _open(database: Path) -> Iterator[sqlite3.Connection]:
    address = f"{database.absolute().as_uri()}?mode=rw"
    connection = sqlite3.connect(address, uri=True, isolation_level=None, timeout=_BUSY_S)
    with closing(connection):
        yield connection
