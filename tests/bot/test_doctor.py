"""What the doctor says of the queue."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.doctor import Finding, examine
from bot.ports import Chat, Inbound, Outgoing
from bot.storage import make_engine
from bot.storage.lease import POLLING, SqlLease, only_one
from bot.wiring import open_house

CHAT = Chat("telegram", 7)


def finding(url: str, about: str) -> Finding:
    (found,) = [each for each in examine(url) if each.about == about]
    return found


@pytest.fixture
def url(tmp_path: Path) -> str:
    url = f"sqlite:///{tmp_path / 'a.db'}"
    with open_house(url):
        return url


def test_examine_queue_that_keeps_up_is_well(url: str) -> None:
    with open_house(url) as house:
        now = house.clock.now()
        house.service.keep([Inbound(CHAT, "telegram:1", 1, "next", False, now)])
    found = finding(url, "queue")
    assert found.is_well
    assert found.text.startswith("waiting: to answer 1 (oldest")
    assert "to send 0, moments late 0" in found.text


def test_examine_queue_that_is_behind_says_what_to_look_at(url: str) -> None:
    with open_house(url) as house:
        at = house.clock.now() - timedelta(hours=1)
        house.service.keep([Inbound(CHAT, "telegram:1", 1, "next", False, at)])
    found = finding(url, "queue")
    assert not found.is_well
    assert "weeknight serve" in found.text


def test_examine_given_up_by_reason_without_what_was_said(url: str) -> None:
    now = datetime.now(UTC)
    with open_house(url) as house, house.store.work() as work:
        mine = work.open(CHAT, at=now).athlete_id
        work.queue(mine, [Outgoing("reminder", "planted words")], at=now)
        work.mark_gone(CHAT, at=now)
    found = finding(url, "given up")
    assert "gone 1" in found.text
    assert not any("planted" in each.text for each in examine(url))


def test_examine_serving_names_the_process_on_a_file(url: str) -> None:
    assert "nobody serves" in finding(url, "serving").text
    engine = make_engine(url)
    with only_one(engine):
        assert "process" in finding(url, "serving").text
    engine.dispose()


def test_examine_serving_names_the_holder_of_the_lease(postgres_database: str) -> None:
    with open_house(postgres_database) as house:
        assert "nobody polls" in finding(postgres_database, "serving").text
        lease = SqlLease(house.engine, POLLING)
        lease.take()
        assert "polled by" in finding(postgres_database, "serving").text
        lease.give_back()


def test_examine_database_away_is_one_line_and_no_more() -> None:
    found = examine("postgresql:///none?host=/nowhere/at/all")
    assert [each.is_well for each in found if each.about == "database"] == [False]
    assert not any(each.about == "queue" for each in found)
