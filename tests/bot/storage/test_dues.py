"""Planned moments: one key fires once."""

from datetime import UTC, datetime, timedelta

from bot.ports import Chat, ClaimedDue, Due
from bot.storage import SqlStore
from bot.storage.store import SqlWork

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
HOUR = timedelta(hours=1)
LEASE_S = 60.0
LATER = NOW + timedelta(seconds=LEASE_S)


def due(key: str, at: datetime = NOW) -> Due:
    return Due("reminder", key, at, at + 2 * HOUR)


def opened(work: SqlWork, chat_id: int = 1) -> int:
    return work.open(Chat("telegram", chat_id), at=NOW).athlete_id


def claim(work: SqlWork, now: datetime = NOW, limit: int = 10) -> tuple[ClaimedDue, ...]:
    return work.claim_due(now=now, limit=limit, lease_s=LEASE_S)


def test_claim_due_oldest_first_and_nothing_early(store: SqlStore) -> None:
    with store.work() as work:
        mine = opened(work)
        planned = [due("c", NOW + HOUR), due("b"), due("a", NOW - HOUR)]
        work.plan(mine, planned)
        assert work.next_due_at() == NOW - HOUR
        assert [(c.athlete_id, c.due) for c in claim(work)] == [
            (mine, planned[2]),
            (mine, planned[1]),
        ]
        assert claim(work) == ()


def test_claim_due_takes_no_more_than_the_limit(store: SqlStore) -> None:
    with store.work() as work:
        work.plan(opened(work), [due(str(n)) for n in range(5)])
        assert [len(claim(work, limit=3)) for _ in range(3)] == [3, 2, 0]


def test_claim_due_lease_ran_out_is_claimed_again_at_its_planned_moment(store: SqlStore) -> None:
    with store.work() as work:
        work.plan(opened(work), [due("a")])
        (first,) = claim(work)
        assert work.next_due_at() == LATER
        assert claim(work, LATER - timedelta(seconds=1)) == ()
        assert claim(work, LATER) == (first,)
        assert first.due == due("a")


def test_claim_due_past_its_until_is_given_for_dropping(store: SqlStore) -> None:
    with store.work() as work:
        work.plan(opened(work), [due("a")])
        (late,) = claim(work, NOW + 5 * HOUR)
        assert late.due.until < NOW + 5 * HOUR
        work.finish_due(late.id, at=NOW + 5 * HOUR, outcome="dropped")
        assert claim(work, NOW + 9 * HOUR) == ()


def test_finish_due_fires_once_however_often_it_is_planned(store: SqlStore) -> None:
    with store.work() as work:
        mine = opened(work)
        work.plan(mine, [due("a")])
        (claimed,) = claim(work)
        work.finish_due(claimed.id, at=NOW, outcome="fired")
        work.plan(mine, [due("a", NOW + HOUR)])
        assert claim(work, NOW + 2 * HOUR) == ()
        assert work.next_due_at() is None


def test_plan_makes_the_pending_ones_exactly_these(store: SqlStore) -> None:
    with store.work() as work:
        mine = opened(work)
        work.plan(mine, [due("stays"), due("moves"), due("goes")])
        wanted = [due("stays"), due("moves", NOW + HOUR), due("comes")]
        work.plan(mine, wanted)
        claimed = claim(work, NOW + HOUR)
    assert sorted((c.due for c in claimed), key=lambda d: d.key) == [
        due("comes"),
        due("moves", NOW + HOUR),
        due("stays"),
    ]


def test_plan_tells_kinds_apart_and_leaves_other_athletes_alone(store: SqlStore) -> None:
    timer = Due("timer", "a", NOW, NOW + HOUR)
    with store.work() as work:
        mine, other = opened(work), opened(work, 2)
        work.plan(mine, [timer, due("a")])
        work.plan(other, [due("a")])
        work.plan(mine, [timer])
        assert [(c.athlete_id, c.due.kind) for c in claim(work)] == [
            (mine, "timer"),
            (other, "reminder"),
        ]


