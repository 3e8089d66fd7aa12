"""A database knows its keys: others are refused, and one command changes them."""

import contextlib
import sqlite3
import threading
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import Engine, event, text
from sqlalchemy.exc import OperationalError

from bot.errors import BadSettings, StoreAway
from bot.key_file import GivenKeys, KeyFile
from bot.ports import Button, Chat, Inbound, Outgoing
from bot.seal import Key, Ring, Seal, key_from_text, new_key
from bot.storage import SqlStore, key_use, make_engine, sealing
from bot.storage.key_use import check_keys, is_sealed, make_sealed, rotate
from bot.storage.sealing import seals_by_key
from core.facts import BodyWeighed, Entry

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
OLD, NEW = Key(bytes(range(32))), Key(bytes(range(1, 33)))
CHAT = Chat("telegram", 7)


def given(*keys: Key) -> GivenKeys:
    return GivenKeys(",".join(key.text for key in keys), named="WEEKNIGHT_KEY")


def key_file(path: Path, *keys: Key) -> KeyFile:
    path.write_text("".join(f"{key.text}\n" for key in keys), encoding="ascii")
    path.chmod(0o600)
    return KeyFile(path)


def in_file(keys: KeyFile) -> list[Key]:
    lines = keys.path.read_text(encoding="ascii").splitlines()
    return [key_from_text(line, named="file") for line in lines if not line.startswith("#")]


def note(store: SqlStore, number: int) -> None:
    """What a message leaves behind, a value in every sealed column."""
    with store.work() as work:
        work.record(Inbound(CHAT, "telegram:1", number, f"typed {number}", False, NOW))
        loaded = work.load(CHAT) or work.open(CHAT, at=NOW)
        fact = BodyWeighed(Decimal(60 + number))
        entry = Entry(len(loaded.entries) + 1, number, NOW, date(2026, 3, 2), fact)
        work.append(loaded.athlete_id, [entry])
        work.keep_talk(loaded.athlete_id, f'{{"silent":{number}}}')
        message = Outgoing("answer", f"told {number}", (Button("why", f"why {number}"),))
        work.queue(loaded.athlete_id, [message], at=NOW)


def read(engine: Engine, seal: Seal) -> tuple[object, ...]:
    """All that was noted, as it reads with these keys; nothing of it comes from memory."""
    store = SqlStore(engine, lambda: seal)
    with store.read() as work:
        loaded = work.load(CHAT)
        assert loaded is not None
        texts = [inbound.text for inbound in work.waiting(9999)]
    with engine.begin() as connection:
        rows = connection.execute(text("SELECT athlete_id, text, buttons FROM outbox ORDER BY id"))
        told = [
            tuple(
                seal.open(value, owner=f"athlete:{row.athlete_id}", place=f"outbox.{name}")
                for name, value in (("text", row.text), ("buttons", row.buttons))
            )
            for row in rows
        ]
    return loaded.entries, loaded.talk, texts, told


def test_make_sealed_new_database_takes_the_key_and_only_that(engine: Engine) -> None:
    assert not is_sealed(engine)
    with pytest.raises(BadSettings, match="weeknight migrate"):
        check_keys(engine, given(OLD))
    make_sealed(engine, given(OLD))
    assert is_sealed(engine)
    assert check_keys(engine, given(OLD)).ids == (OLD.id,)
    for keys in (given(NEW), GivenKeys(new_key().text, named="WEEKNIGHT_KEY")):
        with pytest.raises(BadSettings, match=f"sealed with key {OLD.id}.*WEEKNIGHT_KEY"):
            make_sealed(engine, keys)


def test_make_sealed_makes_a_key_file_for_a_new_database_only(
    engine: Engine, tmp_path: Path
) -> None:
    make_sealed(engine, KeyFile(tmp_path / "first"))
    assert (tmp_path / "first").exists()
    with pytest.raises(BadSettings, match="cannot be read"):
        make_sealed(engine, KeyFile(tmp_path / "second"))
    assert not (tmp_path / "second").exists()


