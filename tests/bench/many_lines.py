"""Whether ``weeknight parse`` keeps its memory while replies go by, and how many a second.

    .venv/bin/python tests/bench/many_lines.py [LINES]     (default 1,000,000; Linux)

Feeds one process generated lines, nearly all different: five in six as people type them,
one in eight with something wrong, the rest hostile. Prints its resident memory on the way.
Nothing is asserted.
"""

import json
import random
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

from core.catalogue import logged_exercises
from core.replies.grammar import grammar_words

LINES = 1_000_000
ROWS = 10
SEED = 20261201
NAMES = [name for one in logged_exercises() for name in (one.name.lower(), *one.aliases)]
WORDS = list(grammar_words())
EFFORTS = ["ok", "hard", "easy", "limit", "fail", "", "2 left", "@8", "last hard"]
STRANGE = "\u200b\u200f\u0301\ud800\x00\ufffd½٣×–“👍🏽İ\U000e0041\\n"


def good_line(chance: random.Random) -> str:
    name, effort = chance.choice(NAMES), chance.choice(EFFORTS)
    number = f"{chance.randint(1, 60)}{chance.choice(['', '.5', '.25', '.75'])}"
    match chance.randrange(5):
        case 0:
            return f"{name} {chance.randint(1, 8)}x{chance.randint(1, 30)} {effort}".strip()
        case 1:
            return f"{name} {chance.randint(1, 8)}x{number}kg {effort}".strip()
        case 2:
            return f"L {number}/{number} R {number}/{number} {effort}".strip()
        case 3:
            return f"bw {chance.randint(400, 1200) / 10}; next {name} # {chance.random()}"
        case _:
            return f"move to {chance.choice(['mon', 'tomorrow', 'fri'])} {chance.randint(0, 23)}:30"


def wrong_line(chance: random.Random) -> str:
    """A good line with one letter dropped, doubled or put in from elsewhere."""
    line = good_line(chance)
    place = chance.randrange(len(line))
    instead = chance.choice(["", line[place] * 2, chance.choice("abcdefghijklmnopqrstuvwxyz")])
    return line[:place] + instead + line[place + 1 :]


def hostile_line(chance: random.Random) -> str:
    match chance.randrange(3):
        case 0:
            return "".join(chance.choices(STRANGE, k=chance.randint(1, 200)))
        case 1:
            return chance.choice(WORDS + list(STRANGE)) * chance.randint(1, 300)
        case _:
            return " ".join(chance.choices(WORDS, k=chance.randint(1, 40)))


def lines(many: int) -> Iterator[str]:
    chance = random.Random(SEED)
    for _ in range(many):
        kind = chance.random()
        if kind < 5 / 6:
            yield good_line(chance)
        else:
            yield wrong_line(chance) if kind < 5 / 6 + 1 / 8 else hostile_line(chance)


def memory_mb(process: int) -> float:
    for line in Path(f"/proc/{process}/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise RuntimeError(f"process {process} has ended")


def main() -> None:
    many = int(sys.argv[1]) if len(sys.argv) > 1 else LINES
    command = [sys.executable, "-m", "bot.cli", "parse", "--at", "2026-12-01T18:00+01:00"]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        assert process.stdin
        assert process.stdout
        sink = process.stdin

        def feed() -> None:
            for line in lines(many):
                sink.write(line.encode("utf-8", "surrogatepass") + b"\n")
            sink.flush()

        threading.Thread(target=feed, daemon=True).start()
        begins = time.perf_counter()
        understood = 0
        for done in range(1, many + 1):
            understood += json.loads(process.stdout.readline())["misread"] is None
            if done % max(many // ROWS, 1) == 0:
                rate = done / (time.perf_counter() - begins)
                print(
                    f"{done:9,} lines  {memory_mb(process.pid):6.1f} MB  {rate:6,.0f} lines/s"
                    f"  {understood / done:4.0%} understood whole",
                    flush=True,
                )
        sink.close()


if __name__ == "__main__":
    main()
