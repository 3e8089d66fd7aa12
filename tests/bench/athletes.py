"""How long twenty-six weeks of simulated athletes take, and where the time goes.

    python -m tests.bench.athletes                  # 500 athletes
    python -m tests.bench.athletes --athletes 50

Prints processor seconds for some athletes alone and per evening (median, 95th percentile) of
asking the engine for tonight from the whole record so far; then seconds by the clock for all of
them on every processor. Nothing is asserted.
"""

import argparse
import os
import time
from collections.abc import Callable
from typing import TypeVar

from tests.simulated.crowd import born, outcomes
from tests.simulated.kits import KITS
from tests.simulated.report import percentile
from tests.simulated.rulebook.book import read
from tests.simulated.season import Season, lived

T = TypeVar("T")
ALONE = 10
"""Athletes timed part by part, on one processor."""


def timed(work: Callable[[], T]) -> tuple[float, T]:
    """Seconds of this processor, whatever else the machine does, and result."""
    begins = time.process_time()
    result = work()
    return time.process_time() - begins, result


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--athletes", type=int, default=500)
    words.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    said = words.parse_args()
    asking: list[float] = []
    look = Season.look

    def timed_look(season: Season, day: object) -> object:
        seconds, tonight = timed(lambda: look(season, day))  # type: ignore[arg-type]
        asking.append(seconds)
        return tonight

    Season.look = timed_look  # type: ignore[assignment, method-assign]
    living, reading = 0.0, 0.0
    for number in range(ALONE):
        person, life = born(number)
        seconds, season = timed(lambda p=person, x=life, n=number: lived(p, x, KITS[n % len(KITS)]))
        living += seconds
        reading += timed(lambda s=season: read(s))[0]
    Season.look = look  # type: ignore[method-assign]
    print(f"{ALONE} athletes alone: {living:.2f} s lived, of it {sum(asking):.2f} s in the engine,")
    print(f"{reading:.2f} s read by the rule book")
    print(f"an evening asked: median {1000 * percentile(asking, 50):.1f} ms, "
          f"p95 {1000 * percentile(asking, 95):.1f} ms, {len(asking)} evenings")  # fmt: skip
    many = said.athletes
    begins = time.perf_counter()
    found = list(outcomes(range(many), processes=said.processes))
    seconds = time.perf_counter() - begins
    evenings = sum(o.evenings for o in found)
    print(f"{many} athletes, {evenings} evenings, with both plain ways and the rule book: "
          f"{seconds:.1f} s on {said.processes} processes")  # fmt: skip


if __name__ == "__main__":
    main()