def test_make_sealed_key_with_the_same_id_and_another_secret_is_refused(
    engine: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_sealed(engine, given(OLD))
    same = OLD.id
    monkeypatch.setattr(Key, "id", property(lambda _: same))
    with pytest.raises(BadSettings, match="is not the one"):
        make_sealed(engine, given(NEW))


def test_make_sealed_by_several_at_once_is_done_once(engine: Engine) -> None:
    threads = [threading.Thread(target=make_sealed, args=(engine, given(OLD))) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert check_keys(engine, given(OLD)).newest == OLD.id
    with engine.begin() as connection:
        assert connection.execute(text("SELECT count(*) FROM sealing")).scalar() == 1


def test_rotate_with_a_file_adds_a_key_and_seals_everything_with_it(
    engine: Engine, tmp_path: Path
) -> None:
    keys = key_file(tmp_path / "key", OLD)
    make_sealed(engine, keys)
    for number in range(3):
        note(SqlStore(engine, keys.ring), number)
    before = read(engine, Ring([OLD]))
    done = rotate(engine, keys)
    ids = keys.ring().ids
    assert (done.newest, done.old, done.left) == (ids[0], (OLD.id,), 0)
    assert ids[1:] == (OLD.id,)
    # By hand: a state of talk, and 3 times a fact, a text that came in and 3 parts of an answer.
    assert seals_by_key(engine) == {done.newest: 1 + 3 * 5}
    # The old key may go: what is left opens with the new one alone.
    assert read(engine, make_sealed(engine, given(*in_file(keys)[:1]))) == before


def test_rotate_with_given_keys_waits_for_a_person_then_goes_on(engine: Engine) -> None:
    make_sealed(engine, given(OLD))
    note(SqlStore(engine, given(OLD).ring), 1)
    before = read(engine, Ring([OLD]))
    with pytest.raises(BadSettings, match=r"WEEKNIGHT_KEY.*in front"):
        rotate(engine, given(OLD))
    assert seals_by_key(engine) == {OLD.id: 6}
    done = rotate(engine, given(NEW, OLD))
    assert (done.newest, done.old, done.left) == (NEW.id, (OLD.id,), 0)
    assert read(engine, make_sealed(engine, given(NEW))) == before


def test_rotate_stopped_half_way_reads_as_before_and_goes_on(
    engine: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keys = key_file(tmp_path / "key", OLD)
    make_sealed(engine, keys)
    for number in range(7):
        note(SqlStore(engine, keys.ring), number)
    before = read(engine, keys.ring())
    monkeypatch.setattr(sealing, "BATCH", 2)
    batches = 0
    whole = sealing._batch

    def stopping(*words: object, **named: object) -> object:
        nonlocal batches
        batches += 1
        if batches == 5:
            raise KeyboardInterrupt
        return whole(*words, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(sealing, "_batch", stopping)
    with pytest.raises(KeyboardInterrupt):
        rotate(engine, keys)
    ids = keys.ring().ids
    assert len(ids) == 2
    assert set(seals_by_key(engine)) == set(ids)
    assert read(engine, make_sealed(engine, keys)) == before
    with pytest.raises(BadSettings, match=OLD.id):
        make_sealed(engine, given(*in_file(keys)[:1]))
    done = rotate(engine, keys)
    assert keys.ring().ids == ids, "it goes on with the key it began with"
    assert (done.newest, done.old, done.left) == (ids[0], (OLD.id,), 0)
    assert read(engine, keys.ring()) == before


def test_rotate_while_others_write_loses_nothing(engine: Engine, tmp_path: Path) -> None:
    keys = key_file(tmp_path / "key", OLD)
    make_sealed(engine, keys)
    store = SqlStore(engine, KeyFile(tmp_path / "key").ring)
    note(store, 0)
    enough, troubles = threading.Event(), []
    written = [0]

    def write() -> None:
        try:
            while not enough.is_set() and written[0] < 500:
                with contextlib.suppress(StoreAway):  # as for a message: the next try says it
                    note(store, written[0] + 1)
                    written[0] += 1
        except Exception as error:
            troubles.append(error)

    writer = threading.Thread(target=write)
    writer.start()
    try:
        while written[0] < 3 and writer.is_alive():
            pass
        done = rotate(engine, keys)
    finally:
        enough.set()
        writer.join(60)
    assert not troubles
    assert done.left == 0
    assert set(seals_by_key(engine)) == {done.newest}
    entries, _, texts, _ = read(engine, keys.ring())
    assert [entry.fact.kg for entry in entries] == [60 + n for n in range(written[0] + 1)]  # type: ignore[attr-defined]
    assert texts == [f"typed {n}" for n in range(written[0] + 1)]


def test_rotate_says_what_a_program_with_the_old_key_goes_on_writing(
    engine: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_sealed(engine, given(OLD))
    late = SqlStore(engine, given(OLD, NEW).ring)  # knows the new key, but writes with the old
    note(late, 0)
    numbers = iter(range(1, 9))
    whole = key_use.reseal

    def meanwhile(engine: Engine, ring: Ring) -> None:
        whole(engine, ring)
        note(late, next(numbers))

    monkeypatch.setattr(key_use, "reseal", meanwhile)
    done = rotate(engine, given(NEW, OLD))
    assert done.left == 6  # all that one message leaves, its state of talk included
    check_keys(engine, given(NEW, OLD))
    with pytest.raises(BadSettings, match=OLD.id):
        check_keys(engine, given(NEW))


def test_patiently_outwaits_another_that_holds_the_lock_of_sqlite(tmp_path: Path) -> None:
    engine = make_engine(f"sqlite:///{tmp_path / 'held.db'}")
    event.listen(engine, "connect", lambda raw, _: raw.execute("PRAGMA busy_timeout = 10"))
    with engine.begin() as connection:
        connection.exec_driver_sql("CREATE TABLE fact (id INTEGER)")
    refused = threading.Event()
    event.listen(engine, "handle_error", lambda _: refused.set())
    holder = sqlite3.connect(tmp_path / "held.db", isolation_level=None, check_same_thread=False)
    holder.execute("BEGIN IMMEDIATE")

    def let_go() -> None:
        refused.wait(60)
        holder.execute("COMMIT")

    thread = threading.Thread(target=let_go)
    thread.start()
    with sealing.patiently(engine) as connection:
        connection.exec_driver_sql("INSERT INTO fact VALUES (7)")
    thread.join(60)
    assert refused.is_set()
    assert holder.execute("SELECT id FROM fact").fetchall() == [(7,)]
    holder.execute("BEGIN IMMEDIATE")
    with pytest.raises(OperationalError, match="locked"), sealing.patiently(engine):
        pass
    holder.close()
    engine.dispose()
