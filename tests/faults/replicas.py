"""Three processes on one PostgreSQL: thousands of reminders in one minute, one process killed.

python -m tests.faults.run --replicas
"""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from sqlalchemy import text

from bot.ports import Chat, Due
from bot.storage import make_engine
from bot.wiring import open_house
from tests.double.bot_api import BotApiDouble
from tests.faults.place import REMINDER_AT, made, postgresql
from tests.faults.verdict import ON_ITS_WAY_S

REPLICAS = 3
FIRST_CHAT = 11
BURST_S = 1.0
"""How many seconds' worth of messages the service takes at once after a silence. [s]"""


@dataclass(frozen=True, slots=True)
class Evening:
    """What came of it.

    Attributes:
        reminders: How many were due in the same minute.
        arrived: How many chats got one.
        twice: How many got two, and of those how many with no kill between.
        refused: Messages that came faster than the service allows.
        most_in_1_s: Most messages in any second.
        lasted_s: From the first to the last. [s]
        rate_per_s: Over that time. [1/s]
    """

    reminders: int
    arrived: int
    twice: int
    twice_without_kill: int
    refused: int
    most_in_1_s: int
    lasted_s: float

    @property
    def rate_per_s(self) -> float:
        return (self.arrived + self.twice - 1) / self.lasted_s


def evening(
    server: str, *, reminders: int, per_s: float, patience_s: float, replicas: int = REPLICAS
) -> Evening:
    """Let them all come due, kill one process when a third has gone out, and count."""
    chats = range(FIRST_CHAT, FIRST_CHAT + reminders)
    with made((FIRST_CHAT,), server=server) as place, BotApiDouble() as double:
        double.allow(per_s=per_s, burst=round(per_s * BURST_S))
        for chat_id in chats:
            double.meet(chat_id)
        url = place.database("postgresql")
        _clone(url, reminders - 1)
        children: list[subprocess.Popen[bytes]] = []
        try:
            now = datetime.now(UTC)
            ahead = REMINDER_AT - timedelta(seconds=3) - now
            children = [_start(double, url, ahead, per_s) for _ in range(replicas)]
            _until(lambda: _arrived(double, chats) >= reminders // 3, patience_s)
            children[0].send_signal(signal.SIGKILL)
            killed_s = time.monotonic()
            _until(lambda: _waiting(url) == 0 and _arrived(double, chats) > 0, patience_s)
        finally:
            for child in children:
                if child.poll() is None:
                    child.send_signal(signal.SIGKILL)
                child.wait(timeout=10)
        counted = _count(double, chats, killed_s)
        place.drop(url)
    return counted


def _clone(url: str, more: int) -> None:
    """The one athlete's record and plan, so many times more, each in a chat of its own."""
    began = REMINDER_AT - timedelta(days=1)
    with open_house(url, make=False) as house:
        with house.store.read() as work:
            known = work.load(Chat("telegram", FIRST_CHAT))
        assert known is not None
        begins = REMINDER_AT + timedelta(minutes=5)
        key = f"{begins:%Y-%m-%d}@{begins:%Y-%m-%dT%H:%M}"
        due = Due("reminder", key, REMINDER_AT, begins + timedelta(minutes=60))
        for start in range(1, more + 1, 500):
            with house.store.work() as work:
                for number in range(start, min(start + 500, more + 1)):
                    chat = Chat("telegram", FIRST_CHAT + number)
                    mine = work.open(chat, at=began).athlete_id
                    work.append(mine, known.entries)
                    work.keep_talk(mine, known.talk)
                    work.plan(mine, [due])


def _start(
    double: BotApiDouble, url: str, ahead: timedelta, per_s: float
) -> "subprocess.Popen[bytes]":
    return subprocess.Popen(
        [sys.executable, "-m", "tests.faults.program"],
        env={
            **os.environ,
            "FAULTS_AHEAD_S": str(ahead.total_seconds()),
            "WEEKNIGHT_DATABASE_URL": url,
            "WEEKNIGHT_TOKEN": double.token,
            "WEEKNIGHT_API_URL": double.api_url,
            "WEEKNIGHT_LEASE_S": "3",
            "WEEKNIGHT_SENDS_PER_S": str(per_s),
        },
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def _until(true: Callable[[], bool], patience_s: float) -> None:
    deadline = time.monotonic() + patience_s
    while not true():
        if time.monotonic() > deadline:
            raise TimeoutError
        time.sleep(0.2)


def _arrived(double: BotApiDouble, chats: range) -> int:
    return sum(bool(double.messages(chat_id)) for chat_id in chats)


def _waiting(url: str) -> int:
    engine = make_engine(url)
    query = (
        "SELECT (SELECT count(*) FROM outbox WHERE done_at IS NULL)"
        " + (SELECT count(*) FROM due WHERE done_at IS NULL AND at = :at)"
    )
    with engine.connect() as connection:
        count: int = connection.execute(text(query), {"at": REMINDER_AT}).scalar_one()
    engine.dispose()
    return count


def _count(double: BotApiDouble, chats: range, killed_s: float) -> Evening:
    came = [[m.arrived_s for m in double.messages(chat_id)] for chat_id in chats]
    doubles = [pair for times in came for pair in pairwise(times)]
    times = sorted(at for each in came for at in each)
    last = 0
    most = 0
    for index, at in enumerate(times):
        while times[last] <= at - 1.0:
            last += 1
        most = max(most, index - last + 1)
    return Evening(
        reminders=len(chats),
        arrived=sum(bool(each) for each in came),
        twice=len(doubles),
        twice_without_kill=sum(
            not first - ON_ITS_WAY_S < killed_s < second for first, second in doubles
        ),
        refused=double.refused_for_haste(),
        most_in_1_s=most,
        lasted_s=times[-1] - times[0],
    )


def main() -> None:
    """The long form: 5,000 reminders at the usual limit."""
    with postgresql() as server:
        came = evening(server, reminders=5000, per_s=30.0, patience_s=600.0)
    print(came, f"rate {came.rate_per_s:.2f}/s")
    lost = came.reminders - came.arrived
    sys.exit(int(lost > 0 or came.twice_without_kill > 0 or came.refused > 0))
