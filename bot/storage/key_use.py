"""Which keys a database is sealed with: refusing others, sealing at first, changing the key.

The table ``sealing`` names the keys in use, each with a value that only it opens, so that a wrong
key is refused before anything is written with it. No row there means that nothing was ever sealed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Engine, Row, delete, func, inspect, select, text, update
from sqlalchemy.dialects import postgresql, sqlite

from bot.errors import BadSettings
from bot.seal import Keys, Ring, new_key
from bot.storage.engine import reading
from bot.storage.migrate import schema_change
from bot.storage.sealing import (
    SEALED,
    Place,
    patiently,
    reseal,
    rewrite_all,
    seals_by_key,
    sweep,
)
from bot.storage.tables import SEALING

_ROUNDS = 3


@dataclass(frozen=True, slots=True)
class Rotation:
    """What a rotation came to.

    Attributes:
        newest: The key that everything is sealed with from now on.
        old: Those that it was sealed with before.
        left: Values that others sealed with an old key meanwhile.
    """

    newest: str
    old: tuple[str, ...]
    left: int


def make_sealed(engine: Engine, keys: Keys) -> Ring:
    """See that all is sealed and that the keys open it; seals what never was.

    Raises:
        BadSettings: A key is missing or wrong.
    """
    if not _uses(engine):
        _seal_all(engine, keys.made())
    uses = _uses(engine)
    ring = _opening(uses, keys)
    if ring.newest not in uses:
        with engine.begin() as connection:
            _register(connection, ring)
    # Where others are at work, sweeping is left to the next start.
    if not all(row.swept for row in uses.values()) and sweep(engine):
        with engine.begin() as connection:
            connection.execute(update(SEALING).values(swept=True))
    return ring


def is_sealed(engine: Engine) -> bool:
    """True once anything was sealed."""
    return inspect(engine).has_table(SEALING.name) and bool(_uses(engine))


def check_keys(engine: Engine, keys: Keys) -> Ring:
    """The keys, which open everything in the database.

    Raises:
        BadSettings: A key is missing or wrong, or nothing was ever sealed.
    """
    uses = _uses(engine)
    if not uses:
        raise BadSettings("the database is not sealed yet; run: weeknight migrate")
    return _opening(uses, keys)


def _opening(uses: Mapping[str, Row[Any]], keys: Keys) -> Ring:
    ring = keys.ring()
    for key_id, row in uses.items():
        if key_id not in ring.ids:
            raise BadSettings(
                f"the database is sealed with key {key_id}, which is not among the keys in "
                f"{keys.where} ({', '.join(ring.ids)}); give that key too"
            )
        if not ring.proves(row.proof):
            raise BadSettings(
                f"key {key_id} in {keys.where} is not the one that the database is sealed with"
            )
    return ring


def unseal_all(connection: Connection, keys: Keys, places: Sequence[Place]) -> None:
    """Keep everything as it reads, inside the transaction that is open.

    Raises:
        BadSettings: A key is missing.
        Unreadable: A value cannot be opened.
    """
    if connection.execute(select(SEALING.c.key_id)).first() is not None:
        rewrite_all(connection, keys.ring().open, places)


def rotate(engine: Engine, keys: Keys) -> Rotation:
    """Seal everything with a new key, or go on with that where it was stopped.

    In batches, so that others can work meanwhile.

    Raises:
        BadSettings: A key is missing, or a person has to add the new one.
    """
    ring = check_keys(engine, keys)
    if set(_uses(engine)) == {ring.newest}:
        keys.add(new_key())
        ring = keys.ring()
    with patiently(engine) as connection:
        _register(connection, ring)
    left = 0
    for _ in range(_ROUNDS):
        reseal(engine, ring)
        left = sum(n for key_id, n in seals_by_key(engine).items() if key_id != ring.newest)
        if not left:
            break
    old = tuple(key_id for key_id in _uses(engine) if key_id != ring.newest)
    if not left:
        with patiently(engine) as connection:
            connection.execute(delete(SEALING).where(SEALING.c.key_id != ring.newest))
    return Rotation(ring.newest, old, left)


def _uses(engine: Engine) -> dict[str, Row[Any]]:
    """The keys in use, by id."""
    with reading(engine).begin() as connection:
        return {row.key_id: row for row in connection.execute(select(SEALING))}


def _seal_all(engine: Engine, ring: Ring) -> None:
    with schema_change(engine) as connection:
        if connection.execute(select(func.count()).select_from(SEALING)).scalar():
            return  # another process was quicker
        if engine.dialect.name == "postgresql":
            names = ", ".join(place.table for place in SEALED)
            connection.execute(text(f"LOCK TABLE {names} IN SHARE ROW EXCLUSIVE MODE"))
        rows = rewrite_all(connection, ring.seal, SEALED)
        _register(connection, ring, swept=not rows)


def _register(connection: Connection, ring: Ring, *, swept: bool = True) -> None:
    is_postgresql = connection.dialect.name == "postgresql"
    insert = postgresql.insert(SEALING) if is_postgresql else sqlite.insert(SEALING)
    values = {"key_id": ring.newest, "proof": ring.proof(ring.newest), "swept": swept}
    connection.execute(insert.on_conflict_do_nothing(), values)
