"""What sealing costs: a year's record read anew, one message, and the start.

    .venv/bin/python tests/bench/sealing.py

Prints medians and their ratios within this run, sealed beside unsealed; and the same values
through Fernet, the same library's ready-made recipe, for which the choice was not made.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

from cryptography.fernet import Fernet, MultiFernet

from bot.clock import HandClock
from bot.ports import Chat, Inbound
from bot.seal import Ring, Seal, Unsealed, new_key
from bot.service import Service
from bot.storage import SqlStore, make_engine, migrate
from bot.storage.rows import fact_json
from core.facts import Asked, Entry, Logged, SetDone

FACTS = 1300
"""A year of three evenings a week with eight exercises each."""
RUNS = 15
MESSAGES = 40
CHAT = Chat("terminal", 1)
BEGINS = datetime(2026, 1, 5, 19, 0, tzinfo=UTC)
SETS = tuple(SetDone("both", Decimal("22.5"), hold_s=10, effort="ok") for _ in range(4))
ASKED = (Asked("left", 4, None, 10, Decimal("22.5")), Asked("right", 4, None, 10, Decimal("22.5")))


def fact(number: int) -> Entry:
    at = BEGINS + timedelta(hours=6 * number)
    log = Logged("half-crimp", 20, SETS, ASKED, None, "crimp 4x22.5kg ok")
    return Entry(number, number, at, date(2026, 1, 5) + timedelta(days=number // 4), log)


def filled(folder: Path, name: str, seal: Seal) -> Callable[[], SqlStore]:
    """A way to open, as after a start, a database that holds a year of one athlete."""
    url = f"sqlite:///{folder / name}"
    migrate(url)
    engine = make_engine(url)
    with SqlStore(engine, lambda: seal).work() as work:
        athlete = work.open(CHAT, at=BEGINS)
        work.append(athlete.athlete_id, [fact(number) for number in range(1, FACTS + 1)])
    return lambda: SqlStore(engine, lambda: seal)


def median_ms(act: Callable[[], object], runs: int = RUNS) -> float:
    """Of this processor's time, whatever else the machine does."""
    times = []
    for _ in range(runs):
        begins = time.process_time()
        act()
        times.append((time.process_time() - begins) * 1000)
    return statistics.median(times)


def read_anew(opened: Callable[[], SqlStore]) -> None:
    with opened().read() as work:
        loaded = work.load(CHAT)
    assert loaded is not None
    assert len(loaded.entries) == FACTS


def one_message(opened: Callable[[], SqlStore]) -> Callable[[], None]:
    """Answers one message after another, the record in memory."""
    service = Service(opened(), HandClock(BEGINS + timedelta(days=365)))
    numbers = iter(range(1, 10_000))

    def act() -> None:
        at = BEGINS + timedelta(days=365)
        for inbound in service.keep([Inbound(CHAT, "bench", next(numbers), "units kg", False, at)]):
            service.handle(inbound)

    act()
    return act


def import_ms(module: str) -> float:
    """Loading that module into a program that has its other libraries already."""
    code = (
        "import time, sqlmodel, lark, pydantic_settings, typer; begins = time.process_time()\n"
        f"import {module}; print((time.process_time() - begins) * 1000)"
    )
    words = [sys.executable, "-c", code]
    done = [subprocess.run(words, check=True, capture_output=True, text=True) for _ in range(5)]
    return statistics.median(float(each.stdout) for each in done)


def show(name: str, ms: float, base: float) -> None:
    print(f"{name:44} {ms:8.2f} ms   {ms / base:5.2f} x")


def main() -> None:
    ring = Ring([new_key()])
    with tempfile.TemporaryDirectory() as folder:
        plain = filled(Path(folder), "plain.db", Unsealed())
        sealed = filled(Path(folder), "sealed.db", ring)
        open_ms = median_ms(lambda: read_anew(plain))
        show("a year's record read anew, unsealed", open_ms, open_ms)
        show("a year's record read anew, sealed", median_ms(lambda: read_anew(sealed)), open_ms)
        message_ms = median_ms(one_message(plain), MESSAGES)
        show("one message, unsealed", message_ms, message_ms)
        show("one message, sealed", median_ms(one_message(sealed), MESSAGES), message_ms)
        sizes = [
            sum(file.stat().st_size for file in Path(folder).glob(f"{name}.db*"))
            for name in ("plain", "sealed")
        ]
        print(f"{'the file, sealed beside unsealed':44} {sizes[1] / sizes[0]:27.2f} x")
    bodies = [fact_json(fact(number).fact) for number in range(1, FACTS + 1)]
    fernet = MultiFernet([Fernet(Fernet.generate_key())])
    ours = [ring.seal(body, owner="athlete:1", place="fact.body") for body in bodies]
    theirs = [fernet.encrypt(body.encode()) for body in bodies]
    ours_ms = median_ms(
        lambda: [ring.open(each, owner="athlete:1", place="fact.body") for each in ours]
    )
    show("opening a year's values, as here", ours_ms, ours_ms)
    show(
        "opening a year's values, Fernet",
        median_ms(lambda: [*map(fernet.decrypt, theirs)]),
        ours_ms,
    )
    cipher = "cryptography.hazmat.primitives.ciphers.aead"
    print(f"{'loading the cipher, once a start':44} {import_ms(cipher):8.2f} ms")


if __name__ == "__main__":
    main()
