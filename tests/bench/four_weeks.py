"""How long four weeks take to replay, beside what merely loading the libraries takes.

    .venv/bin/python tests/bench/four_weeks.py

Prints medians in seconds and their ratios within this run. Whole processes, nothing cached
between them but compiled files.
"""

import statistics
import subprocess
import sys
import time
from pathlib import Path

RUNS = 5
SCENARIO = Path(__file__).parents[1] / "scenarios" / "four-weeks.txt"
INSIDE = """
import sys, time
from bot.adapters.replay import Replay
from bot.adapters.scenario import parse_scenario
from bot.clock import HandClock
from bot.wiring import IN_MEMORY, open_house
begins = time.perf_counter()
scenario = parse_scenario(open(sys.argv[1], encoding="utf-8").read())
clock = HandClock(scenario.begins)
with open_house(IN_MEMORY, clock=clock) as house:
    list(Replay(house.service, clock, house.deliver("terminal")).play(scenario))
print(time.perf_counter() - begins)
"""


def whole_s(*words: str) -> float:
    begins = time.perf_counter()
    subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begins


def inside_s() -> float:
    """The replay alone: database, reader and dialogue, without loading the libraries."""
    words = [sys.executable, "-c", INSIDE, str(SCENARIO)]
    return float(subprocess.run(words, check=True, capture_output=True, text=True).stdout)


def main() -> None:
    libraries = "import sqlmodel, lark, pydantic_settings, typer"
    rows = {
        "libraries alone": lambda: whole_s("-c", libraries),
        "replay, whole process": lambda: whole_s("-m", "bot.cli", "replay", str(SCENARIO)),
        "replay, libraries loaded": inside_s,
    }
    figures: dict[str, list[float]] = {name: [] for name in rows}
    for _ in range(RUNS):
        for name, measure in rows.items():
            figures[name].append(measure())
    base = statistics.median(figures["libraries alone"])
    for name, seconds in figures.items():
        middle = statistics.median(seconds)
        print(f"{name:26} {middle:6.2f} s   {middle / base:5.2f} x")


if __name__ == "__main__":
    main()
