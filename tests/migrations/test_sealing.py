"""A database of the release before: sealed at the next start, and as it was on the way back."""

import re
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine, text

from bot.errors import BadSettings, Unreadable
from bot.key_file import GivenKeys, KeyFile
from bot.ports import Button, Chat
from bot.seal import Key, new_key
from bot.storage import SqlStore, migrate
from bot.storage.key_use import make_sealed
from bot.storage.migrate import migrations_folder, schema_change
from bot.storage.sealing import BATCH, seals_by_key
from core.facts import BodyWeighed, Logged, PainFelt

BEFORE = "0003"
NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
KEY = Key(bytes(range(32)))
KEYS = GivenKeys(KEY.text, named="tests")
ROWS: dict[str, list[dict[str, Any]]] = {
    "athlete": [
        {"id": 1, "adapter": "telegram", "chat_id": 7, "opened_at": NOW, "gone_at": None}
        | {"talk": '{"welcomed":true,"misread":"quoll 4x"}'},
        {"id": 2, "adapter": "terminal", "chat_id": 1, "opened_at": NOW, "gone_at": None}
        | {"talk": "{}"},
    ],
    "fact": [
        {"number": 1, "kind": "BodyWeighed", "body": '{"kg":"70.20"}'},
        {"number": 2, "kind": "PainFelt"}
        | {"body": '{"site":"quoll finger","side":"left","score":4,"flags":[]}'},
        {"number": 3, "kind": "Logged"}
        | {
            "body": '{"exercise":"half-crimp","edge_mm":20,"sets":[],"asked":[],'
            '"note":"s1.quoll","said":"crimp quoll"}'
        },
    ],
    "inbox": [
        {"source": "telegram:1", "update_id": 5, "adapter": "telegram", "chat_id": 7}
        | {"text": "s1.00000000.quoll", "pressed": False, "at": NOW}
        | {"handled_at": None, "problem": None},
    ],
    "outbox": [
        {"athlete_id": 1, "adapter": "telegram", "kind": "answer", "rank": 0, "text": "quoll"}
        | {"buttons": '[{"label":"quoll","send":"quoll"}]', "targets": "[]"}
        | {"queued_at": NOW, "not_before": NOW, "state": "waiting", "attempts": 0, "doubts": 0}
        | {"done_at": None, "message_id": None, "why": None},
    ],
}
for number, fact in enumerate(ROWS["fact"], 1):
    fact |= {"athlete_id": 1, "reply": number, "at": NOW, "day": date(2026, 3, 2)}


def alembic(engine: Engine, act: str, revision: str, **attributes: Any) -> None:
    config = Config()
    config.set_main_option("script_location", str(migrations_folder()))
    with schema_change(engine) as connection:
        config.attributes |= {"connection": connection, **attributes}
        getattr(command, act)(config, revision)


@pytest.fixture
def old(bare_engine: Engine) -> Engine:
    """The database of a program that knew nothing of keys, with something in every column."""
    alembic(bare_engine, "upgrade", BEFORE)
    with bare_engine.begin() as connection:
        for table, rows in ROWS.items():
            insert(connection, table, rows)
        if bare_engine.dialect.name == "postgresql":
            connection.execute(text("SELECT setval('athlete_id_seq', 2)"))
    return bare_engine


def insert(connection: Connection, table: str, rows: list[dict[str, Any]]) -> None:
    if connection.dialect.name == "sqlite":
        rows = [{name: sqlite_value(value) for name, value in row.items()} for row in rows]
    for row in rows:
        names = ", ".join(f'"{name}"' for name in row)
        values = ", ".join(f":{name}" for name in row)
        connection.execute(text(f"INSERT INTO {table} ({names}) VALUES ({values})"), row)


def sqlite_value(value: Any) -> Any:
    """As the release before wrote it into SQLite, which keeps moments as text."""
    if isinstance(value, datetime):
        return value.strftime("%Y-%m-%d %H:%M:%S.%f")
    return value.isoformat() if isinstance(value, date) else value


def contents(engine: Engine) -> dict[str, list[Any]]:
    """Every value of the tables, in the order of the rows."""
    query = "SELECT {names} FROM {table} ORDER BY id"
    with engine.begin() as connection:
        return {
            table: [
                tuple(row)
                for row in connection.execute(
                    text(query.format(table=table, names=", ".join(f'"{n}"' for n in rows[0])))
                )
            ]
            for table, rows in ROWS.items()
        }


