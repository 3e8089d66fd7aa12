"""How late the end of a rest is called, with many guided evenings at once.

    python -m tests.bench.timers --athletes 2000 --seconds 60

The real program on a database file, the double on loopback. Everybody is inside an evening:
two minutes of rest, half a minute for the set, then "ok" is typed and the next rest begins.
Late is from the planned moment to the arrival at the chat service. The limit of sending is the
usual one, so that 2,000 evenings, 13 calls and 13 answers a second, use nine tenths of it.
"""

import argparse
import heapq
import json
import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import select, update

from bot.clock import HandClock
from bot.ports import Chat, Due, Inbound
from bot.storage.tables import ATHLETE, DUE
from bot.wiring import open_house
from tests.double.bot_api import TOKEN, BotApiDouble
from tests.faults.place import REMINDER_AT, made

EVENING = datetime(2026, 12, 1, 18, 31, tzinfo=UTC)
REST = timedelta(minutes=2)
SET_S = 30.0
CYCLE_S = 150.0
FIRST_CHAT = 11
LEAD_S = 12.0
"""From the start of the program to the first call. [s]"""

_BEFORE = ("plates 2x20 4x10 2x5 2x2.5", "start", "ok")
_CALL = "Rest over"


@dataclass(frozen=True, slots=True)
class Lateness:
    """Of the calls that came, sorted. [s] ``cores`` is how many the program kept busy."""

    values: tuple[float, ...]
    missing: int
    cores: float

    def share(self, share: float) -> float:
        """As late as that share of them at most. [s]"""
        return self.values[min(len(self.values) - 1, int(share * len(self.values)))]


def prepare(url: str, athletes: int) -> None:
    """So many people in the middle of an evening, their rests ending all through a cycle."""
    clock = HandClock(EVENING)
    begins = REMINDER_AT + timedelta(minutes=5)
    key = f"{begins:%Y-%m-%d}@{begins:%Y-%m-%dT%H:%M}"
    reminder = Due("reminder", key, REMINDER_AT, begins + timedelta(hours=1))
    with open_house(url, clock=clock) as house:
        source = f"telegram:{TOKEN.partition(':')[0]}"
        for number, words in enumerate(_BEFORE, 900):
            inbound = Inbound(Chat("telegram", FIRST_CHAT), source, number, words, False, EVENING)
            house.service.keep([inbound])
            house.service.handle(inbound)
        house.deliver("telegram")(lambda _: None)
        with house.store.read() as work:
            known = work.load(Chat("telegram", FIRST_CHAT))
        assert known is not None
        talk = json.loads(known.talk)
        for start in range(0, athletes, 500):
            with house.store.work() as work:
                for index in range(start, min(start + 500, athletes)):
                    at = EVENING + REST + timedelta(seconds=index * CYCLE_S // athletes)
                    chat = Chat("telegram", FIRST_CHAT + index)
                    mine = (work.load(chat) or work.open(chat, at=EVENING)).athlete_id
                    if index:
                        work.append(mine, known.entries)
                    work.keep_talk(
                        mine, json.dumps(talk | {"rest_until": f"{at:%Y-%m-%dT%H:%M:%SZ}"})
                    )
                    key = f"{at:%Y-%m-%dT%H:%M:%S.%f}"
                    work.plan(mine, [reminder, Due("timer", key, at, at + timedelta(minutes=2))])
        with house.engine.begin() as connection:  # everybody was reminded of this evening
            fired = update(DUE).where(DUE.c.kind == "reminder", DUE.c.at == REMINDER_AT)
            connection.execute(fired.values(state="fired", done_at=EVENING))


def measure(url: str, athletes: int, seconds: float) -> Lateness:
    """Let the evenings go on for so long."""
    began_at = EVENING + REST - timedelta(seconds=LEAD_S)
    with BotApiDouble() as double:
        chats = range(FIRST_CHAT, FIRST_CHAT + athletes)
        for chat_id in chats:
            double.meet(chat_id)
        began_s = time.monotonic()
        child = _start(double, url, began_at - datetime.now(UTC))
        try:
            _train(double, chats, until_s=began_s + LEAD_S + seconds)
            cores = _processor_s(child.pid) / (time.monotonic() - began_s)
        finally:
            child.send_signal(signal.SIGKILL)
            child.wait(timeout=10)
        end_at = began_at + timedelta(seconds=LEAD_S + seconds - 2)
        came = {
            c: [m.arrived_s for m in double.messages(c) if m.text.startswith(_CALL)] for c in chats
        }
    late: list[float] = []
    missing = 0
    for chat_id, planned in _planned(url, end_at).items():
        missing += max(0, len(planned) - len(came[chat_id]))
        late += [
            (at_s - began_s) - (at - began_at).total_seconds()
            for at_s, at in zip(came[chat_id], planned, strict=False)
        ]
    return Lateness(tuple(sorted(late)), missing, cores)


def _processor_s(pid: int) -> float:
    """What a process has used of the processors so far. [s]"""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _train(double: BotApiDouble, chats: range, *, until_s: float) -> None:
    """Half a minute after each call its set is done and typed."""
    heard = dict.fromkeys(chats, 0)
    sets: list[tuple[float, int]] = []
    chance = random.Random(1)
    while (now_s := time.monotonic()) < until_s:
        for chat_id in chats:
            calls = sum(m.text.startswith(_CALL) for m in double.messages(chat_id))
            if calls > heard[chat_id]:
                heard[chat_id] = calls
                heapq.heappush(sets, (now_s + SET_S * chance.uniform(0.8, 1.2), chat_id))
        while sets and sets[0][0] <= now_s:
            double.types(heapq.heappop(sets)[1], "ok")
        time.sleep(0.25)


def _planned(url: str, end_at: datetime) -> dict[int, list[datetime]]:
    query = (
        select(ATHLETE.c.chat_id, DUE.c.at)
        .join(ATHLETE, ATHLETE.c.id == DUE.c.athlete_id)
        .where(DUE.c.kind == "timer", DUE.c.at >= EVENING + REST, DUE.c.at < end_at)
        .order_by(DUE.c.at)
    )
    planned: dict[int, list[datetime]] = {}
    with open_house(url, make=False) as house, house.engine.connect() as connection:
        for chat_id, at in connection.execute(query):
            planned.setdefault(chat_id, []).append(at)
    return planned


def _start(double: BotApiDouble, url: str, ahead: timedelta) -> "subprocess.Popen[bytes]":
    return subprocess.Popen(
        [sys.executable, "-m", "tests.faults.program"],
        env={
            **os.environ,
            "FAULTS_AHEAD_S": str(ahead.total_seconds()),
            "WEEKNIGHT_DATABASE_URL": url,
            "WEEKNIGHT_TOKEN": double.token,
            "WEEKNIGHT_API_URL": double.api_url,
        },
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--athletes", type=int, default=2000)
    parser.add_argument("--seconds", type=float, default=60.0)
    asked = parser.parse_args()
    with made((FIRST_CHAT,)) as place:
        url = place.database("sqlite")
        prepare(url, asked.athletes)
        late = measure(url, asked.athletes, asked.seconds)
    print(f"{asked.athletes} evenings at once, {len(late.values)} calls, {late.missing} missing")
    for share in (0.5, 0.9, 0.99, 1.0):
        print(f"  {share:>5.0%} at most {late.share(share):.2f} s late")
    busy = os.getloadavg()[0] / (os.cpu_count() or 1)
    print(f"  the program kept {late.cores:.2f} of a core busy; load for each core {busy:.1f}")


if __name__ == "__main__":
    main()
