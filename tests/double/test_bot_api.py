"""The double keeps the rules of the Bot API's own documents that the adapter relies on."""

import asyncio
from collections.abc import AsyncIterator, Iterator
from typing import Any

import aiohttp
import pytest

from tests.double import faults
from tests.double.bot_api import BotApiDouble

Call = Any


@pytest.fixture
def double() -> Iterator[BotApiDouble]:
    with BotApiDouble() as running:
        yield running


@pytest.fixture
async def call(double: BotApiDouble) -> AsyncIterator[Call]:
    async with aiohttp.ClientSession() as session:

        async def post(method: str, **params: Any) -> dict[str, Any]:
            url = f"{double.api_url}{double.token}/{method}"
            async with session.post(url, json=params) as answer:
                body: dict[str, Any] = await answer.json()
                assert answer.status == body.get("error_code", 200)
                return body

        yield post


def numbers(answer: dict[str, Any]) -> list[int]:
    return [update["update_id"] for update in answer["result"]]


# "An update is considered confirmed as soon as getUpdates is called with an offset higher than
# its update_id. The negative offset can be specified to retrieve updates starting from -offset
# update from the end of the updates queue. All previous updates will be forgotten."
# Bot API, getUpdates.
async def test_get_updates_comes_again_until_confirmed(double: BotApiDouble, call: Call) -> None:
    first, second, third = (double.types(7, text) for text in ("a", "b", "c"))
    assert numbers(await call("getUpdates", limit=2)) == [first, second]
    assert numbers(await call("getUpdates", offset=first)) == [first, second, third]
    assert numbers(await call("getUpdates", offset=second)) == [second, third]
    assert double.confirmed(first)
    assert not double.confirmed(second)


async def test_get_updates_negative_offset_forgets_the_older_ones(
    double: BotApiDouble, call: Call
) -> None:
    *_, last = (double.types(7, text) for text in ("a", "b", "c"))
    assert numbers(await call("getUpdates", offset=-1)) == [last]
    assert numbers(await call("getUpdates")) == [last]


async def test_get_updates_waits_for_what_comes(double: BotApiDouble, call: Call) -> None:
    poll = asyncio.create_task(call("getUpdates", timeout=5))
    await double.until_async(lambda: len(double.calls("getUpdates")) == 1)
    number = double.types(7, "a")
    assert numbers(await poll) == [number]


async def test_get_updates_second_poll_ends_the_first_with_409(
    double: BotApiDouble, call: Call
) -> None:
    first = asyncio.create_task(call("getUpdates", timeout=5))
    await double.until_async(lambda: len(double.calls("getUpdates")) == 1)
    assert (await call("getUpdates"))["ok"] is True
    assert (await first)["error_code"] == 409


async def test_get_updates_is_refused_while_a_webhook_is_set(
    double: BotApiDouble, call: Call
) -> None:
    number = double.types(7, "a")
    await call("setWebhook", url="https://elsewhere.invalid/hook")
    assert (await call("getUpdates"))["error_code"] == 409
    await call("deleteWebhook")
    assert numbers(await call("getUpdates")) == [number]


async def test_send_message_refuses_what_the_service_refuses(
    double: BotApiDouble, call: Call
) -> None:
    double.meet(7)
    # Limits: Bot API, sendMessage (1 to 4096 characters), InlineKeyboardButton (1 to 64 bytes).
    long_data = {"inline_keyboard": [[{"text": "a", "callback_data": "x" * 65}]]}
    for wrong in (
        {"chat_id": 8, "text": "a"},
        {"chat_id": 7, "text": ""},
        {"chat_id": 7, "text": "x" * 4097},
        {"chat_id": 7, "text": "a", "reply_markup": long_data},
    ):
        assert (await call("sendMessage", **wrong))["error_code"] == 400
    assert double.messages(7) == ()


async def test_edit_message_text_changes_what_the_person_sees(
    double: BotApiDouble, call: Call
) -> None:
    double.meet(7)
    number = (await call("sendMessage", chat_id=7, text="before"))["result"]["message_id"]
    same = {"chat_id": 7, "message_id": number, "text": "after"}
    assert (await call("editMessageText", **same))["result"]["text"] == "after"
    assert (await call("editMessageText", **same))["error_code"] == 400
    (message,) = double.messages(7)
    assert (message.text, message.edited) == ("after", True)


async def test_send_document_as_multipart_is_kept(double: BotApiDouble) -> None:
    double.meet(7)
    form = aiohttp.FormData({"chat_id": "7", "caption": "your log"})
    form.add_field("document", b"a,b\n", filename="log.csv")
    async with aiohttp.ClientSession() as session:
        await session.post(f"{double.api_url}{double.token}/sendDocument", data=form)
    (message,) = double.messages(7)
    assert (message.kind, message.text) == ("document", "your log")
    assert message.extra["document"] == "log.csv"


async def test_blocks_closes_the_chat_to_the_bot(double: BotApiDouble, call: Call) -> None:
    double.blocks(7)
    assert (await call("sendMessage", chat_id=7, text="a"))["error_code"] == 403
    double.unblocks(7)
    assert (await call("sendMessage", chat_id=7, text="a"))["ok"] is True


async def test_fail_hits_the_named_chat_and_only_so_often(double: BotApiDouble, call: Call) -> None:
    double.meet(7)
    double.meet(8)
    double.fail("sendMessage", faults.too_many(3), chat_id=7, times=2)
    assert (await call("sendMessage", chat_id=8, text="a"))["ok"] is True
    for _ in range(2):
        refused = await call("sendMessage", chat_id=7, text="a")
        assert refused["parameters"] == {"retry_after": 3}
    assert (await call("sendMessage", chat_id=7, text="a"))["ok"] is True


async def test_presses_needs_a_button_with_that_label(double: BotApiDouble) -> None:
    double.meet(7)
    with pytest.raises(LookupError):
        double.presses(7, "Start")
