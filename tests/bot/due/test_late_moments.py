"""After a pause of the program: one message, not nine; nothing past its evening; the new zone."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.clock import HandClock
from bot.ports import Chat, Due, Inbound
from bot.service import Service
from bot.storage import SqlStore
from bot.storage.tables import DUE

MONDAY_NOON = datetime(2026, 11, 30, 12, tzinfo=UTC)
CHAT = Chat("telegram", 7)
HOUR = timedelta(hours=1)


class Talk:
    """One person's talk with a service on a hand clock."""

    def __init__(self, store: SqlStore) -> None:
        self.clock = HandClock(MONDAY_NOON)
        self.service = Service(store, self.clock)
        self._store = store
        self._number = 0
        for words in ("/start", "kg", "Europe/London", "tue thu fri 18:30 60 min", "bw 70"):
            self.says(words)
        self.heard()

    def says(self, words: str) -> None:
        self._number += 1
        inbound = Inbound(CHAT, "telegram:1", self._number, words, False, self.clock.now())
        self.service.keep([inbound])
        self.service.handle(inbound)

    def heard(self) -> list[str]:
        """The kinds of the messages since the last time."""
        kinds = []
        while True:
            with self._store.work() as work:
                taken = work.claim_parcels("telegram", now=self.clock.now(), limit=99, lease_s=60)
                for parcel in taken:
                    work.sent(parcel.id, at=self.clock.now(), message_id=None)
            if not taken:
                return kinds
            kinds += [parcel.message.kind for parcel in taken]

    def comes_back(self, at: datetime) -> list[str]:
        """The program runs again at that moment, and ticks until nothing is left to fire."""
        self.clock.set(at)
        while self.service.tick():
            pass
        return self.heard()

    def reminders(self) -> list[datetime]:
        """When reminders are planned."""
        with self._store.read() as work:
            query = DUE.select().where(DUE.c.done_at.is_(None), DUE.c.kind == "reminder")
            return sorted(row.at for row in work._connection.execute(query))


@pytest.fixture
def talk(store: SqlStore) -> Talk:
    return Talk(store)


def test_back_within_the_evening_reminds_once(talk: Talk) -> None:
    assert talk.comes_back(datetime(2026, 12, 1, 19, 10, tzinfo=UTC)) == ["reminder"]
    assert talk.comes_back(datetime(2026, 12, 1, 19, 20, tzinfo=UTC)) == []


def test_back_after_weeks_says_nothing_of_the_evenings_that_are_over(talk: Talk) -> None:
    # Nine evenings later, at noon of a day without one: Monday 21 December.
    assert talk.comes_back(datetime(2026, 12, 21, 12, tzinfo=UTC)) == []
    assert talk.reminders()[0] == datetime(2026, 12, 22, 18, 0, tzinfo=UTC)


def test_back_in_an_evening_after_weeks_says_one_thing(talk: Talk) -> None:
    assert talk.comes_back(datetime(2026, 12, 22, 18, 40, tzinfo=UTC)) == ["reminder"]


def test_nine_late_moments_of_one_athlete_are_one_message(talk: Talk, store: SqlStore) -> None:
    evening = datetime(2026, 12, 1, 18, 40, tzinfo=UTC)
    with store.work() as work:
        loaded = work.load(CHAT)
        assert loaded is not None
        late = [
            Due("reminder", f"later@{n}", evening - n * HOUR / 4, evening + HOUR) for n in range(9)
        ]
        work.plan(loaded.athlete_id, late)
    assert talk.comes_back(evening) == ["reminder"]


def test_failing_moment_is_tried_again_and_keeps_no_other(
    talk: Talk, store: SqlStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    import bot.service

    other = Chat("telegram", 8)
    with store.work() as work:
        mine = work.open(other, at=MONDAY_NOON).athlete_id
        at = datetime(2026, 12, 1, 18, 0, tzinfo=UTC)
        work.plan(mine, [Due("reminder", "broken", at - HOUR, at + HOUR)])
    come = bot.service.come

    def broken(loaded, due, *, now):
        if due.key == "broken":
            raise RuntimeError("one bad moment")
        return come(loaded, due, now=now)

    monkeypatch.setattr(bot.service, "come", broken)
    talk.clock.set(at)
    assert talk.service.tick() == 2
    assert talk.heard() == ["reminder"]
    monkeypatch.setattr(bot.service, "come", come)
    talk.clock.set(at + timedelta(seconds=bot.service.LEASE_S))
    assert talk.service.tick() == 1


@pytest.mark.parametrize(
    ("zone", "at"),
    [
        # By hand: 18:30 less the half hour before, by the zone's offset in December.
        ("Asia/Tokyo", datetime(2026, 12, 1, 9, 0, tzinfo=UTC)),
        ("America/New_York", datetime(2026, 12, 1, 23, 0, tzinfo=UTC)),
    ],
)
def test_move_to_another_zone_plans_anew(talk: Talk, zone: str, at: datetime) -> None:
    assert talk.reminders()[0] == datetime(2026, 12, 1, 18, 0, tzinfo=UTC)
    talk.says(f"zone {zone}")
    talk.heard()
    assert talk.reminders()[0] == at
    assert talk.comes_back(at - timedelta(minutes=1)) == []
    assert talk.comes_back(at) == ["reminder"]


def test_plans_over_clock_changes_keep_the_wall_clock(store: SqlStore) -> None:
    talk = Talk(store)
    # London goes to summer time on 28 March 2027: 18:00 is 18:00 UTC before, 17:00 after.
    talk.comes_back(datetime(2027, 3, 26, 20, tzinfo=UTC))
    assert talk.reminders()[0] == datetime(2027, 3, 30, 17, 0, tzinfo=UTC)
