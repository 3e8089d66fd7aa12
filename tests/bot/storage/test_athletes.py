"""Athletes and their records."""

from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal

import pytest

from bot.ports import Chat
from bot.storage import SqlStore
from core.errors import OutOfRange, Unknown
from core.facts import BodyWeighed, Entry, Fact, Logged, SetDone

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
CHAT = Chat("terminal", 1)
LOGGED = Logged(
    "half-crimp",
    20,
    (SetDone("both", Decimal("22.5"), hold_s=10, effort="ok"),),
    (),
    "ruhig 🧗",
    "",
)


def entry(number: int, fact: Fact = LOGGED) -> Entry:
    return Entry(number, 1, NOW, date(2026, 3, 2), fact)


def test_load_unknown_chat_is_none(store: SqlStore) -> None:
    with store.read() as work:
        assert work.load(CHAT) is None


def test_load_id_unknown_number_raises(store: SqlStore) -> None:
    with store.read() as work, pytest.raises(Unknown):
        work.load_id(1)


def test_open_new_chat_has_no_entries(store: SqlStore) -> None:
    with store.work() as work:
        opened = work.open(CHAT, at=NOW)
    assert (opened.chat, opened.entries, opened.talk) == (CHAT, (), "{}")
    with store.read() as work:
        assert work.load(CHAT) == work.load_id(opened.athlete_id) == opened


def test_open_twice_gives_the_same_athlete(store: SqlStore) -> None:
    with store.work() as work:
        first = work.open(CHAT, at=NOW)
    with store.work() as work:
        assert work.open(CHAT, at=NOW + timedelta(days=1)) == first


def test_open_same_number_elsewhere_is_another_athlete(store: SqlStore) -> None:
    wide = 2**52 - 1  # the largest number a chat service gives
    chats = (Chat("terminal", wide), Chat("telegram", wide))
    with store.work() as work:
        numbers = tuple(work.open(chat, at=NOW).athlete_id for chat in chats)
        assert work.athletes() == tuple(zip(numbers, chats, strict=True))


def test_append_facts_come_back_in_order_for_that_athlete_only(store: SqlStore) -> None:
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        other = work.open(Chat("terminal", 2), at=NOW).athlete_id
        work.append(mine, [entry(1), entry(2, BodyWeighed(Decimal("70.20")))])
        work.append(other, [entry(1)])
        work.append(mine, [entry(3)])
        work.append(mine, [])
    with store.read() as work:
        assert work.load_id(mine).entries == (
            entry(1),
            entry(2, BodyWeighed(Decimal("70.20"))),
            entry(3),
        )
        assert work.load_id(other).entries == (entry(1),)


def test_append_moment_of_another_zone_comes_back_in_utc(store: SqlStore) -> None:
    local = datetime(2026, 3, 2, 20, 30, tzinfo=timezone(timedelta(hours=2)))
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        work.append(mine, [Entry(1, 1, local, date(2026, 3, 2), LOGGED)])
        at = work.load_id(mine).entries[0].at
    assert at == local
    assert at.utcoffset() == timedelta(0)


@pytest.mark.parametrize("numbers", [[2], [1, 3], [1, 1], [0]])
def test_append_numbers_that_do_not_follow_on_are_refused(
    store: SqlStore, numbers: list[int]
) -> None:
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        with pytest.raises(OutOfRange):
            work.append(mine, [entry(number) for number in numbers])
        assert work.load_id(mine).entries == ()


def test_keep_talk_replaces_the_state(store: SqlStore) -> None:
    with store.work() as work:
        mine = work.open(CHAT, at=NOW).athlete_id
        work.keep_talk(mine, '{"asked": "zone"}')
        work.keep_talk(mine, '{"asked": "body"}')
    with store.read() as work:
        assert work.load_id(mine).talk == '{"asked": "body"}'
