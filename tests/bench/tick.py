"""What a tick costs with a million athletes against ten thousand, the same number being due.

    python -m tests.bench.tick [--many 1000000] [--few 10000] [--due 200]

For each size a database of SQLite in a file, filled without the program, in which every athlete
has a reminder planned for later and some have one due now; then, in a process of its own, the
program's tick until all of those are said, and ticks with nothing due. Prints processor time per
moment said, time per empty tick, and how much memory the process holds then; and the ratios within
this run. Nothing is asserted.
"""

import argparse
import json
import os
import resource
import sqlite3
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

from bot.clock import HandClock
from bot.ports import Chat, Due
from bot.wiring import open_house
from core.facts import Entry, EveningsPlanned, Fact, KitChanged, PlateCount, SettingChanged

NOW = datetime(2026, 12, 1, 18, 0, tzinfo=UTC)
LATER = NOW + timedelta(days=2)
EMPTY_TICKS = 2000
BATCH = 50_000
FACTS: tuple[Fact, ...] = (
    SettingChanged("zone", "Europe/Oslo"),
    SettingChanged("age", "34"),
    KitChanged(plates=(PlateCount(Decimal(5), 4),), pin_kg=Decimal(1), edges_mm=(20,)),
    EveningsPlanned(("tue", "thu"), "19:30", 60),
)


def fill(path: Path, athletes: int, due: int) -> None:
    """Athletes with a reminder each; the first ones have kit, plan, and a reminder due now."""
    with open_house(f"sqlite:///{path}", clock=HandClock(NOW)) as house, house.store.work() as work:
        entries = [Entry(n, n, NOW, NOW.date(), fact) for n, fact in enumerate(FACTS, start=1)]
        for number in range(due):
            loaded = work.open(Chat("terminal", number), at=NOW)
            work.append(loaded.athlete_id, entries)
            evening_ends = NOW + timedelta(hours=2)
            work.plan(loaded.athlete_id, [Due("reminder", f"{number}", NOW, evening_ends)])
    with sqlite3.connect(path) as database:
        talk, opened, at = database.execute(
            "select a.talk, a.opened_at, d.at from athlete a join due d on d.athlete_id = a.id"
        ).fetchone()
        later = at.replace(f"{NOW:%Y-%m-%d}", f"{LATER:%Y-%m-%d}")
        for first in range(due, athletes, BATCH):
            chats = range(first, min(first + BATCH, athletes))
            database.executemany(
                "insert into athlete (id, adapter, chat_id, opened_at, talk)"
                " values (?, 'terminal', ?, ?, ?)",
                ((n + 1, n, opened, talk) for n in chats),
            )
            database.executemany(
                "insert into due (athlete_id, kind, key, at, due_at, until, state)"
                " values (?, 'reminder', 'later', ?, ?, ?, 'pending')",
                ((n + 1, later, later, later) for n in chats),
            )
        database.execute("analyze")


def measure(path: Path) -> None:
    """Say what is due, then look again and again where nothing is."""
    clock = HandClock(NOW + timedelta(minutes=1))
    with open_house(f"sqlite:///{path}", clock=clock) as house:
        begins = time.process_time()
        said = 0
        while looked_at := house.service.tick():
            said += looked_at
        saying_s = time.process_time() - begins
        begins = time.process_time()
        for _ in range(EMPTY_TICKS):
            house.service.tick()
        empty_s = time.process_time() - begins
    kept_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        json.dumps(
            {
                "said": said,
                "ms": 1000 * saying_s / said,
                "empty": 1000 * empty_s / EMPTY_TICKS,
                "mb": kept_mb,
            }
        )
    )


def figures(athletes: int, due: int, folder: Path) -> dict[str, float]:
    """What a process of its own finds with so many athletes."""
    path = folder / f"{athletes}.db"
    fill(path, athletes, due)
    words = [sys.executable, "-m", "tests.bench.tick", "--file", str(path)]
    run = subprocess.run(words, check=True, stdout=subprocess.PIPE, text=True)
    found: dict[str, float] = json.loads(run.stdout.splitlines()[-1])
    return found


def main() -> None:
    """Print the figures, or be the process that is measured."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--many", type=int, default=1_000_000)
    words.add_argument("--few", type=int, default=10_000)
    words.add_argument("--due", type=int, default=200)
    words.add_argument("--file", type=Path, default=None, help=argparse.SUPPRESS)
    said = words.parse_args()
    if said.file is not None:
        measure(said.file)
        return
    with tempfile.TemporaryDirectory() as folder:
        os.environ["WEEKNIGHT_KEY_FILE"] = str(Path(folder) / "keys" / "key")
        few = figures(said.few, said.due, Path(folder))
        many = figures(said.many, said.due, Path(folder))
    for name, athletes, found in (("few", said.few, few), ("many", said.many, many)):
        print(
            f"{name:>5}: {athletes:>9} athletes; {found['said']:.0f} due, {found['ms']:.2f} ms each"
            f"; nothing due: {found['empty']:.3f} ms; {found['mb']:.0f} MB in all"
        )
    more = (said.many - said.few) / 10_000
    print(
        f"ratio {many['ms'] / few['ms']:.2f} due, {many['empty'] / few['empty']:.2f} nothing due;"
    )
    print(f"{(many['mb'] - few['mb']) / more:.3f} MB for each further 10,000 idle athletes")


if __name__ == "__main__":
    main()
