"""What came in is kept once and handled once."""

from dataclasses import replace
from datetime import UTC, datetime

from bot.ports import Chat, Inbound, Outgoing
from bot.storage import SqlStore

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
CHAT = Chat("telegram", 2**52 - 1)
FIRST = Inbound(CHAT, "telegram:12345", 2**40, "crimp 4x22kg ok", False, NOW)


def test_record_same_number_twice_is_kept_once(store: SqlStore) -> None:
    with store.work() as work:
        assert work.record(FIRST)
        assert not work.record(replace(FIRST, text="another text"))
    with store.work() as work:
        assert not work.record(FIRST)
        assert work.waiting(10) == (FIRST,)


def test_record_same_number_of_another_source_is_another(store: SqlStore) -> None:
    other = replace(FIRST, source="telegram:678")
    with store.work() as work:
        assert work.record(FIRST)
        assert work.record(other)
        assert work.waiting(10) == (FIRST, other)


def test_waiting_oldest_first_up_to_the_limit(store: SqlStore) -> None:
    # Numbers may begin anywhere after a quiet week: the order of keeping counts.
    kept = [replace(FIRST, update_id=number) for number in (9, 3, 5)]
    with store.work() as work:
        for inbound in kept:
            work.record(inbound)
        assert work.waiting(2) == tuple(kept[:2])


def test_handled_is_no_longer_waiting(store: SqlStore) -> None:
    second = replace(FIRST, update_id=1, pressed=True)
    with store.work() as work:
        work.record(FIRST)
        work.record(second)
        assert work.first_waiting(CHAT) == FIRST
        work.handled(FIRST, at=NOW)
        assert work.first_waiting(CHAT) == second
        assert work.waiting(10) == (second,)
        work.handled(second, at=NOW, problem="OutOfRange")
        assert work.waiting(10) == ()
        assert not work.record(FIRST)


def test_first_waiting_is_of_that_chat_alone(store: SqlStore) -> None:
    with store.work() as work:
        work.record(replace(FIRST, chat=Chat("telegram", 7)))
        assert work.first_waiting(CHAT) is None
        assert work.first_waiting(Chat("terminal", 7)) is None


def test_record_text_no_database_keeps_is_kept_without_it(store: SqlStore) -> None:
    # Refusing it would make the source send it again and again.
    with store.work() as work:
        assert work.record(replace(FIRST, text="a\0b\ud800"))
        (kept,) = work.waiting(1)
    assert kept.text.startswith("a\ufffdb\ufffd")


def test_record_from_a_gone_chat_makes_it_reachable_again(store: SqlStore) -> None:
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        work.mark_gone(CHAT, at=NOW)
        work.record(FIRST)
        work.queue(mine, [Outgoing("question", "When do you train?")], at=NOW)
        assert work.counts()["outbox"] == 1
