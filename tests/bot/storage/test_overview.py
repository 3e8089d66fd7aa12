"""How far behind the work is."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from bot.ports import Chat, Due, Inbound, Outgoing, QueueState
from bot.storage import SqlStore
from bot.storage.overview import given_up, queue_state

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
CHAT = Chat("telegram", 7)


def test_queue_state_of_an_empty_store(engine: Engine) -> None:
    assert queue_state(engine, now=NOW) == QueueState()


def test_queue_state_counts_what_waits_and_since_when(engine: Engine, store: SqlStore) -> None:
    earlier, later = NOW - timedelta(minutes=3), NOW + timedelta(minutes=3)
    with store.work() as work:
        for number, at in ((1, NOW), (2, earlier)):
            work.record(Inbound(CHAT, "telegram:4242", number, "next", False, at))
        mine = work.open(CHAT, at=NOW).athlete_id
        work.queue(mine, [Outgoing("answer", "a")], at=earlier)
        work.queue(mine, [Outgoing("answer", "b")], at=NOW)
        work.plan(mine, [Due("reminder", "a", earlier, NOW), Due("reminder", "b", later, later)])
    assert queue_state(engine, now=NOW) == QueueState(2, earlier, 2, earlier, 1, earlier)


def test_given_up_lately_by_reason_the_most_frequent_first(engine: Engine, store: SqlStore) -> None:
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        work.queue(mine, [Outgoing("reminder", "a")] * 4, at=NOW)
        for parcel_id, why, at in (
            (1, "stale", NOW),
            (2, "uncertain", NOW),
            (3, "uncertain", NOW),
            (4, "stale", NOW - timedelta(days=2)),
        ):
            work.give_up(parcel_id, at=at, why=why)
    since = NOW - timedelta(days=1)
    assert given_up(engine, since=since) == (("uncertain", 2), ("stale", 1))
