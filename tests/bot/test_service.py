"""The service through its own door, on both databases: once each, together, and in order."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta

import pytest

from bot.clock import HandClock
from bot.counting import ReplyResult, Uncounted
from bot.delivery.showing import deliver_now
from bot.errors import StoreAway
from bot.ports import Chat, DueKind, Inbound, Parcel
from bot.service import SORRY, Service
from bot.storage import SqlStore

NOON = datetime(2026, 12, 1, 11, 0, tzinfo=UTC)
ROSALIND = Chat("terminal", 1)
TOBIAS = Chat("terminal", 2)


class Talk:
    """Types for people and collects what they are told."""

    def __init__(self, store: SqlStore) -> None:
        self.clock = HandClock(NOON)
        self.store = store
        self.service = Service(store, self.clock)
        self.count = 0

    def inbound(self, text: str, chat: Chat = ROSALIND, number: int | None = None) -> Inbound:
        self.count += 1
        return Inbound(chat, "test", number or self.count, text, False, self.clock.now())

    def types(self, *texts: str, chat: Chat = ROSALIND) -> list[str]:
        for text in texts:
            for kept in self.service.keep([self.inbound(text, chat)]):
                self.service.handle(kept)
        return [p.message.text for p in self.shown()]

    def shown(self) -> list[Parcel]:
        parcels: list[Parcel] = []
        deliver_now(self.store, "terminal", parcels.append, now=self.clock.now())
        return parcels

    def wait(self, **time: float) -> list[str]:
        self.clock.set(self.clock.now() + timedelta(**time))
        while self.service.tick():
            pass
        return [p.message.text for p in self.shown()]


@pytest.fixture
def talk(store: SqlStore) -> Iterator[Talk]:
    return Talk(store)


def test_the_same_update_twice_counts_once(talk: Talk) -> None:
    first = talk.inbound("crimp 4x22kg ok", number=7)
    again = talk.inbound("crimp 4x22kg ok", number=7)
    for kept in talk.service.keep([first, again]):
        talk.service.handle(kept)
    talk.service.handle(first)
    assert talk.service.keep([first]) == ()
    assert len(talk.service.athlete(ROSALIND).logs) == 1


def test_what_was_kept_and_not_handled_is_found_again(talk: Talk) -> None:
    kept = talk.service.keep([talk.inbound("crimp 4x22kg ok"), talk.inbound("next")])
    assert talk.service.waiting() == kept
    for inbound in talk.service.waiting():
        talk.service.handle(inbound)
    assert talk.service.waiting() == ()
    assert len(talk.service.athlete(ROSALIND).logs) == 1


def test_processes_that_keep_in_turn_answer_one_chat_in_order(talk: Talk) -> None:
    services = [Service(talk.store, talk.clock) for _ in range(3)]
    texts = ["units lb", *(f"crimp {load}lb ok" for load in range(20, 60))]
    kept = [
        inbound
        for number, text in enumerate(texts)
        for inbound in services[number % 3].keep([talk.inbound(text)])
    ]
    # Each process answers what it kept itself, newest first: as wrong as it can be.
    with ThreadPoolExecutor(3) as pool:
        for future in [
            pool.submit(lambda n=n: [services[n].handle(each) for each in reversed(kept[n::3])])
            for n in range(3)
        ]:
            future.result()
    logs = talk.service.athlete(ROSALIND).logs
    loads = [float(log.log.sets[0].load_kg or 0) for log in logs]
    assert len(loads) == 40
    assert loads == sorted(loads)
    assert talk.service.waiting() == ()


def test_nobody_sees_another_ones_record(talk: Talk) -> None:
    talk.types("plates 2x10 2x5", "crimp 4x15kg ok")
    said = talk.types("progress crimp", "kit", "undo", chat=TOBIAS)
    assert not any("15 kg" in text or "2x10" in text for text in said)
    assert len(talk.service.athlete(ROSALIND).logs) == 1


def test_a_failing_answer_leaves_nothing_behind_but_an_apology(
    talk: Talk, monkeypatch: pytest.MonkeyPatch
) -> None:
    talk.types("crimp 4x20kg ok")

    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("made to fail")

    with monkeypatch.context() as patch:
        patch.setattr("bot.service.hear", broken)
        assert talk.types("crimp 4x22kg ok") == [SORRY]
    assert len(talk.service.athlete(ROSALIND).logs) == 1
    assert talk.service.waiting() == ()
    assert talk.types("crimp 4x22kg ok")


def test_a_store_that_is_away_leaves_the_message_to_be_answered_later(
    talk: Talk, monkeypatch: pytest.MonkeyPatch
) -> None:
    (kept,) = talk.service.keep([talk.inbound("crimp 4x22kg ok")])

    def away(*_: object, **__: object) -> None:
        raise StoreAway("made to fail")

    with monkeypatch.context() as patch:
        patch.setattr("bot.storage.store.SqlWork.handled", away)
        with pytest.raises(StoreAway):
            talk.service.handle(kept)
    assert talk.shown() == []
    assert talk.service.waiting() == (kept,)
    talk.service.handle(kept)
    assert len(talk.service.athlete(ROSALIND).logs) == 1


class Count(Uncounted):
    """Keeps what is counted."""

    def __init__(self) -> None:
        self.counted: list[tuple[str, ...]] = []

    def replied(self, result: ReplyResult, *, took_s: float) -> None:
        assert took_s > 0
        self.counted.append((result,))

    def fired(self, kind: DueKind, *, late_s: float, dropped: bool) -> None:
        self.counted.append((kind, f"{late_s:g} s", "dropped" if dropped else "fired"))


def test_replies_and_moments_are_counted_by_what_became_of_them(
    talk: Talk, monkeypatch: pytest.MonkeyPatch
) -> None:
    count = Count()
    talk.service = Service(talk.store, talk.clock, counting=count)
    talk.types("zone Europe/Oslo", "evenings tue thu 20:30 60 min", "xyzzy")
    talk.wait(hours=8, seconds=2)  # the reminder is for 20:00 in Oslo
    with monkeypatch.context() as patch:
        patch.setattr("bot.service.hear", lambda *_, **__: 1 / 0)
        talk.types("next")
    assert count.counted == [
        ("understood",),
        ("understood",),
        ("misread",),
        ("reminder", "2 s", "fired"),
        ("failed",),
    ]


def test_a_reminder_comes_once_at_its_time(talk: Talk) -> None:
    talk.types("zone Europe/Oslo", "evenings tue thu 20:30 60 min")
    assert talk.wait(hours=7, minutes=59) == []  # 19:59 in Oslo
    reminded = talk.wait(minutes=1)
    assert len(reminded) == 1
    assert reminded[0].startswith("Tonight at 20:30.")
    assert talk.wait(seconds=1) == []


def test_a_reminder_whose_evening_has_ended_is_dropped(talk: Talk) -> None:
    talk.types("zone Europe/Oslo", "evenings tue thu 20:30 60 min")
    # The process slept through the evening: by hand, 21:31 in Oslo is 9 h 31 min after noon.
    assert talk.wait(hours=9, minutes=31) == []
    # And the next one stands.
    talk.clock.set(datetime(2026, 12, 3, 18, 59, tzinfo=UTC))
    talk.wait(seconds=0)
    assert any("Tonight at 20:30" in text for text in talk.wait(minutes=1))


def test_after_long_downtime_only_what_still_matters_is_said(talk: Talk) -> None:
    talk.types("zone Europe/Oslo", "evenings mon tue wed thu fri sat sun 20:30 60 min")
    said = talk.wait(days=9, hours=1)
    assert len(said) <= 1


def test_changing_zone_moves_the_reminder(talk: Talk) -> None:
    talk.types("zone Europe/Oslo", "evenings tue 20:30", "zone America/New_York")
    assert talk.wait(hours=8) == []
    # By hand: 20:00 in New York is 01:00 UTC, 14 hours after 11:00 UTC.
    assert len(talk.wait(hours=6)) == 1


def test_two_silent_evenings_are_asked_about_once_then_it_is_quiet(talk: Talk) -> None:
    talk.types("zone Europe/Oslo", "evenings tue thu 18:00 60 min")
    said: list[str] = []
    for _ in range(21 * 24):
        said += talk.wait(hours=1)
    kinds = [text.split(".")[0] for text in said]
    assert [k for k in kinds if k.startswith("Nothing logged")] == ["Nothing logged for Tue 1 Dec"]
    assert sum("Do they still fit?" in text for text in said) == 1
    assert sum(text.startswith("Your evening, from 18:00") for text in said) == 2
    assert talk.types("back")
    assert any("Warm-up" in text for _ in range(72) for text in talk.wait(hours=1))


def test_a_rest_calls_the_next_set_on_time(talk: Talk) -> None:
    talk.types("plates 2x10 2x5 2x2.5 2x1.25", "start crimp 20kg", "start", "ok")
    assert talk.wait(seconds=119) == []
    assert talk.wait(seconds=1)[0].startswith("Rest over. Half crimp, set 2 of 4")
    assert talk.wait(minutes=5) == []
