"""A few runs of the fault matrix, always the same ones, and what the verdict would find.

Many random ones: ``python -m tests.faults.run --runs 200 --seed 1``.
"""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from bot.wiring import House
from tests.double.bot_api import BotApiDouble
from tests.faults.place import Place, made
from tests.faults.plan import ACTS, CHATS, FAULTS, POLLS, SENDS, BackEnd, draw
from tests.faults.play import Played
from tests.faults.replicas import evening
from tests.faults.run import play
from tests.faults.verdict import judge

# Each fault of sending once, on one of the back ends; each run with a kill or two. Only some
# of the faults of polling: the program waits longer after each, so that many take a minute.
FIRST = (*tuple(SENDS)[0::2], *ACTS, *(f"poll {name}" for name in POLLS[:2]))
SECOND = (*tuple(SENDS)[1::2], *ACTS, *(f"poll {name}" for name in POLLS[4:6]))
NEVER_TYPED = 77_777


@pytest.fixture(scope="module")
def place(postgres_url: str) -> Iterator[Place]:
    with made(CHATS, server=postgres_url) as place:
        yield place


@pytest.mark.parametrize(
    ("seed", "back_end", "names"),
    [
        (1, "sqlite", FIRST),
        (2, "postgresql", SECOND),
    ],
)
def test_run_holds_whatever_fails_and_whoever_is_killed(
    place: Place, seed: int, back_end: BackEnd, names: tuple[str, ...]
) -> None:
    with play(draw(seed, back_end, names), place) as left:
        verdict = judge(*left)
        assert verdict.faults == ()
        assert verdict.counts["logs"] >= 12
        assert verdict.counts["kills"] >= 1
        found = "\n".join(judge(*spoilt(*left)).faults)
    for sign in (
        "stuck",
        "arrived 4 times",
        "two reminders",
        "0 arrived",
        "99kg ok",
        f"update {NEVER_TYPED} is",
    ):
        assert sign in found, found


def spoilt(
    played: Played, double: BotApiDouble, house: House
) -> tuple[Played, BotApiDouble, House]:
    """The same run with an answer and a reminder doubled, an answer and a log lost, one stuck."""
    # One that came once, and a copy that no kill excuses, whenever there was one.
    reminder = next(
        came[0]
        for chat_id in CHATS
        if len(came := [m for m in double.messages(chat_id) if m.text.startswith("Tonight")]) == 1
    )
    again = replace(reminder, arrived_s=reminder.arrived_s - 1000)
    kit, lost = (
        next(m for m in double.messages(chat_id) if m.text.startswith("Your kit"))
        for chat_id in CHATS[:2]
    )
    for message, more in ((kit, 3), (again, 1)):
        double._world.chats[message.chat_id] += [message] * more
    mine = double._world.chats[lost.chat_id]
    mine[:] = [m for m in mine if m.text != lost.text]
    played.typed[NEVER_TYPED] = (CHATS[2], "crimp 4x99kg ok")
    played.quiet = False
    return played, double, house


def test_replicas_send_each_reminder_once_and_no_faster_though_one_is_killed(
    postgres_url: str,
) -> None:
    came = evening(postgres_url, reminders=120, per_s=60.0, patience_s=90.0)
    assert came.arrived == came.reminders
    assert came.twice_without_kill == 0
    assert came.refused == 0


def test_every_fault_is_among_those_that_are_drawn() -> None:
    names = {t.name for seed in range(300) for t in draw(seed, "sqlite").troubles}
    assert names == set(FAULTS)