def raw(engine: Engine) -> bytes:
    """The bytes of a SQLite file and of what lies beside it."""
    file = Path(str(engine.url.database))
    return b"".join(each.read_bytes() for each in file.parent.glob(f"{file.name}*"))


def test_upgraded_database_is_sealed_at_the_next_start_and_reads_as_before(old: Engine) -> None:
    if old.dialect.name == "sqlite":
        assert b"quoll" in raw(old)
    migrate(old)
    make_sealed(old, KEYS)
    assert "quoll" not in repr(contents(old))
    # By hand: 2 states of talk, 3 facts, 1 text that came in, 3 parts of a message going out.
    assert seals_by_key(old) == {KEY.id: 9}
    with old.begin() as connection:
        assert connection.execute(text("SELECT swept FROM sealing")).scalars().all() == [True]
    with SqlStore(old, KEYS.ring).work() as work:
        loaded = work.load_id(1)
        facts = [entry.fact for entry in loaded.entries]
        assert facts == [
            BodyWeighed(Decimal("70.20")),
            PainFelt("quoll finger", "left", 4, ()),
            Logged("half-crimp", 20, (), (), "s1.quoll", "crimp quoll"),
        ]
        assert loaded.talk == ROWS["athlete"][0]["talk"]
        assert [i.text for i in work.waiting(9)] == ["s1.00000000.quoll"]
        assert work.load(Chat("terminal", 1)) == work.load_id(2)


def test_upgraded_database_leaves_nothing_open_in_the_file(old: Engine) -> None:
    if old.dialect.name != "sqlite":
        pytest.skip("reads the file of SQLite")
    with old.begin() as connection:  # what was overwritten stays in the free space of its page
        connection.execute(text("UPDATE athlete SET talk = 'short'"))
        connection.execute(text("DELETE FROM outbox"))
    migrate(old)
    make_sealed(old, KEYS)
    assert b"quoll" not in raw(old)


def test_upgrade_seals_more_rows_than_fit_a_batch(old: Engine) -> None:
    rows = [ROWS["inbox"][0] | {"update_id": 100 + n, "text": f"t{n}"} for n in range(2 * BATCH)]
    with old.begin() as connection:
        insert(connection, "inbox", rows)
    migrate(old)
    make_sealed(old, KEYS)
    assert seals_by_key(old) == {KEY.id: 9 + 2 * BATCH}
    with SqlStore(old, KEYS.ring).read() as work:
        assert [i.text for i in work.waiting(9999)][1:] == [row["text"] for row in rows]


def test_downgrade_brings_back_every_value(old: Engine) -> None:
    before = contents(old)
    migrate(old)
    make_sealed(old, KEYS)
    assert contents(old) != before
    alembic(old, "downgrade", BEFORE, keys=KEYS)
    assert contents(old) == before
    migrate(old)
    make_sealed(old, KEYS)
    assert seals_by_key(old) == {KEY.id: 9}


@pytest.mark.parametrize("given", ["none", "another"])
def test_downgrade_without_the_key_is_refused_and_loses_nothing(
    old: Engine, given: str, tmp_path: Path
) -> None:
    migrate(old)
    make_sealed(old, KEYS)
    before = contents(old)
    wrong = KeyFile(tmp_path / "none") if given == "none" else GivenKeys(new_key().text, named="k")
    with pytest.raises((BadSettings, Unreadable), match=re.compile("key", re.IGNORECASE)):
        alembic(old, "downgrade", BEFORE, keys=wrong)
    assert contents(old) == before
    make_sealed(old, KEYS)
    with SqlStore(old, KEYS.ring).read() as work:
        assert len(work.load_id(1).entries) == len(ROWS["fact"])


def test_downgrade_of_what_was_never_sealed_needs_no_key(old: Engine, tmp_path: Path) -> None:
    before = contents(old)
    migrate(old)
    alembic(old, "downgrade", BEFORE, keys=KeyFile(tmp_path / "none"))
    assert contents(old) == before


def test_message_that_waited_is_sent_after_the_upgrade(old: Engine) -> None:
    migrate(old)
    make_sealed(old, KEYS)
    with SqlStore(old, KEYS.ring).work() as work:
        (parcel,) = work.claim_parcels("telegram", now=NOW, limit=9, lease_s=60)
    assert (parcel.message.text, parcel.message.buttons) == ("quoll", (Button("quoll", "quoll"),))
