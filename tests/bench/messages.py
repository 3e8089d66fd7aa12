"""How many logs a second come in, are counted and are answered, beside a bare echo bot.

    python -m tests.bench.messages [--logs 2000] [--chats 400] [--rounds 3]

Two programs, one after the other, against the same double of the chat service in a process of
its own. Ours is ``weeknight serve`` on a file of SQLite that survives a power cut: each log is
kept, read, counted, answered with the next target, and both are on the disk before its answer is
sent. The other is a dozen lines on the same library with its defaults: it sends each text back.
Once with a service that answers at once, once with one that takes 50 ms for every call; there
the bare echo handles 64 messages at once, or it would do 19 a second.

A rate is the number of logs divided by the time from the first call for updates to the last
answer. Prints the median of each and the ratio within this run; nothing is asserted.
"""

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

from bot.clock import HandClock
from bot.ports import Chat
from bot.wiring import open_house
from core.facts import (
    BodyWeighed,
    Entry,
    EveningsPlanned,
    Fact,
    KitChanged,
    PlateCount,
    SettingChanged,
)
from tests.double.bot_api import TOKEN, BotApiDouble

LATER_S = 0.05
AT_ONCE = 64
FIRST_CHAT = 1000
LIMIT_S = 300.0
REPLIES = ("crimp 20kg ok", "crimp 4x22kg hard", "pull ups 3x7 ok", "plank 3x20 ok", "20kg ok")
"""What is typed in turn, a log each."""

_ECHO = """
import sys
from telegram.ext import Application, MessageHandler, filters
async def echo(update, context):
    await update.message.reply_text(update.message.text)
app = Application.builder().token(sys.argv[1]).base_url(sys.argv[2])
if int(sys.argv[3]) > 1:
    app = app.concurrent_updates(int(sys.argv[3])).connection_pool_size(64).pool_timeout(60)
app = app.build()
app.add_handler(MessageHandler(filters.TEXT, echo))
app.run_polling(poll_interval=0)
"""


def serve_chats(logs: int, chats: int, latency_s: float) -> None:
    """The chat service: gives its address, and the seconds once every log is answered."""
    double = BotApiDouble(latency_s=latency_s)
    double.start()
    for number in range(logs):
        double.types(FIRST_CHAT + number % chats, REPLIES[number // chats % len(REPLIES)])
    print(double.api_url, flush=True)
    double.until(lambda: bool(double.calls("getupdates")), timeout=LIMIT_S)
    begins = time.perf_counter()
    while (sent := sum(len(double.messages(FIRST_CHAT + n)) for n in range(chats))) < logs:
        if time.perf_counter() - begins > LIMIT_S:
            break
        time.sleep(0.02)
    print(json.dumps({"seconds": time.perf_counter() - begins, "answers": sent}), flush=True)
    sys.stdin.read()
    double.stop()


def known_athletes(url: str, chats: int, key: str) -> None:
    """So many people with kit and plan, who have been greeted."""
    os.environ["WEEKNIGHT_KEY"] = key
    now = datetime.now(UTC)
    plates = tuple(PlateCount(Decimal(kg), 4) for kg in ("10", "5", "2.5", "1.25", "0.5"))
    facts: tuple[Fact, ...] = (
        SettingChanged("zone", "Europe/Oslo"),
        SettingChanged("age", "34"),
        KitChanged(plates=plates, pin_kg=Decimal("1.2"), edges_mm=(20, 15), grips=("half-crimp",)),
        BodyWeighed(Decimal(70)),
        EveningsPlanned(("tue", "thu"), "19:00", 60),
    )
    entries = [Entry(n, n, now, now.date(), fact) for n, fact in enumerate(facts, start=1)]
    with open_house(url, clock=HandClock(now)) as house, house.store.work() as work:
        for number in range(chats):
            loaded = work.open(Chat("telegram", FIRST_CHAT + number), at=now)
            work.append(loaded.athlete_id, entries)
            work.keep_talk(loaded.athlete_id, '{"welcomed":true}')


def rate(program: list[str], environment: dict[str, str], *, logs: int, chats: int,
         latency_s: float) -> float:  # fmt: skip
    """Logs answered per second by a program that is given the service's address. [1/s]"""
    words = [sys.executable, "-m", "tests.bench.messages", "--service", str(latency_s),
             "--logs", str(logs), "--chats", str(chats)]  # fmt: skip
    service = subprocess.Popen(words, stdout=subprocess.PIPE, stdin=subprocess.PIPE, text=True)
    assert service.stdout is not None
    assert service.stdin is not None
    url = service.stdout.readline().strip()
    told = [word.replace("{url}", url) for word in program]
    clean = {k: v for k, v in os.environ.items() if not k.startswith("WEEKNIGHT_")}
    run = subprocess.Popen(
        told,
        env={**clean, **environment, "WEEKNIGHT_API_URL": url},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        found = json.loads(service.stdout.readline())
    finally:
        run.terminate()
        run.wait(timeout=30)
        service.stdin.close()
        service.wait(timeout=30)
    if found["answers"] < logs:
        raise SystemExit(f"only {found['answers']} of {logs} were answered")
    return float(logs / found["seconds"])


def ours(logs: int, chats: int, latency_s: float) -> float:
    """The rate of ``weeknight serve``, with a new database each time."""
    with tempfile.TemporaryDirectory() as folder:
        from cryptography.fernet import Fernet

        url, key = f"sqlite:///{Path(folder) / 'bench.db'}", Fernet.generate_key().decode()
        known_athletes(url, chats, key)
        settings = {
            "WEEKNIGHT_DATABASE_URL": url,
            "WEEKNIGHT_TOKEN": TOKEN,
            "WEEKNIGHT_KEY": key,
            "WEEKNIGHT_SENDS_PER_S": "1000",
            "WEEKNIGHT_CHAT_SENDS_PER_S": "1000",
        }
        program = [sys.executable, "-m", "bot.cli", "serve"]
        return rate(program, settings, logs=logs, chats=chats, latency_s=latency_s)


def bare(logs: int, chats: int, latency_s: float) -> float:
    """The rate of the echo."""
    at_once = str(AT_ONCE if latency_s else 1)
    program = [sys.executable, "-c", _ECHO, TOKEN, "{url}", at_once]
    return rate(program, {}, logs=logs, chats=chats, latency_s=latency_s)


def main() -> None:
    """Print the figures, or be the chat service."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--logs", type=int, default=2000)
    words.add_argument("--chats", type=int, default=400)
    words.add_argument("--rounds", type=int, default=3)
    words.add_argument("--service", type=float, default=None, help=argparse.SUPPRESS)
    said = words.parse_args()
    if said.service is not None:
        serve_chats(said.logs, said.chats, said.service)
        return
    for latency_s in (0.0, LATER_S):
        found: dict[str, list[float]] = {"ours": [], "bare echo": []}
        for _ in range(said.rounds):
            found["ours"].append(ours(said.logs, said.chats, latency_s))
            found["bare echo"].append(bare(said.logs, said.chats, latency_s))
        print(f"each call takes {1000 * latency_s:.0f} ms:")
        for name, rates in found.items():
            each = ", ".join(f"{r:.0f}" for r in rates)
            print(f"  {name:>9}: {statistics.median(rates):6.0f} logs/s  ({each})")
        ratio = statistics.median(found["ours"]) / statistics.median(found["bare echo"])
        print(f"  ratio {ratio:.2f}", flush=True)


if __name__ == "__main__":
    main()
