"""What updates mean."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from bot.adapters.telegram.inbound import Arrival, Membership, read_update
from bot.ports import Chat
from tests.double.bot_api import PHOTO, STICKER, VOICE

NOW = datetime(2026, 12, 1, 19, 0, 0, 600_000, tzinfo=UTC)
ADA = {"id": 7, "is_bot": False, "first_name": "Rosalind"}
PRIVATE = {"id": 7, "type": "private", "first_name": "Rosalind"}
GROUP = {"id": -5, "type": "group", "title": "Shed"}


def message(content: dict[str, Any], *, chat: Any = PRIVATE, at: datetime = NOW) -> dict[str, Any]:
    return {"message_id": 3, "date": int(at.timestamp()), "chat": chat, "from": ADA, **content}


def read(content: dict[str, Any]) -> Arrival | Membership | None:
    return read_update({"update_id": 11, **content}, bot_id=4242, now=NOW)


def text_of(content: dict[str, Any]) -> str:
    arrival = read({"message": message(content)})
    assert isinstance(arrival, Arrival)
    return arrival.inbound.text


def test_read_update_text_is_an_arrival() -> None:
    arrival = read({"message": message({"text": "crimp 4x22kg ok"})})
    assert isinstance(arrival, Arrival)
    assert arrival.press is None
    inbound = arrival.inbound
    assert (inbound.chat, inbound.source) == (Chat("telegram", 7), "telegram:4242")
    assert (inbound.update_id, inbound.text, inbound.pressed) == (11, "crimp 4x22kg ok", False)


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ("/tonight", "tonight"),
        ("/next@evening_companion_bot crimp", "next crimp"),
        ("/Start", "Start"),
        ("/start friend-42_A", "start"),
        ("/start@evening_companion_bot abc", "start"),
        ("/start crimp 20kg", "start crimp 20kg"),
        ("// sore today", "// sore today"),
        ("1/2", "1/2"),
        ("crimp /next", "crimp /next"),
    ],
)
def test_read_update_command_loses_its_slash(typed: str, text: str) -> None:
    assert text_of({"text": typed}) == text


@pytest.mark.parametrize("content", [PHOTO, VOICE, STICKER, {"something_new": {"id": 1}}])
def test_read_update_without_text_is_empty_text(content: dict[str, Any]) -> None:
    assert text_of(content) == ""


def test_read_update_caption_is_text() -> None:
    assert text_of({**PHOTO, "caption": "crimp 4x22kg ok"}) == "crimp 4x22kg ok"


@pytest.mark.parametrize(
    ("late", "at"),
    [
        # Dated in whole seconds: a fresh message is as of now, or it would precede a press
        # in the same second.
        (timedelta(0), NOW),
        (timedelta(hours=3), NOW.replace(microsecond=0) - timedelta(hours=3)),
        (timedelta(hours=-1), NOW),
    ],
)
def test_read_update_late_message_keeps_its_own_date(late: timedelta, at: datetime) -> None:
    arrival = read({"message": message({"text": "ok"}, at=NOW - late)})
    assert isinstance(arrival, Arrival)
    assert arrival.inbound.at == at


def test_read_update_press_is_the_text_behind_the_button() -> None:
    query = {"id": "77", "from": ADA, "chat_instance": "1", "data": "wall tonight"}
    arrival = read({"callback_query": {**query, "message": message({"text": "Tonight"})}})
    assert isinstance(arrival, Arrival)
    assert arrival.press == "77"
    assert (arrival.inbound.text, arrival.inbound.pressed, arrival.inbound.at) == (
        "wall tonight",
        True,
        NOW,
    )


def test_read_update_press_on_a_message_too_old_to_see_still_counts() -> None:
    old = {"message_id": 1, "date": 0, "chat": PRIVATE}
    query = {"id": "77", "from": ADA, "chat_instance": "1", "data": "start", "message": old}
    arrival = read({"callback_query": query})
    assert isinstance(arrival, Arrival)
    assert arrival.inbound.text == "start"


@pytest.mark.parametrize(
    "content",
    [
        {"message": message({"text": "ok"}, chat=GROUP)},
        {"edited_message": message({"text": "ok", "edit_date": 1})},
        {"message": message({"pinned_message": message({"text": "Tonight"})})},
        {"callback_query": {"id": "7", "from": ADA, "chat_instance": "1", "data": "start"}},
        {"channel_post": message({"text": "ok"}, chat=GROUP)},
        {},
    ],
)
def test_read_update_not_ours_is_nothing(content: dict[str, Any]) -> None:
    assert read(content) is None


@pytest.mark.parametrize(("status", "is_open"), [("kicked", False), ("member", True)])
def test_read_update_membership_tells_whether_the_chat_is_open(status: str, is_open: bool) -> None:
    me = {"id": 4242, "is_bot": True, "first_name": "Companion"}
    change = {
        "chat": PRIVATE,
        "from": ADA,
        "date": 0,
        "old_chat_member": {"user": me, "status": "left"},
        "new_chat_member": {"user": me, "status": status, "until_date": 0},
    }
    assert read({"my_chat_member": change}) == Membership(Chat("telegram", 7), open=is_open)
