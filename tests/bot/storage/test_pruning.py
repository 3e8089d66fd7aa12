"""What is over goes, what still tells something stays."""

from datetime import UTC, datetime, timedelta

from bot.ports import Chat, Due, Inbound, Outgoing
from bot.storage import SqlStore
from bot.storage.pruning import GIVEN_UP_KEPT, HEARD_KEPT, MOMENTS_KEPT, SENT_KEPT

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
CHAT = Chat("telegram", 1)
DAY = timedelta(days=1)


def inbound(number: int) -> Inbound:
    return Inbound(CHAT, "telegram:1", number, "hello", False, NOW)


def prune(store: SqlStore, after: timedelta, limit: int = 100) -> int:
    with store.work() as work:
        return work.prune(now=NOW + after, limit=limit)


def test_prune_messages_that_came_in_go_once_they_cannot_come_again(store: SqlStore) -> None:
    with store.work() as work:
        for number in (1, 2):
            work.record(inbound(number))
        work.handled(inbound(1), at=NOW)
    # The chat service delivers for a day; until then its number must be known.
    assert prune(store, DAY) == 0
    with store.work() as work:
        assert not work.record(inbound(1))
    assert prune(store, HEARD_KEPT + DAY) == 1
    with store.read() as work:
        assert work.waiting(9) == (inbound(2),)


def test_prune_sent_messages_go_before_those_given_up(store: SqlStore) -> None:
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        for fate in ("sent", "given up", "open"):
            work.queue(mine, [Outgoing("answer", fate)], at=NOW)
            if fate == "open":
                break
            (parcel,) = work.claim_parcels("telegram", now=NOW, limit=9, lease_s=60)
            if fate == "sent":
                work.sent(parcel.id, at=NOW, message_id=1)
            else:
                work.give_up(parcel.id, at=NOW, why="too long")
    assert prune(store, SENT_KEPT + DAY) == 1
    assert prune(store, GIVEN_UP_KEPT + DAY) == 1
    assert prune(store, 99 * DAY) == 0
    with store.read() as work:
        assert work.counts()["outbox"] == 1


def test_prune_moments_go_when_their_key_can_come_no_more(store: SqlStore) -> None:
    soon, far = Due("reminder", "a", NOW, NOW + DAY), Due("reminder", "b", NOW, NOW + 60 * DAY)
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        work.plan(mine, [soon, far, Due("reminder", "c", NOW + 90 * DAY, NOW + 91 * DAY)])
        for claimed in work.claim_due(now=NOW, limit=9, lease_s=60):
            work.finish_due(claimed.id, at=NOW, outcome="fired")
    assert prune(store, MOMENTS_KEPT) == 0
    assert prune(store, MOMENTS_KEPT + 2 * DAY) == 1
    with store.work() as work:
        work.plan(mine, [far])
        assert work.claim_due(now=NOW + DAY, limit=9, lease_s=60) == ()


def test_prune_in_bites_until_all_is_gone(store: SqlStore) -> None:
    with store.work() as work:
        for number in range(7):
            work.record(inbound(number))
            work.handled(inbound(number), at=NOW)
    assert [prune(store, HEARD_KEPT + DAY, limit=3) for _ in range(4)] == [3, 3, 1, 0]


def test_prune_forgets_turns_that_are_past(store: SqlStore) -> None:
    from sqlalchemy import func, select

    from bot.ports import SendLimits
    from bot.storage.tables import CHAT_TURN

    limits = SendLimits(30, 1, 3)
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        work.queue(mine, [Outgoing("answer", "a")], at=NOW)
        work.claim_turns("telegram", now=NOW, limit=9, lease_s=60, limits=limits)
    for after, left in ((timedelta(), 1), (DAY, 0)):
        prune(store, after)
        with store.read() as work:
            count = select(func.count()).select_from(CHAT_TURN)
            assert work._connection.execute(count).scalar_one() == left
