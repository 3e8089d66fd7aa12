"""Kill -9 between a log and its answer: nothing lost, nothing doubled. Real process, real file."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from bot.ports import Chat
from bot.wiring import open_house
from core.athlete import Athlete
from tests.double.bot_api import BotApiDouble
from tests.double.faults import hang

CHAT_ID = 5
PATIENCE_S = 30.0


@contextmanager
def serving(double: BotApiDouble, db: str) -> Iterator[subprocess.Popen[bytes]]:
    """The real program as a child process, killed at the end of the block at the latest."""
    child = subprocess.Popen(
        [sys.executable, "-m", "bot.cli", "serve", "--db", db],
        env={
            **os.environ,
            "WEEKNIGHT_TOKEN": double.token,
            "WEEKNIGHT_API_URL": double.api_url,
            "WEEKNIGHT_POLL_S": "2",
            "WEEKNIGHT_TICK_S": "0.2",
            "WEEKNIGHT_CHAT_SENDS_PER_S": "100",
        },
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        yield child
    finally:
        if child.poll() is None:
            child.send_signal(signal.SIGKILL)
        child.wait(timeout=10)


def kill(child: subprocess.Popen[bytes]) -> None:
    child.send_signal(signal.SIGKILL)
    child.wait(timeout=10)


def kept(db: str) -> Athlete:
    with open_house(db) as house:
        return house.service.athlete(Chat("telegram", CHAT_ID))


def answers(double: BotApiDouble, text: str) -> int:
    return sum(text in m.text for m in double.messages(CHAT_ID))


@pytest.mark.parametrize("after_effect", [False, True], ids=["unsent", "sent-unmarked"])
def test_kill_while_the_answer_is_sent_loses_and_doubles_nothing(
    tmp_path: Path, after_effect: bool
) -> None:
    db = f"sqlite:///{tmp_path / 'kill.db'}"
    with BotApiDouble() as double:
        with serving(double, db) as child:
            double.types(CHAT_ID, "/start")
            double.wait(CHAT_ID, "Kilograms", timeout=PATIENCE_S)
            # The answer to the log hangs in the wire: killed right there.
            double.fail("sendMessage", hang(after_effect=after_effect), chat_id=CHAT_ID)
            update = double.types(CHAT_ID, "crimp 4x22kg ok")
            double.until(lambda: double.faults_left() == 0, timeout=PATIENCE_S)
            kill(child)
        assert len(kept(db).logs) == 1
        with serving(double, db):
            # The lease of the send under way has to run out before another tries it.
            double.wait(CHAT_ID, lambda m: "4 × 22 kg" in m.text, timeout=PATIENCE_S)
            double.types(CHAT_ID, "kit")
            double.wait(CHAT_ID, "Your kit", timeout=PATIENCE_S)
            assert double.confirmed(update)
        logs = kept(db).logs
        assert [(d.log.exercise, len(d.log.sets)) for d in logs] == [("half-crimp", 4)]
        assert 1 <= answers(double, "4 × 22 kg") <= 2


@pytest.mark.parametrize("after_s", [0.0, 0.02, 0.05, 0.1, 0.2])
def test_kill_at_some_moment_after_a_log_counts_it_once(tmp_path: Path, after_s: float) -> None:
    db = f"sqlite:///{tmp_path / 'kill.db'}"
    with BotApiDouble() as double:
        with serving(double, db) as child:
            double.types(CHAT_ID, "/start")
            double.wait(CHAT_ID, "Kilograms", timeout=PATIENCE_S)
            double.types(CHAT_ID, "crimp 4x22kg ok")
            time.sleep(after_s)
            kill(child)
        with serving(double, db):
            double.wait(CHAT_ID, lambda m: "4 × 22 kg" in m.text, timeout=PATIENCE_S)
            double.types(CHAT_ID, "kit")
            double.wait(CHAT_ID, "Your kit", timeout=PATIENCE_S)
        assert [len(d.log.sets) for d in kept(db).logs] == [4]
        assert 1 <= answers(double, "4 × 22 kg") <= 2
