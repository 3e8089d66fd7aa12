"""Transactions: all or nothing, and nothing lost between threads."""

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from bot.ports import Chat, Due, Inbound, Outgoing
from bot.storage import SqlStore
from core.facts import BodyWeighed, Entry

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
CHAT = Chat("telegram", 1)
INBOUND = Inbound(CHAT, "telegram:12345", 7, "70 kg", False, NOW)
WORKERS = 4


class Boom(Exception):
    pass


def entry(number: int) -> Entry:
    return Entry(number, number, NOW, date(2026, 3, 2), BodyWeighed(Decimal(number)))


def test_work_an_exception_takes_everything_back(store: SqlStore) -> None:
    def fail_at_the_end() -> None:
        with store.work() as work:
            mine = work.open(CHAT, at=NOW).athlete_id
            work.record(INBOUND)
            work.append(mine, [entry(1)])
            work.queue(mine, [Outgoing("answer", "noted")], at=NOW)
            work.plan(mine, [Due("reminder", "a", NOW, NOW)])
            raise Boom

    with pytest.raises(Boom):
        fail_at_the_end()
    with store.read() as work:
        assert work.load(CHAT) is None
        assert work.counts() == {"inbox": 0, "outbox": 0, "due": 0}


def test_work_of_threads_on_one_athlete_loses_nothing(store: SqlStore) -> None:
    rounds = 15
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        work.keep_talk(mine, "0")

    def log_often() -> None:
        for _ in range(rounds):
            with store.work() as work:
                loaded = work.load(CHAT)
                assert loaded is not None
                work.append(mine, [entry(len(loaded.entries) + 1)])
                work.keep_talk(mine, str(int(loaded.talk) + 1))

    with ThreadPoolExecutor(WORKERS) as pool:
        for future in [pool.submit(log_often) for _ in range(WORKERS)]:
            future.result()
    with store.read() as work:
        loaded = work.load_id(mine)
    assert loaded.talk == str(WORKERS * rounds)
    assert loaded.entries == tuple(entry(n) for n in range(1, WORKERS * rounds + 1))


def test_work_of_threads_handling_one_update_handles_it_once(store: SqlStore) -> None:
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        work.record(INBOUND)

    def handle() -> bool:
        with store.work() as work:
            if work.first_waiting(CHAT) is None:
                return False
            loaded = work.load_id(mine)
            work.append(mine, [entry(len(loaded.entries) + 1)])
            work.handled(INBOUND, at=NOW)
            return True

    with ThreadPoolExecutor(WORKERS) as pool:
        done = [future.result() for future in [pool.submit(handle) for _ in range(WORKERS)]]
    assert sorted(done) == [False] * (WORKERS - 1) + [True]
    with store.read() as work:
        assert len(work.load_id(mine).entries) == 1


def test_claims_of_threads_are_disjoint_and_complete(store: SqlStore) -> None:
    chats = 40
    with store.work() as work:
        for number in range(chats):
            mine = work.open(Chat("telegram", number), at=NOW).athlete_id
            work.queue(mine, [Outgoing("answer", "a"), Outgoing("answer", "b")], at=NOW)
            work.plan(mine, [Due("reminder", "a", NOW, NOW)])

    def claim_all() -> tuple[list[int], list[int]]:
        parcels: list[int] = []
        dues: list[int] = []
        while True:
            with store.work() as work:
                taken = work.claim_parcels("telegram", now=NOW, limit=3, lease_s=60)
                moments = work.claim_due(now=NOW, limit=3, lease_s=60)
            if not taken and not moments:
                return parcels, dues
            parcels += [parcel.chat.chat_id for parcel in taken]
            dues += [moment.id for moment in moments]

    with ThreadPoolExecutor(WORKERS) as pool:
        taken = [future.result() for future in [pool.submit(claim_all) for _ in range(WORKERS)]]
    # One parcel per chat: the second of each chat waits for the first to be sent.
    assert sorted(chat for parcels, _ in taken for chat in parcels) == list(range(chats))
    moments = [number for _, dues in taken for number in dues]
    assert len(moments) == len(set(moments)) == chats


@pytest.mark.parametrize("engine", ["postgresql"], indirect=True)  # SQLite has one writer
def test_claims_on_postgresql_do_not_wait_for_each_other(store: SqlStore) -> None:
    with store.work() as work:
        for number in range(2):
            mine = work.open(Chat("telegram", number), at=NOW).athlete_id
            work.queue(mine, [Outgoing("answer", "a")], at=NOW)
            work.plan(mine, [Due("reminder", "a", NOW, NOW)])
    with store.work() as one, store.work() as two:
        for work in (one, two):
            work._connection.exec_driver_sql("SET LOCAL lock_timeout = '2s'")
        parcels = [
            work.claim_parcels("telegram", now=NOW, limit=1, lease_s=60) for work in (one, two)
        ]
        dues = [work.claim_due(now=NOW, limit=1, lease_s=60) for work in (one, two)]
    assert [parcel.chat.chat_id for (parcel,) in parcels] == [0, 1]
    assert dues[0][0].id != dues[1][0].id


def test_read_sees_one_moment_while_others_write(store: SqlStore) -> None:
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
    with store.read() as reader:
        before = reader.load_id(mine)
        with store.work() as work:
            work.append(mine, [entry(1)])
        assert reader.load_id(mine) == before
    with store.read() as reader:
        assert reader.load_id(mine).entries == (entry(1),)
