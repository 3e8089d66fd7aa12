"""Sending over HTTP, and what each trouble means for the sender."""

import asyncio
import json
import socket
from collections.abc import AsyncIterator

import pytest
from hypothesis import given
from hypothesis import strategies as st
from telegram import Bot
from telegram.error import RetryAfter

from bot.adapters.telegram import TelegramChannel, account_name, open_account
from bot.adapters.telegram.channel import split_text
from bot.errors import (
    BadSettings,
    BotError,
    ChatGone,
    MaybeSent,
    NeverSendable,
    RetryLater,
    TooMany,
)
from bot.ports import Button
from tests.bot.adapters.telegram.memory import parcel
from tests.double import faults
from tests.double.bot_api import TOKEN, BotApiDouble
from tests.double.faults import Fault


@pytest.fixture
async def account(double: BotApiDouble) -> AsyncIterator[Bot]:
    double.meet(7)
    bot = open_account(double.token, api_url=double.api_url, answer_s=0.3)
    await bot.request.initialize()
    yield bot
    await bot.request.shutdown()


@pytest.fixture
def channel(account: Bot) -> TelegramChannel:
    return TelegramChannel(account)


async def test_send_plain_text_without_preview_or_parsing(
    double: BotApiDouble, channel: TelegramChannel
) -> None:
    number = await channel.send(parcel("<b>*10 + 10* http://example.org"))
    (message,) = double.messages(7)
    assert message.message_id == number
    assert message.text == "<b>*10 + 10* http://example.org"
    assert json.loads(message.extra["link_preview_options"]) == {"is_disabled": True}
    assert not {"parse_mode", "disable_notification"} & set(message.extra)


async def test_send_buttons_two_a_row(double: BotApiDouble, channel: TelegramChannel) -> None:
    # 60 bytes is the longest reply that bot.ports allows behind a button.
    buttons = (Button("Start", "start"), Button("Shorter", "short 25"), Button("Later", "x" * 60))
    await channel.send(parcel("Tonight", buttons=buttons))
    assert double.messages(7)[0].rows == (
        (("Start", "start"), ("Shorter", "short 25")),
        (("Later", "x" * 60),),
    )


@pytest.mark.parametrize("reply", ["", "é" * 33])
async def test_send_button_reply_of_no_or_too_many_bytes_is_never_sendable(
    channel: TelegramChannel, reply: str
) -> None:
    # The Bot API takes 1 to 64 bytes; 33 times é are 66 bytes of UTF-8.
    with pytest.raises(NeverSendable):
        await channel.send(parcel("Tonight", buttons=(Button("Start", reply),)))


@pytest.mark.parametrize("text", ["", " \n "])
async def test_send_blank_text_is_never_sendable(channel: TelegramChannel, text: str) -> None:
    with pytest.raises(NeverSendable):
        await channel.send(parcel(text))


async def test_send_long_text_goes_in_parts_with_buttons_on_the_last(
    double: BotApiDouble, channel: TelegramChannel
) -> None:
    lines = [f"line {number:04}" for number in range(900)]  # 10 characters each with the break
    await channel.send(parcel("\n".join(lines), buttons=(Button("Next", "next"),)))
    messages = double.messages(7)
    assert [message.labels for message in messages] == [(), (), ("Next",)]
    assert "\n".join(message.text for message in messages).split("\n") == lines


async def test_send_long_text_again_after_a_late_failure_repeats_no_part(
    double: BotApiDouble, channel: TelegramChannel
) -> None:
    text = "\n".join(["a" * 4000, "b" * 4000, "c" * 4000])
    double.fail("sendMessage", faults.drip(0.0), faults.server_error(500))
    with pytest.raises(RetryLater):
        await channel.send(parcel(text))
    await channel.send(parcel(text))
    assert [message.text[0] for message in double.messages(7)] == ["a", "b", "c"]


