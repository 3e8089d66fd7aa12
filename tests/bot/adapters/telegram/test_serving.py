"""The adapter whole, over HTTP against the double."""

import asyncio
import logging
import os
import signal
import threading
import time
import traceback

import aiohttp
import pytest

from bot.adapters.telegram import Serving, Timing, open_account
from bot.adapters.telegram.menu import MENU, SORRY
from bot.errors import BadSettings
from bot.ports import Button, Chat, Inbound
from tests.bot.adapters.telegram.memory import AT, MemoryService, parcel, parts_of, serving
from tests.double import faults
from tests.double.bot_api import BotApiDouble


async def test_serve_start_sets_menu_and_leaves_webhook_mode_losing_nothing(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.hook("https://elsewhere.invalid/hook")
    double.types(7, "written while the webhook was set")
    async with serving(double, service):
        await double.wait_for(7, "got written while")
    assert double.menu() == tuple(each.command for each in MENU)


async def test_serve_message_answered_and_confirmed(
    double: BotApiDouble, service: MemoryService
) -> None:
    async with serving(double, service):
        number = double.types(7, "crimp 4x22kg ok")
        await double.wait_for(7, "got crimp 4x22kg ok")
        await double.until_async(lambda: double.confirmed(number))


async def test_serve_update_not_kept_is_not_confirmed_and_comes_again(
    double: BotApiDouble, service: MemoryService
) -> None:
    seen: list[bool] = []

    def fail_once(_: object) -> None:
        seen.append(double.confirmed(number))
        if len(seen) == 1:
            raise OSError("disk full")

    service.before_keep = fail_once
    number = double.types(7, "crimp 4x22kg ok")
    async with serving(double, service):
        await double.wait_for(7, "got crimp")
    assert seen == [False, False]
    assert service.texts(7) == ["crimp 4x22kg ok"]


async def test_serve_killed_between_fetch_and_keep_gets_the_update_again(
    double: BotApiDouble, service: MemoryService
) -> None:
    fetched, dead = threading.Event(), threading.Event()

    def die(_: object) -> None:
        fetched.set()
        dead.wait(5)
        raise SystemError("this process is gone")

    service.before_keep = die
    number = double.types(7, "crimp 4x22kg ok")
    async with serving(double, service) as task:
        await asyncio.to_thread(fetched.wait, 5)
        task.cancel()
        await asyncio.sleep(0)
        dead.set()
    assert not double.confirmed(number)
    assert service.waiting() == ()

    service.before_keep = lambda _: None
    async with serving(double, service):
        await double.wait_for(7, "got crimp")
    assert service.texts(7) == ["crimp 4x22kg ok"]


async def test_serve_kept_and_not_handled_is_handled_first_after_restart(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.meet(7)
    service.keep((Inbound(Chat("telegram", 7), "telegram:4242", 900, "first", False, AT),))
    double.types(7, "second")
    async with serving(double, service):
        await double.wait_for(7, "got second")
    assert service.texts(7) == ["first", "second"]


async def test_serve_update_delivered_again_is_handled_once(
    double: BotApiDouble, service: MemoryService
) -> None:
    async with serving(double, service):
        number = double.types(7, "crimp 4x22kg ok")
        await double.wait_for(7, "got crimp")
        double.repeat(number)
        double.types(7, "next")
        await double.wait_for(7, "got next")
    assert service.texts(7) == ["crimp 4x22kg ok", "next"]


async def test_serve_batch_in_reverse_is_handled_in_the_order_of_its_numbers(
    double: BotApiDouble, service: MemoryService
) -> None:
    for text in ("one", "two", "three"):
        last = double.types(7, text)
    double.reverse_next()
    async with serving(double, service):
        await double.wait_for(7, "got three")
        await double.until_async(lambda: double.confirmed(last))
    assert service.texts(7) == ["one", "two", "three"]


async def test_serve_many_chats_keep_their_order_side_by_side(
    double: BotApiDouble, service: MemoryService
) -> None:
    chats, each = range(1, 13), [f"line {number}" for number in range(10)]
    meeting = threading.Barrier(2)

    def uneven(inbound: Inbound) -> None:
        if inbound.text == "line 0" and inbound.chat.chat_id in (1, 2):
            meeting.wait(5)  # passes only if two chats are worked on at the same time
        time.sleep((inbound.update_id * 7 % 5) / 1000)

    service.before_handle = uneven
    for text in each:
        for chat_id in chats:
            double.types(chat_id, text)
    async with serving(double, service):
        for chat_id in chats:
            await double.wait_for(chat_id, "got line 9")
    for chat_id in chats:
        assert service.texts(chat_id) == each
        assert [message.text for message in double.messages(chat_id)] == [
            f"got {text}" for text in each
        ]


async def test_serve_failing_message_is_owned_up_to_and_the_next_is_answered(
    double: BotApiDouble, service: MemoryService
) -> None:
    def fail(inbound: Inbound) -> None:
        if inbound.text == "bad":
            raise ZeroDivisionError

    service.before_handle = fail
    double.types(7, "bad")
    double.types(7, "good")
    async with serving(double, service):
        await double.wait_for(7, "got good")
    assert [message.text for message in double.messages(7)] == [SORRY, "got good"]


async def test_serve_message_that_could_not_even_be_marked_is_tried_again_in_its_place(
    double: BotApiDouble, service: MemoryService
) -> None:
    troubles = iter((OSError("store is down"),))

    def fail_once(inbound: Inbound) -> None:
        for trouble in troubles:
            raise trouble

    service.before_handle = fail_once
    double.types(7, "first")
    double.types(7, "second")
    async with serving(double, service):
        await double.wait_for(7, "got second")
    assert [each.text for each in double.messages(7)] == ["got first", "got second"]


async def test_serve_what_was_kept_cannot_be_read_and_the_rest_is_answered(
    double: BotApiDouble, service: MemoryService, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(service, "waiting", lambda: 1 // 0)
    double.types(7, "hello")
    async with serving(double, service):
        await double.wait_for(7, "got hello")


async def test_serve_message_kept_by_a_process_that_died_is_taken_over(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.meet(7)
    async with serving(double, service):
        double.types(8, "hello")
        await double.wait_for(8, "got hello")
        service.keep((Inbound(Chat("telegram", 7), "telegram:4242", 900, "left", False, AT),))
        await double.wait_for(7, "got left", timeout=30)
    assert service.texts(7) == ["left"]


async def test_serve_hanging_send_does_not_hold_up_other_chats(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.fail("sendMessage", faults.hang(after_effect=False), chat_id=7)
    async with serving(double, service, stop_s=1.5):
        double.types(7, "hello")
        await double.until_async(lambda: double.faults_left() == 0)
        double.types(8, "hello")
        await double.wait_for(8, "got hello", timeout=3)


async def test_serve_unreadable_update_does_not_hold_up_the_rest(
    double: BotApiDouble, service: MemoryService
) -> None:
    broken = double.push({"message": {"message_id": "no number", "date": "never"}})
    double.types(7, "after")
    async with serving(double, service):
        await double.wait_for(7, "got after")
        await double.until_async(lambda: double.confirmed(broken))


async def test_serve_pressed_button_is_handled_as_its_text_and_acknowledged(
    double: BotApiDouble, service: MemoryService
) -> None:
    service.buttons = (Button("At the wall", "wall tonight"),)
    async with serving(double, service):
        double.types(7, "hello")
        await double.wait_for(7, "got hello")
        double.presses(7, "At the wall")
        await double.wait_for(7, "got wall tonight")
        await double.until_async(lambda: double.unacknowledged() == 0)
    assert [each.pressed for each in service.handled] == [False, True]


async def test_serve_acknowledging_fails_and_the_press_is_still_answered(
    double: BotApiDouble, service: MemoryService
) -> None:
    service.buttons = (Button("Start", "start"),)
    double.fail("answerCallbackQuery", faults.server_error())
    async with serving(double, service):
        double.types(7, "hello")
        await double.wait_for(7, "got hello")
        double.presses(7, "Start")
        await double.wait_for(7, "got start")


async def test_serve_blocked_chat_is_reported_unless_the_person_came_back(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.blocks(7)
    double.blocks(8)
    double.unblocks(8)
    double.types(8, "back")
    async with serving(double, service):
        await double.wait_for(8, "got back")
    assert service.left == [Chat("telegram", 7)]


async def test_serve_ticks_and_delivers_what_a_tick_queued(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.meet(7)
    async with serving(double, service):
        service.outbox[Chat("telegram", 7)].append(parcel("tonight at 20:30"))
        await double.wait_for(7, "tonight at 20:30")
    assert service.ticks > 0


async def test_serve_outlives_troubles_of_polling(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.fail("getMe", faults.reset(after_effect=False))
    double.fail("getUpdates", faults.server_error(502))
    double.types(7, "still there?")
    async with serving(double, service):
        await double.wait_for(7, "got still there?", timeout=10)
    assert double.faults_left() == 0


async def test_serve_second_poller_is_named_and_polling_goes_on(
    double: BotApiDouble, service: MemoryService, capsys: pytest.CaptureFixture[str]
) -> None:
    async with serving(double, service), aiohttp.ClientSession() as other:
        double.types(7, "one")
        await double.wait_for(7, "got one")
        async with other.get(f"{double.api_url}{double.token}/getUpdates?timeout=0") as answer:
            assert answer.status == 200
        double.types(7, "two")
        await double.wait_for(7, "got two")
    printed = capsys.readouterr().out
    assert "another_poller" in printed
    assert "only one may poll" in printed


async def test_serve_refused_token_at_start_is_a_wrong_setting(service: MemoryService) -> None:
    with BotApiDouble() as double:
        double.fail("getMe", faults.token_refused())
        with pytest.raises(BadSettings, match="WEEKNIGHT_TOKEN") as caught:
            async with serving(double, service) as task:
                await asyncio.wait((task,), timeout=5)
    assert double.token not in "".join(traceback.format_exception(caught.value))


async def test_serve_token_revoked_later_is_a_wrong_setting(
    double: BotApiDouble, service: MemoryService
) -> None:
    with pytest.raises(BadSettings):  # noqa: PT012 the block is what fails
        async with serving(double, service) as task:
            double.types(7, "one")
            await double.wait_for(7, "got one")
            double.fail("sendMessage", faults.token_refused())
            double.types(7, "two")
            await asyncio.wait((task,), timeout=5)


async def test_serve_stopped_finishes_what_is_under_way_and_keeps_the_rest(
    double: BotApiDouble, service: MemoryService
) -> None:
    begun, go_on = threading.Event(), threading.Event()

    def slow(_: Inbound) -> None:
        begun.set()
        go_on.wait(5)

    service.before_handle = slow
    double.types(7, "under way")
    double.types(7, "waits")
    async with serving(double, service) as task:
        await asyncio.to_thread(begun.wait, 5)
        os.kill(os.getpid(), signal.SIGTERM)
        await asyncio.sleep(0.05)
        assert not task.done()
        started = time.monotonic()
        go_on.set()
        await asyncio.wait((task,), timeout=10)
        assert task.done()
    # 10 s is what the design allows; a poll under way, 5 s here, must not be waited for.
    assert time.monotonic() - started < 3
    assert [message.text for message in double.messages(7)] == ["got under way"]
    assert [inbound.text for inbound in service.waiting()] == ["waits"]

    async with serving(double, service):
        await double.wait_for(7, "got waits")
    assert service.texts(7) == ["under way", "waits"]


async def test_serve_stop_with_a_hanging_answer_ends_in_time(
    double: BotApiDouble, service: MemoryService
) -> None:
    double.fail("sendMessage", faults.hang(after_effect=False))
    double.types(7, "hello")
    started = time.monotonic()
    async with serving(double, service, stop_s=1.5):
        await double.until_async(lambda: double.faults_left() == 0)
    assert time.monotonic() - started < 5


async def test_serve_logs_hold_no_token_text_or_name(
    double: BotApiDouble,
    service: MemoryService,
    capsys: pytest.CaptureFixture[str],
    caplog: pytest.LogCaptureFixture,
) -> None:
    def fail(inbound: Inbound) -> None:
        if inbound.text == "planted text":
            raise ValueError(inbound.text)

    caplog.set_level(logging.DEBUG)
    service.before_handle = fail
    double.meet(7, "Planted Name")
    double.fail("getUpdates", faults.garble(), faults.reset(after_effect=True))
    double.fail("sendMessage", faults.garble(), faults.reset(after_effect=True), chat_id=7)
    double.push({"message": {"text": "planted text", "date": "never"}})
    double.types(7, "planted text")
    double.types(8, "end")
    async with serving(double, service):
        await double.wait_for(8, "got end", timeout=10)
    captured = capsys.readouterr()
    logs = captured.out + captured.err + caplog.text
    assert "message_failed" in logs
    assert "update_unreadable" in logs
    for secret in (double.token, double.token.partition(":")[2], "planted text", "Planted Name"):
        assert secret.lower() not in logs.lower()


async def test_trouble_when_planned_moments_are_not_looked_at(
    double: BotApiDouble, service: MemoryService, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.adapters.telegram.serving._TICK_STALLS_S", 0.3)
    go_on, stop = threading.Event(), asyncio.Event()
    bot = open_account(double.token, api_url=double.api_url)
    serving = Serving(parts_of(bot, service), Timing(poll_s=1, tick_s=0.05))
    running = asyncio.create_task(serving.run(stop))
    async with asyncio.timeout(30):
        while serving.trouble() is not None:
            await asyncio.sleep(0.05)
        monkeypatch.setattr(service, "tick", lambda _: int(go_on.wait(20)))
        while "planned moments" not in (serving.trouble() or ""):
            await asyncio.sleep(0.05)
        go_on.set()
        stop.set()
        await running
