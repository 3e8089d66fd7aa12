"""The first evening once more, through the real adapter and real HTTP against the double."""

import asyncio
from pathlib import Path

from bot.adapters.replay import Event, Replay
from bot.adapters.scenario import parse_scenario
from bot.clock import HandClock
from bot.ports import Chat
from bot.serving import serve_telegram
from bot.settings import Settings
from bot.wiring import IN_MEMORY, House, open_house
from tests.double.bot_api import BotApiDouble

SCENARIO = Path(__file__).parents[1] / "scenarios" / "first-evening.txt"
CHAT_ID = 77


def replayed() -> list[Event]:
    """What the companion says to the same words in a replay."""
    scenario = parse_scenario(SCENARIO.read_text(encoding="utf-8"))
    clock = HandClock(scenario.begins)
    with open_house(IN_MEMORY, clock=clock) as house:
        replay = Replay(house.service, clock, house.deliver("terminal"))
        return list(replay.play(scenario))


async def play(double: BotApiDouble, house: House, clock: HandClock, events: list[Event]) -> None:
    """Type and press as in the scenario; every message must come, in order, word for word."""
    last = 0
    for event in events:
        clock.set(event.at)
        if event.sign == ">":
            double.types(CHAT_ID, event.text)
        elif event.sign == ">>":
            double.presses(CHAT_ID, event.text)
        else:
            message = await double.wait_for(CHAT_ID, lambda _: True, after=last, timeout=10)
            assert message.text == event.text
            assert event.parcel is not None
            labels = [label for row in message.rows for label, _ in row]
            assert labels == [b.label for b in event.parcel.message.buttons]
            last = message.message_id


async def test_first_evening_through_telegram_says_word_for_word_what_the_replay_says(
    tmp_path: Path,
) -> None:
    events = replayed()
    kinds = [e.parcel.message.kind for e in events if e.parcel is not None]
    assert "reminder" in kinds
    assert any(e.text == "undo" for e in events)
    clock = HandClock(events[0].at)
    with (
        BotApiDouble(now=clock.now) as double,
        open_house(f"sqlite:///{tmp_path / 'evening.db'}", clock=clock) as house,
    ):
        settings = Settings(
            token=double.token,
            api_url=double.api_url,
            tick_s=0.05,
            poll_s=5,
            sends_per_s=1000,
            chat_sends_per_s=1000,
        )
        stop = asyncio.Event()
        serving = asyncio.create_task(serve_telegram(house, settings, stop=stop))
        try:
            # A scenario's zone is known from its head; so it is here.
            house.service.introduce(Chat("telegram", CHAT_ID), zone="Europe/Oslo")
            await play(double, house, clock, events)
        finally:
            stop.set()
            await serving
        assert double.unacknowledged() == 0
