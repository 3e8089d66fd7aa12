"""Leases of a process that died."""

from datetime import UTC, datetime, timedelta

from bot.ports import Chat, Due, Outgoing
from bot.storage import SqlStore

NOON = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)
CHAT = Chat("telegram", 7)


def test_release_makes_claimed_answers_and_moments_claimable_at_once(store: SqlStore) -> None:
    with store.work() as work:
        athlete = work.open(CHAT, at=NOON)
        work.queue(athlete.athlete_id, [Outgoing("answer", "counted")], at=NOON)
        due = Due("reminder", "k", NOON, NOON + timedelta(hours=1))
        work.plan(athlete.athlete_id, [due])
        assert work.claim_parcels("telegram", now=NOON, limit=9, lease_s=120)
        assert work.claim_due(now=NOON, limit=9, lease_s=60)
    with store.work() as work:
        assert not work.claim_parcels("telegram", now=NOON, limit=9, lease_s=120)
        work.release("telegram", now=NOON)
        parcels = work.claim_parcels("telegram", now=NOON, limit=9, lease_s=120)
        assert [p.doubts for p in parcels] == [1]
        assert [c.due for c in work.claim_due(now=NOON, limit=9, lease_s=60)] == [due]


def test_release_leaves_other_adapters_alone(store: SqlStore) -> None:
    with store.work() as work:
        athlete = work.open(CHAT, at=NOON)
        work.queue(athlete.athlete_id, [Outgoing("answer", "counted")], at=NOON)
        assert work.claim_parcels("telegram", now=NOON, limit=9, lease_s=120)
        work.release("terminal", now=NOON)
        assert not work.claim_parcels("telegram", now=NOON, limit=9, lease_s=120)