def test_plan_the_same_again_keeps_a_running_lease(store: SqlStore) -> None:
    with store.work() as work:
        mine = opened(work)
        work.plan(mine, [due("a")])
        claim(work)
        work.plan(mine, [Due("reminder", "a", NOW, NOW + 3 * HOUR)])
        assert claim(work) == ()
        (again,) = claim(work, LATER)
    assert again.due.until == NOW + 3 * HOUR


def test_plan_without_a_claimed_one_never_lets_its_key_fire_again(store: SqlStore) -> None:
    # Firing re-plans in the transaction that finishes the moment, and the plan holds
    # only what is still to come.
    with store.work() as work:
        mine = opened(work)
        work.plan(mine, [due("a")])
        (claimed,) = claim(work)
        work.plan(mine, [due("b", NOW + HOUR)])
        work.finish_due(claimed.id, at=NOW, outcome="fired")
        work.plan(mine, [due("a"), due("b", NOW + HOUR)])
        assert [c.due.key for c in claim(work, NOW + HOUR)] == ["b"]


def test_plan_called_off_before_it_is_claimed_may_be_planned_again(store: SqlStore) -> None:
    with store.work() as work:
        mine = opened(work)
        work.plan(mine, [due("a")])
        work.plan(mine, [])
        assert work.next_due_at() is None
        work.plan(mine, [due("a")])
        assert [c.due for c in claim(work)] == [due("a")]


def test_counts_what_waits(store: SqlStore) -> None:
    with store.work() as work:
        assert work.counts() == {"inbox": 0, "outbox": 0, "due": 0}
        work.plan(opened(work), [due("a"), due("b")])
        (first, _) = claim(work)
        work.finish_due(first.id, at=NOW, outcome="fired")
        assert work.counts() == {"inbox": 0, "outbox": 0, "due": 1}


def test_claim_due_timers_first_however_late_the_others_are(store: SqlStore) -> None:
    with store.work() as work:
        work.plan(opened(work), [due("late", NOW - HOUR), Due("timer", "t", NOW, NOW + HOUR)])
        assert [c.due.key for c in claim(work, limit=1)] == ["t"]
        assert [c.due.key for c in claim(work)] == ["late"]


def test_finish_due_is_said_once_and_not_of_what_was_moved_to_later(store: SqlStore) -> None:
    with store.work() as work:
        mine = opened(work)
        work.plan(mine, [due("a"), due("b")])
        one, two = claim(work)
        assert work.finish_due(one.id, at=NOW, outcome="fired")
        # Another process, whose lease had run out, comes too late.
        assert not work.finish_due(one.id, at=LATER, outcome="fired")
        # A reply moved the other one between claim and firing.
        work.plan(mine, [due("b", NOW + HOUR)])
        assert not work.finish_due(two.id, at=NOW, outcome="fired")
        assert [c.due.key for c in claim(work, NOW + HOUR)] == ["b"]


def test_is_outdone_by_what_says_more_or_later(store: SqlStore) -> None:
    with store.work() as work:
        mine, other = opened(work), opened(work, 2)
        early, late = due("early", NOW - HOUR), due("late", NOW - HOUR / 2)
        asked = Due("follow-up", "f", NOW, NOW + HOUR)
        still_to_come = Due("timer", "t", NOW + HOUR, NOW + 2 * HOUR)
        over = Due("timer", "o", NOW - 3 * HOUR, NOW - 2 * HOUR)
        work.plan(mine, [early, late, asked, still_to_come, over])
        work.plan(other, [early])
        outdone = {
            (c.athlete_id == mine, c.due.key): work.is_outdone(c, now=NOW) for c in claim(work)
        }
    assert outdone == {
        (True, "early"): True,
        (True, "late"): False,
        (True, "f"): True,
        (True, "o"): False,  # past its time: dropped for that
        (False, "early"): False,
    }
