"""Messages on a screen: in order, once, and again after a crash."""

from datetime import UTC, datetime

import pytest

from bot.delivery.showing import deliver_now
from bot.ports import Chat, Outgoing, Parcel
from bot.storage import SqlStore

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)


@pytest.fixture
def filled(store: SqlStore) -> SqlStore:
    with store.work() as work:
        mine = work.open(Chat("terminal", 1), at=NOW).athlete_id
        work.queue(mine, [Outgoing("answer", text) for text in "abc"], at=NOW)
        other = work.open(Chat("telegram", 1), at=NOW).athlete_id
        work.queue(other, [Outgoing("answer", "elsewhere")], at=NOW)
    return store


def test_deliver_now_shows_in_order_once(filled: SqlStore) -> None:
    shown: list[str] = []

    def show(parcel: Parcel) -> None:
        shown.append(parcel.message.text)

    assert deliver_now(filled, "terminal", show, now=NOW) == 3
    assert deliver_now(filled, "terminal", show, now=NOW) == 0
    assert shown == ["a", "b", "c"]


def test_deliver_now_process_died_while_showing_shows_the_answer_again(filled: SqlStore) -> None:
    class Died(BaseException):
        pass

    def die(parcel: Parcel) -> None:
        raise Died

    with pytest.raises(Died):
        deliver_now(filled, "terminal", die, now=NOW)
    shown: list[str] = []
    deliver_now(filled, "terminal", lambda parcel: shown.append(parcel.message.text), now=NOW)
    assert shown == ["a", "b", "c"]
