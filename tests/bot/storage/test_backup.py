"""A copy taken while others write is whole; only what can be used is put in place."""

import sqlite3
import stat
import threading
from contextlib import closing
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from bot.errors import BadSettings
from bot.ports import Chat
from bot.storage import SqlStore, make_engine, migrate
from bot.storage.backup import back_up, check_sound, copied, put_in_place
from core.facts import BodyWeighed, Entry

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
CHAT = Chat("terminal", 1)
TODAY = date(2026, 3, 2)


@pytest.fixture
def database(tmp_path: Path) -> Path:
    file = tmp_path / "weeknight.db"
    migrate(f"sqlite:///{file}")
    return file


def weigh(store: SqlStore, times: int) -> None:
    """So many weights, two in every transaction: a copy of half of one would show."""
    with store.work() as work:
        loaded = work.load(CHAT) or work.open(CHAT, at=NOW)
        first = len(loaded.entries) + 1
        facts = [
            Entry(first + n, first, NOW, TODAY, BodyWeighed(Decimal(70))) for n in range(times)
        ]
        work.append(loaded.athlete_id, facts)


def facts(file: Path) -> int:
    engine = make_engine(f"sqlite:///{file}")
    with SqlStore(engine).read() as work:
        loaded = work.load(CHAT)
    engine.dispose()
    return 0 if loaded is None else len(loaded.entries)


def test_back_up_while_a_thread_writes_is_whole_every_time(database: Path, tmp_path: Path) -> None:
    engine = make_engine(f"sqlite:///{database}")
    store, enough, written = SqlStore(engine), threading.Event(), [0]
    weigh(store, 2)

    def write() -> None:
        while not enough.is_set() and written[0] < 2000:
            weigh(store, 2)
            written[0] += 1

    writer = threading.Thread(target=write)
    writer.start()
    counts = []
    try:
        for number in range(5):
            before = written[0]
            while written[0] == before and writer.is_alive():
                pass
            copy = tmp_path / f"{number}.bak"
            back_up(database, copy)
            check_sound(copy)
            counts.append(facts(copy))
    finally:
        enough.set()
        writer.join(60)
    engine.dispose()
    assert counts == sorted(counts)
    assert counts[0] >= 4
    assert [n for n in counts if n % 2] == []
    assert counts[-1] <= facts(database) == 2 + 2 * written[0]


def test_back_up_holds_what_is_still_in_the_wal_alone(database: Path, tmp_path: Path) -> None:
    engine = make_engine(f"sqlite:///{database}")
    weigh(SqlStore(engine), 3)
    assert database.with_name("weeknight.db-wal").stat().st_size > 0
    back_up(database, tmp_path / "copy.bak")
    assert facts(tmp_path / "copy.bak") == 3
    engine.dispose()


def test_back_up_is_private_and_alone(database: Path, tmp_path: Path) -> None:
    folder = tmp_path / "backups"
    folder.mkdir()
    back_up(database, folder / "copy.bak")
    assert [each.name for each in folder.iterdir()] == ["copy.bak"]
    assert stat.S_IMODE((folder / "copy.bak").stat().st_mode) == 0o600


def test_back_up_never_overwrites(database: Path, tmp_path: Path) -> None:
    to = tmp_path / "copy.bak"
    to.write_text("mine", encoding="ascii")
    with pytest.raises(BadSettings, match="exists"):
        back_up(database, to)
    assert to.read_text(encoding="ascii") == "mine"


@pytest.mark.parametrize("what", ["no database", "no folder", "no sqlite"])
def test_back_up_what_cannot_be_done_is_said(database: Path, tmp_path: Path, what: str) -> None:
    source, to = database, tmp_path / "copy.bak"
    if what == "no database":
        source = tmp_path / "none.db"
    elif what == "no folder":
        to = tmp_path / "nowhere" / "copy.bak"
    else:
        source = tmp_path / "text.db"
        source.write_text("no database at all" * 100, encoding="ascii")
    before = sorted(tmp_path.iterdir())
    with pytest.raises(BadSettings):
        back_up(source, to)
    assert sorted(tmp_path.iterdir()) == before


def harm(file: Path) -> None:
    """Overwrite the middle of the file, page headers included."""
    size = file.stat().st_size
    with file.open("rb+") as opened:
        opened.seek(size // 2)
        opened.write(b"\xff" * 8192)


def test_check_sound_refuses_harm_text_and_other_databases(database: Path, tmp_path: Path) -> None:
    check_sound(database)
    other = tmp_path / "other.db"
    with closing(sqlite3.connect(other)) as connection:
        connection.execute("CREATE TABLE fact (id INTEGER)")
    with pytest.raises(BadSettings, match="none of weeknight"):
        check_sound(other)
    (tmp_path / "text").write_text("crimp 22 ok\n" * 200, encoding="ascii")
    for file in (tmp_path / "text", tmp_path / "none"):
        with pytest.raises(BadSettings):
            check_sound(file)
    with closing(sqlite3.connect(database)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    harm(database)
    with pytest.raises(BadSettings, match=r"harmed|no database"):
        check_sound(database)


def test_put_in_place_sets_the_old_one_aside_whole(database: Path, tmp_path: Path) -> None:
    back_up(database, tmp_path / "empty.bak")
    engine = make_engine(f"sqlite:///{database}")
    weigh(SqlStore(engine), 3)
    engine.dispose()
    for number in (1, 2):
        with copied(tmp_path / "empty.bak", database) as copy:
            aside = put_in_place(copy, database)
        assert aside == database.with_name(f"weeknight.db.before-{number}")
        assert facts(database) == 0
    assert facts(database.with_name("weeknight.db.before-1")) == 3
    assert stat.S_IMODE(database.stat().st_mode) == 0o600


def test_put_in_place_of_a_database_in_use_is_refused(database: Path, tmp_path: Path) -> None:
    back_up(database, tmp_path / "empty.bak")
    engine = make_engine(f"sqlite:///{database}")
    weigh(SqlStore(engine), 3)
    with (
        copied(tmp_path / "empty.bak", database) as copy,
        pytest.raises(BadSettings, match="stop weeknight"),
    ):
        put_in_place(copy, database)
    engine.dispose()
    assert facts(database) == 3


@pytest.mark.parametrize("what", ["spoilt", "gone"])
def test_put_in_place_of_a_lost_database_is_not_spoilt_by_its_wal(
    database: Path, tmp_path: Path, what: str
) -> None:
    back_up(database, tmp_path / "empty.bak")
    engine = make_engine(f"sqlite:///{database}")
    weigh(SqlStore(engine), 3)
    wal = database.with_name("weeknight.db-wal").read_bytes()
    assert wal
    engine.dispose()
    if what == "gone":
        database.unlink()
    else:
        database.write_bytes(b"spoilt" * 999)
    database.with_name("weeknight.db-wal").write_bytes(wal)
    with copied(tmp_path / "empty.bak", database) as copy:
        put_in_place(copy, database)
    check_sound(database)
    assert facts(database) == 0
    assert database.with_name("weeknight.db.before-1-wal").read_bytes() == wal


def test_put_in_place_where_nothing_is_leaves_nothing_else(database: Path, tmp_path: Path) -> None:
    folder = tmp_path / "new"
    folder.mkdir()
    with copied(database, folder / "weeknight.db") as copy:
        assert put_in_place(copy, folder / "weeknight.db") is None
    assert [each.name for each in folder.iterdir()] == ["weeknight.db"]
    assert facts(folder / "weeknight.db") == 0
