"""Turns to send: what an account may send is shared, whoever claims."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.ports import Chat, Claim, Outgoing, SendLimits
from bot.storage import SqlStore
from bot.storage.store import SqlWork
from bot.storage.turns import AHEAD, BEHIND

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
LIMITS = SendLimits(per_s=30, chat_per_s=1, chat_burst=3)
SECOND = timedelta(seconds=1)


def queue(work: SqlWork, chats: int, *, each: int = 1, kind: str = "reminder") -> None:
    for chat_id in range(chats):
        chat = Chat("telegram", chat_id)
        loaded = work.load(chat) or work.open(chat, at=NOW)
        work.queue(loaded.athlete_id, [Outgoing(kind, "hello")] * each, at=NOW)  # type: ignore[arg-type]


def claim(work: SqlWork, now: datetime, *, limit: int = 100, limits: SendLimits = LIMITS) -> Claim:
    return work.claim_turns("telegram", now=now, limit=limit, lease_s=60, limits=limits)


def drain(store: SqlStore, *, claimers: int, seconds: float, mark: bool = True) -> list[datetime]:
    """When messages go if so many claim in turn, each 20 ms after the last."""
    goes: list[datetime] = []
    now = NOW
    while now < NOW + seconds * SECOND:
        for _ in range(claimers):
            with store.work() as work:
                for parcel in claim(work, now).parcels:
                    assert parcel.goes_at is not None
                    goes.append(max(parcel.goes_at, now))
                    if mark:
                        work.sent(parcel.id, at=now, message_id=None)
            now += timedelta(milliseconds=20)
    return sorted(goes)


@pytest.mark.parametrize("claimers", [1, 3])
def test_claim_turns_gives_the_accounts_rate_however_many_claim(
    store: SqlStore, claimers: int
) -> None:
    with store.work() as work:
        queue(work, 200)
    goes = drain(store, claimers=claimers, seconds=1.5)
    # by hand: 30/s for 1.5 s, and the turns of the last 0.2 s before and 0.1 s ahead: 45 + 6 + 3
    assert 45 <= len(goes) <= 45 + 6 + 3 + 1
    for index, first in enumerate(goes):
        within = sum(first <= other < first + SECOND for other in goes[index:])
        assert within <= 30 + 6 + 3 + 1


def test_claim_turns_spent_says_when_the_next_is(store: SqlStore) -> None:
    with store.work() as work:
        queue(work, 20)
        first = claim(work, NOW)
        # by hand: turns from 0.2 s before to 0.1 s ahead, 1/30 s apart: 10
        assert len(first.parcels) == 10
        assert first.again_at is not None
        assert abs(first.again_at - (NOW - BEHIND + SECOND / 3)) < timedelta(milliseconds=1)
        early = claim(work, first.again_at - AHEAD - timedelta(milliseconds=5))
        assert early == Claim((), first.again_at)
        assert len(claim(work, first.again_at).parcels) == 4


def test_claim_turns_nothing_waits_spends_nothing(store: SqlStore) -> None:
    with store.work() as work:
        for step in range(50):
            assert claim(work, NOW + step * SECOND) == Claim(())
        queue(work, 5)
        assert len(claim(work, NOW + 50 * SECOND).parcels) == 5


def test_claim_turns_one_chat_passes_a_burst_then_one_a_second(store: SqlStore) -> None:
    with store.work() as work:
        queue(work, 1, each=6, kind="answer")
    goes = drain(store, claimers=1, seconds=5)
    after = [(at - NOW) / SECOND for at in goes]
    # by hand: three at once (20 ms apart here, as they are claimed), then each a second after
    assert all(abs(a - b) < 0.15 for a, b in zip(after, [0, 0, 0, 1, 2, 3], strict=True)), after


def test_claim_turns_a_chatty_one_keeps_no_other_waiting_and_says_when_it_goes_on(
    store: SqlStore,
) -> None:
    with store.work() as work:
        queue(work, 1, each=5, kind="answer")
        for _ in range(3):
            (parcel,) = claim(work, NOW).parcels
            work.sent(parcel.id, at=NOW, message_id=None)
        waits = claim(work, NOW)
        # by hand: the fourth goes a second after the first; claims look 0.1 s ahead
        assert waits.parcels == ()
        assert waits.again_at is not None
        assert abs(waits.again_at - (NOW + SECOND - AHEAD)) < timedelta(milliseconds=210)
        queue(work, 3)
        taken = claim(work, NOW + SECOND / 2)
        assert sorted(p.chat.chat_id for p in taken.parcels) == [1, 2]


def test_hold_keeps_the_whole_account_silent_and_is_never_shortened(store: SqlStore) -> None:
    with store.work() as work:
        queue(work, 3)
        work.hold("telegram", until=NOW + 30 * SECOND)
        work.hold("telegram", until=NOW + 5 * SECOND)
        silent_until = NOW + 30 * SECOND
        assert claim(work, NOW + 29 * SECOND) == Claim((), silent_until=silent_until)
        work.hold("elsewhere", until=NOW + 99 * SECOND)
        assert len(claim(work, NOW + 30 * SECOND).parcels) == 3


def test_claim_turns_takes_no_more_than_the_limit(store: SqlStore) -> None:
    with store.work() as work:
        queue(work, 9)
        assert len(claim(work, NOW, limit=2).parcels) == 2


def test_claim_turns_says_what_was_given_up_on_the_way(store: SqlStore) -> None:
    with store.work() as work:
        mine = work.open(Chat("telegram", 1), at=NOW).athlete_id
        work.queue(mine, [Outgoing("reminder", "a")], at=NOW, until=NOW + SECOND)
        assert claim(work, NOW + 2 * SECOND) == Claim((), None, (("reminder", "stale"),))


@pytest.mark.parametrize("engine", ["postgresql"], indirect=True)  # SQLite has one writer
def test_claim_turns_of_two_at_the_same_time_share_the_turns(store: SqlStore) -> None:
    from concurrent.futures import ThreadPoolExecutor

    with store.work() as work:
        queue(work, 60)

    def take(_: int) -> int:
        with store.work() as work:
            return len(claim(work, NOW).parcels)

    with ThreadPoolExecutor(4) as pool:
        assert sum(pool.map(take, range(4))) == 10
