"""Looking after a database: backups, restoring one, and its keys. Each says what it did."""

import shlex
from pathlib import Path

from sqlalchemy import URL, Engine

from bot.errors import BadSettings
from bot.key_file import KeyFile
from bot.seal import Keys
from bot.storage.backup import back_up, check_sound, copied, put_in_place
from bot.storage.engine import make_engine
from bot.storage.key_use import check_keys, is_sealed, make_sealed, rotate
from bot.storage.migrate import migrate, pending
from bot.storage.sealing import seals_by_key
from bot.wiring import opened, settings_keys


def backup(url: str, to: Path) -> list[str]:
    """Copy the database into a file, while it is in use.

    Raises:
        BadSettings: It is no SQLite file, ``to`` exists, or lies beside the keys.
    """
    with opened(url) as engine:
        database = _file(
            engine, f"pg_dump --format=custom --file={shlex.quote(str(to))} {_shown(engine.url)}"
        )
        keys = settings_keys(engine)
        if isinstance(keys, KeyFile) and keys.path.resolve().parent == to.resolve().parent:
            raise BadSettings(
                f"{to} would lie beside the key file {keys.path}, where whoever has the one has "
                "the other; say another folder"
            )
        back_up(database, to)
        lines = [f"{to}: {to.stat().st_size} bytes, readable by you alone."]
        if not is_sealed(engine):
            return [*lines, "It is not sealed: anybody who has it can read it."]
        return [
            *lines,
            f"The keys are not in it. They are in {keys.where}: keep a copy of them elsewhere. "
            "Without them the backup cannot be read.",
        ]


def restore(url: str, backup_file: Path, *, replace: bool) -> list[str]:
    """Make a backup the database, once it is sure that it can be used.

    Args:
        url: The database to be.
        backup_file: The backup. It is left as it is.
        replace: Whether a database that is there already is put aside; else that is refused.

    Raises:
        BadSettings: The backup is harmed, newer than this program, or sealed with a key that
            was not given; or there is a database already, or it is in use.
    """
    with opened(url) as engine:
        words = f"--clean --if-exists --dbname={_shown(engine.url)} {shlex.quote(str(backup_file))}"
        database = _file(engine, f"pg_restore {words}")
        if database.exists() and not replace:
            raise BadSettings(
                f"the database {database} exists; to put it aside for the backup, add --replace"
            )
        check_sound(backup_file)
        keys = settings_keys(engine)
        database.parent.mkdir(parents=True, exist_ok=True)
        with copied(backup_file, database) as copy:
            lacking = _usable(copy, keys)
            aside = put_in_place(copy, database)
    lines = [f"{database} is now what {backup_file} holds."]
    if aside is not None:
        lines.append(f"What was there before is {aside}; erase it when you need it no more.")
    if lacking:
        lines.append("It is from an older version, and is brought up to date at the next start.")
    return lines


def _usable(copy: Path, keys: Keys) -> tuple[str, ...]:
    """The revisions that the copy lacks, once it is sure that the keys open it."""
    engine = make_engine(f"sqlite:///{copy}")
    try:
        lacking = pending(engine)
        if is_sealed(engine):
            check_keys(engine, keys)
        return lacking
    finally:
        engine.dispose()


def rotate_key(url: str) -> list[str]:
    """Seal everything with a new key, or go on with that where it was stopped.

    Raises:
        BadSettings: A key is missing or wrong, or a person has to add the new one.
    """
    with opened(url) as engine:
        keys = settings_keys(engine)
        migrate(engine)
        make_sealed(engine, keys)
        done = rotate(engine, keys)
    old = ", ".join(done.old)
    if done.left:
        return [
            f"{done.left} values were sealed with an old key ({old}) meanwhile, by a program that "
            "was started before the new key was there. Start it anew, then run this again."
        ]
    return [
        f"Everything in this database is sealed with key {done.newest}, from {keys.where}.",
        f"Key {old} is no longer needed for it. Once every program that was started with it was "
        "started anew and weeknight key show says 0 for it, it may be removed there.",
        "Backups made until now need it: keep a copy as long as you keep them.",
    ]


def key_lines(url: str) -> list[str]:
    """Each key and what it is for; never the key itself.

    Raises:
        BadSettings: A key is missing or wrong.
    """
    with opened(url) as engine:
        if pending(engine):
            raise BadSettings("the database is not up to date; run: weeknight migrate")
        keys = settings_keys(engine)
        ring = check_keys(engine, keys)
        sealed = seals_by_key(engine)
    lines = [f"Keys from {keys.where}, the newest first:"]
    lines += [f"{key_id}: {sealed.get(key_id, 0)} values sealed with it" for key_id in ring.ids]
    lost = {key_id: count for key_id, count in sealed.items() if key_id not in ring.ids}
    lines += [
        f"{key_id or 'no key'}: {count} values, not to be read" for key_id, count in lost.items()
    ]
    return lines


def _file(engine: Engine, instead: str) -> Path:
    """The file of a SQLite database.

    Raises:
        BadSettings: It is another database, for which ``instead`` does the same.
    """
    if engine.dialect.name != "sqlite":
        raise BadSettings(f"this is for SQLite; for PostgreSQL use: {instead}")
    if engine.url.database in (None, "", ":memory:"):
        raise BadSettings("a database in memory ends with its program")
    return Path(str(engine.url.database))


def _shown(url: URL) -> str:
    """The address for PostgreSQL's own programs, without a password."""
    plain = url.set(drivername="postgresql")._replace(password=None)
    return shlex.quote(plain.render_as_string())
