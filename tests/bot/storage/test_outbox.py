"""Who may send which message, when, and what becomes of it."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from sqlalchemy import select

from bot.ports import Button, Chat, MessageKind, Outgoing, Parcel
from bot.storage import SqlStore
from bot.storage.store import SqlWork
from bot.storage.tables import OUTBOX
from core.errors import Unknown
from core.target import Target, because

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
LEASE_S = 60.0
LATER = NOW + timedelta(seconds=LEASE_S)
LEASE = timedelta(seconds=LEASE_S)
KINDS: tuple[MessageKind, ...] = ("answer", "question", "timer", "reminder", "follow-up", "digest")


def opened(work: SqlWork, chat_id: int) -> int:
    return work.open(Chat("telegram", chat_id), at=NOW).athlete_id


def queued(work: SqlWork, athlete_id: int, *kinds: MessageKind) -> None:
    work.queue(athlete_id, [Outgoing(kind, kind) for kind in kinds], at=NOW)


def claim(work: SqlWork, *, now: datetime = NOW, limit: int = 10) -> tuple[Parcel, ...]:
    return work.claim_parcels("telegram", now=now, limit=limit, lease_s=LEASE_S)


def kinds_of(parcels: Sequence[Parcel]) -> list[str]:
    return [parcel.message.kind for parcel in parcels]


def fate(store: SqlStore, parcel_id: int) -> tuple[str, str | None]:
    with store.read() as work:
        query = select(OUTBOX.c.state, OUTBOX.c.why).where(OUTBOX.c.id == parcel_id)
        state, why = work._connection.execute(query).one()
        return state, why


def test_claim_gives_the_message_as_it_was_queued(store: SqlStore) -> None:
    target = Target(
        "half-crimp", "left", 20, 4, None, 10, (), Decimal("22.50"), (Decimal("10"),), Decimal(1),
        None, None, 120, "up", (because("two-steps", step_kg=Decimal("0.50")),),
    )  # fmt: skip
    message = Outgoing("answer", "Left 22.5 kg 🧗", (Button("Start", "start"),), (target,))
    with store.work() as work:
        work.queue(opened(work, 2**52 - 1), [message], at=NOW)
        (parcel,) = claim(work)
    assert parcel.message == message
    assert parcel.chat == Chat("telegram", 2**52 - 1)
    assert (parcel.attempts, parcel.doubts, parcel.queued_at) == (0, 0, NOW)


def test_claim_one_per_chat_oldest_first_until_it_is_sent(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "reminder", "answer")
        (first,) = claim(work)
        assert first.message.kind == "reminder"
        assert claim(work) == ()
        work.sent(first.id, at=NOW, message_id=77)
        assert kinds_of(claim(work)) == ["answer"]


def test_claim_answers_before_reminders_before_digests(store: SqlStore) -> None:
    order: list[MessageKind] = [
        "digest", "follow-up", "reminder", "timer", "question", "answer",
    ]  # fmt: skip
    with store.work() as work:
        for chat_id, kind in enumerate(order, 1):
            queued(work, opened(work, chat_id), kind)
        assert kinds_of(claim(work, limit=2)) == ["timer", "question"]
        assert kinds_of(claim(work)) == ["answer", "follow-up", "reminder", "digest"]


def test_claim_other_adapters_messages_stay(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, work.open(Chat("terminal", 1), at=NOW).athlete_id, "answer")
        assert claim(work) == ()


def test_claim_not_before_its_time(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "answer", "answer")
        (parcel,) = claim(work)
        work.retry(parcel.id, at=NOW + timedelta(seconds=5), why="busy")
        # The second answer waits too: messages of one chat keep their order.
        assert claim(work, now=NOW + timedelta(seconds=4)) == ()
        (again,) = claim(work, now=NOW + timedelta(seconds=5))
    assert (again.id, again.attempts, again.doubts) == (parcel.id, 1, 0)


@pytest.mark.parametrize("kind", KINDS)
def test_claim_lease_ran_out_is_taken_again_as_one_in_doubt(
    store: SqlStore, kind: MessageKind
) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), kind)
        (first,) = claim(work)
        assert claim(work, now=LATER - timedelta(seconds=1)) == ()
        (again,) = claim(work, now=LATER)
        assert (again.id, again.attempts, again.doubts) == (first.id, 1, 1)
        # The second holder died too, but before it called the service: nothing new can have
        # arrived, so there is no more doubt than before.
        (third,) = claim(work, now=LATER + LEASE)
    assert (third.id, third.doubts) == (first.id, 1)


@pytest.mark.parametrize("kind", KINDS)
def test_claim_two_tries_may_have_arrived_is_uncertain(store: SqlStore, kind: MessageKind) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), kind, "answer")
        (first,) = claim(work)
        claim(work, now=LATER)
        work.calling(first.id)
        # What waited behind it goes in the same claim: a sender that finds nothing stops.
        assert kinds_of(claim(work, now=LATER + LEASE)) == ["answer"]
    assert fate(store, first.id) == ("given-up", "uncertain")


def test_calling_and_refused_is_no_new_doubt(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "answer")
        (first,) = claim(work)
        claim(work, now=LATER)
        work.calling(first.id)
        work.retry(first.id, at=LATER, why="busy")
        (again,) = claim(work, now=LATER)
    assert (again.id, again.doubts) == (first.id, 1)


def test_renew_keeps_the_lease(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "reminder")
        (first,) = claim(work)
        work.renew([first.id], until=LATER + LEASE)
        assert claim(work, now=LATER) == ()
        assert len(claim(work, now=LATER + LEASE)) == 1


def test_claim_past_its_end_is_stale_and_what_waited_behind_goes(store: SqlStore) -> None:
    with store.work() as work:
        mine = opened(work, 1)
        work.queue(mine, [Outgoing("reminder", "tonight")], at=NOW, until=LATER)
        queued(work, mine, "answer")
        (first,) = claim(work)
        work.retry(first.id, at=NOW, why="busy")
        assert kinds_of(claim(work, now=LATER + LEASE)) == ["answer"]
    assert fate(store, first.id) == ("given-up", "stale")


def test_sent_after_the_lease_ran_out_still_counts(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "reminder")
        (parcel,) = claim(work)
        claim(work, now=LATER)
        work.sent(parcel.id, at=LATER, message_id=None)
    assert fate(store, parcel.id) == ("sent", None)


def test_retry_after_it_was_sent_changes_nothing(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "answer")
        (parcel,) = claim(work)
        work.sent(parcel.id, at=NOW, message_id=None)
        work.retry(parcel.id, at=NOW, why="busy")
        assert claim(work, now=LATER) == ()


def test_retry_maybe_sent_is_counted_as_a_doubt(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "answer")
        (parcel,) = claim(work)
        work.retry(parcel.id, at=NOW, why="maybe sent", maybe_sent=True)
        (again,) = claim(work)
    assert (again.attempts, again.doubts) == (1, 1)


def test_give_up_is_kept_with_the_reason(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "answer")
        (parcel,) = claim(work)
        work.give_up(parcel.id, at=NOW, why="too long")
        assert claim(work, now=LATER) == ()
        assert work.counts()["outbox"] == 0
    assert fate(store, parcel.id) == ("given-up", "too long")


def test_mark_gone_what_waits_is_given_up_and_others_go_on(store: SqlStore) -> None:
    with store.work() as work:
        queued(work, opened(work, 1), "answer", "reminder")
        queued(work, opened(work, 2), "reminder")
        work.mark_gone(Chat("telegram", 1), at=NOW)
        (parcel,) = claim(work)
    assert parcel.chat.chat_id == 2


@pytest.mark.parametrize("kind", ["reminder", "timer", "follow-up", "question", "digest"])
def test_queue_gone_chat_gets_nothing(store: SqlStore, kind: MessageKind) -> None:
    with store.work() as work:
        athlete_id = opened(work, 1)
        work.mark_gone(Chat("telegram", 1), at=NOW)
        queued(work, athlete_id, kind)
        assert work.counts()["outbox"] == 0


def test_queue_gone_chat_an_answer_brings_it_back(store: SqlStore) -> None:
    with store.work() as work:
        athlete_id = opened(work, 1)
        work.mark_gone(Chat("telegram", 1), at=NOW)
        queued(work, athlete_id, "question", "answer")
        queued(work, athlete_id, "reminder")
        assert work.counts()["outbox"] == 3


def test_queue_unknown_athlete_raises(store: SqlStore) -> None:
    with store.work() as work, pytest.raises(Unknown):
        queued(work, 1, "answer")
