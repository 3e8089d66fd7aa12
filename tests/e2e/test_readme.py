"""The README tells the truth: its dialogue replays, its examples are understood."""

import re
from datetime import UTC, datetime
from pathlib import Path

from bot.adapters.replay import Replay
from bot.adapters.scenario import expected_dialogue, parse_scenario
from bot.clock import HandClock
from bot.settings import Settings
from bot.wiring import IN_MEMORY, open_house
from bot.wording.talk import HELP
from core.replies import read
from core.replies.act import ReplyContext

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
CONTEXT = ReplyContext(units="kg", at=datetime(2026, 12, 1, 12, 0, tzinfo=UTC), zone="Europe/Oslo")


def test_the_dialogue_is_what_the_companion_says() -> None:
    match = re.search(r"```text\n(zone: .*?)\n```", README, re.DOTALL)
    assert match is not None
    scenario = parse_scenario(match[1])
    clock = HandClock(scenario.begins)
    with open_house(IN_MEMORY, clock=clock) as house:
        replay = Replay(house.service, clock, house.deliver("terminal"))
        got = "\n".join(e.as_line() for e in replay.play(scenario))
    assert got == "\n".join(expected_dialogue(scenario.lines))


def test_every_example_reply_is_understood() -> None:
    table = README.split("## What you can type")[1].split("Efforts:")[0]
    replies = re.findall(r"`([^`]+)`", table)
    assert len(replies) > 40
    misread = [r for r in replies if read(r, CONTEXT).misread is not None]
    assert misread == []


def test_every_example_in_help_is_understood() -> None:
    examples = [
        example.strip()
        for line in HELP.splitlines()
        for example in line.partition(": ")[2].split("·")
        if not line.startswith(("Sides", "Yours"))
    ]
    assert len(examples) > 25
    assert [e for e in examples if read(e, CONTEXT).misread is not None] == []


def test_every_setting_is_listed() -> None:
    for name, field in Settings.model_fields.items():
        # What the system that starts us sets is nobody's to choose.
        if field.validation_alias is None:
            assert f"WEEKNIGHT_{name.upper()}" in README


def test_the_job_comes_first() -> None:
    first = README.split("\n\n")[1]
    assert first.startswith("Weeknight serves one job")
    assert not re.search(r"\n\n\n", README.split("## Start")[0])