@pytest.mark.parametrize(
    ("fault", "expected", "arrived"),
    [
        (faults.too_many(5), TooMany, False),
        (faults.server_error(500), RetryLater, False),
        (faults.server_error(502), RetryLater, False),
        (faults.blocked(), ChatGone, False),
        (faults.deactivated(), ChatGone, False),
        (faults.chat_not_found(), ChatGone, False),
        (faults.refused("message is too long"), NeverSendable, False),
        (faults.token_refused(), BadSettings, False),
        (faults.hang(after_effect=False), MaybeSent, False),
        (faults.hang(after_effect=True), MaybeSent, True),
        (faults.reset(after_effect=False), MaybeSent, False),
        (faults.reset(after_effect=True), MaybeSent, True),
        (faults.garble(), MaybeSent, True),
        (faults.drip(5.0), MaybeSent, True),
    ],
)
async def test_send_trouble_is_classed_by_the_next_step(
    double: BotApiDouble,
    channel: TelegramChannel,
    fault: Fault,
    expected: type[BotError],
    arrived: bool,
) -> None:
    double.fail("sendMessage", fault)
    with pytest.raises(expected) as caught:
        await channel.send(parcel("crimp 4x22kg"))
    assert type(caught.value) is expected
    assert bool(double.messages(7)) is arrived
    assert double.faults_left() == 0


async def test_send_too_many_waits_as_long_as_the_service_says(
    double: BotApiDouble, channel: TelegramChannel
) -> None:
    double.fail("sendMessage", faults.too_many(17))
    with pytest.raises(RetryLater) as caught:
        await channel.send(parcel("crimp 4x22kg"))
    assert caught.value.after_s == 17


async def test_send_without_connection_certainly_did_not_arrive() -> None:
    with socket.socket() as closed:
        closed.bind(("127.0.0.1", 0))
        nobody = f"http://127.0.0.1:{closed.getsockname()[1]}/bot"
    bot = open_account(TOKEN, api_url=nobody)
    await bot.request.initialize()
    try:
        with pytest.raises(RetryLater) as caught:
            await TelegramChannel(bot).send(parcel("crimp 4x22kg"))
    finally:
        await bot.request.shutdown()
    assert 0 < caught.value.after_s <= 1


async def test_account_name_reached_gives_the_user_name(double: BotApiDouble) -> None:
    bot = open_account(double.token, api_url=double.api_url)
    assert await account_name(bot) == "evening_companion_bot"


async def test_account_name_unknown_token_is_a_wrong_setting(double: BotApiDouble) -> None:
    bot = open_account("99:other", api_url=double.api_url)
    with pytest.raises(BadSettings) as caught:
        await account_name(bot)
    assert "99:other" not in str(caught.value)


def test_open_account_text_that_is_no_token_is_a_wrong_setting() -> None:
    with pytest.raises(BadSettings) as caught:
        open_account("my secret", api_url="http://127.0.0.1:1/bot")
    assert "my secret" not in str(caught.value)


@given(st.text(st.sampled_from("ab 🙂\n"), min_size=1), st.integers(2, 12))
def test_split_text_parts_fit_and_lose_only_breaks(text: str, limit: int) -> None:
    parts = split_text(text, limit)
    assert all(0 < len(part.encode("utf-16-le")) // 2 <= limit for part in parts)
    kept = "".join(parts)
    assert kept.replace("\n", "").replace(" ", "") == text.replace("\n", "").replace(" ", "")


async def test_send_after_too_many_of_any_call_leaves_the_service_alone_for_as_long(
    double: BotApiDouble, channel: TelegramChannel
) -> None:
    double.fail("answerCallbackQuery", faults.too_many(1))
    with pytest.raises(RetryAfter):
        await channel._bot.answer_callback_query("press-1")
    with pytest.raises(TooMany) as caught:
        await channel.send(parcel("crimp 4x22kg"))
    assert 0 < caught.value.after_s <= 1
    assert double.calls("sendMessage") == ()
    await asyncio.sleep(caught.value.after_s)
    await channel.send(parcel("crimp 4x22kg"))
    assert len(double.messages(7)) == 1
