"""How much of the rate that the chat service grants is used, and whether it ever says "too many".

    python -m tests.bench.outbound [--per-s 30] [--messages 900]

Reminders for so many chats wait in a database of SQLite in a file; a courier sends them over real
HTTP to a double, in a process of its own, that refuses what comes faster than it allows: a second's
worth at once after a silence, and no more than the rate from then on. Prints the rate from the
first message to the last against the one that was set. Nothing is asserted.
"""

import argparse
import asyncio
import json
import os
import subprocess
import sys
import tempfile
import time
from datetime import timedelta
from pathlib import Path

from bot.adapters.telegram import TelegramChannel, open_account
from bot.clock import SystemClock
from bot.delivery.courier import Courier
from bot.delivery.limits import CHAT_BURST, CHAT_PER_S
from bot.ports import Chat, Outgoing, SendLimits
from bot.wiring import House, open_house
from tests.double.bot_api import TOKEN, BotApiDouble

FIRST_CHAT = 1000


def take(messages: int, per_s: float) -> None:
    """The chat service: gives its address, then when the first and the last message came."""
    with BotApiDouble() as double:
        double.allow(per_s=per_s, burst=round(per_s))
        chats = range(FIRST_CHAT, FIRST_CHAT + messages)
        for chat_id in chats:
            double.meet(chat_id)
        print(double.api_url, flush=True)
        first_s: float | None = None
        came = 0
        gives_up = time.monotonic() + 60 + 3 * messages / per_s
        while came < messages and time.monotonic() < gives_up:
            time.sleep(0.005)
            came = len(double.calls("sendmessage")) - double.refused_for_haste()
            if came and first_s is None:
                first_s = time.monotonic()
        lasted_s = time.monotonic() - (first_s or 0.0)
        refused = double.refused_for_haste()
        print(json.dumps({"came": came, "lasted_s": lasted_s, "refused": refused}), flush=True)
        sys.stdin.read()


def queue(house: House, messages: int) -> None:
    """A reminder waits for each of so many people."""
    now = house.clock.now()
    with house.store.work() as work:
        for number in range(messages):
            loaded = work.open(Chat("telegram", FIRST_CHAT + number), at=now)
            until = now + timedelta(hours=2)
            words = Outgoing("reminder", "An evening at home at 19:30.")
            work.queue(loaded.athlete_id, [words], at=now, until=until)


async def send(house: House, url: str, messages: int, limits: SendLimits) -> None:
    """Send until nothing waits."""
    account = open_account(TOKEN, api_url=url)
    await account.request.initialize()
    channels = {"telegram": TelegramChannel(account)}
    courier = Courier(house.store, channels, house.clock, limits=limits)
    try:
        sent = 0
        while sent < messages:
            sent += await courier.deliver("telegram")
    finally:
        await account.request.shutdown()


def main() -> None:
    """Print the figures, or be the chat service."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--messages", type=int, default=900)
    words.add_argument("--per-s", type=float, default=30.0)
    words.add_argument("--service", action="store_true", help=argparse.SUPPRESS)
    said = words.parse_args()
    if said.service:
        take(said.messages, said.per_s)
        return
    program = [sys.executable, "-m", "tests.bench.outbound", "--service"]
    program += ["--messages", str(said.messages), "--per-s", str(said.per_s)]
    with tempfile.TemporaryDirectory() as folder:
        os.environ["WEEKNIGHT_KEY_FILE"] = str(Path(folder) / "keys" / "key")
        service = subprocess.Popen(
            program, stdout=subprocess.PIPE, stdin=subprocess.PIPE, text=True
        )
        assert service.stdout is not None
        assert service.stdin is not None
        url = service.stdout.readline().strip()
        limits = SendLimits(said.per_s, CHAT_PER_S, CHAT_BURST)
        with open_house(f"sqlite:///{folder}/bench.db", clock=SystemClock()) as house:
            queue(house, said.messages)
            asyncio.run(send(house, url, said.messages, limits))
        found = json.loads(service.stdout.readline())
        service.stdin.close()
        service.wait(timeout=30)
    rate = (found["came"] - 1) / found["lasted_s"]
    print(
        f"{found['came']} of {said.messages} messages in {found['lasted_s']:.1f} s: {rate:.1f}/s, "
        f"{100 * rate / said.per_s:.1f} % of {said.per_s:g}/s; refused as too many: "
        f"{found['refused']}"
    )


if __name__ == "__main__":
    main()
