"""How long the best evening takes to find, beside a general solver on the same evenings.

    .venv/bin/python tests/bench/evening.py

Prints medians in milliseconds and their ratio within this run: for evenings of 13 exercises
with up to six sets each, by budget. The solver's time is its solving alone, without building
its model; ours is everything. Worths are compared, so a wrong answer ends the run.
"""

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from core.planning.optimum import best_choice
from tests.core.planning.random_evening import (
    RandomEvening,
    SolverRun,
    random_evening,
    worth,
)

BUDGETS_MIN = (15, 20, 30, 45, 60, 75, 90, 120, 180)
EVENINGS = 40


def took_ms(act: Callable[[], object]) -> float:
    begins = time.perf_counter()
    act()
    return (time.perf_counter() - begins) * 1000


def best(evening: RandomEvening) -> tuple[int, ...] | None:
    return best_choice(evening.groups, charges_s=evening.charges_s, room_s=evening.room_s)


def main() -> None:
    print("minutes   ours ms  (most)   solver ms   ratio")
    every: list[float] = []
    everywhere: list[float] = []
    for minutes in BUDGETS_MIN:
        ours: list[float] = []
        solver: list[float] = []
        for seed in range(EVENINGS):
            evening = replace(random_evening(seed, fullest=True), room_s=minutes * 60)
            ours.append(min(took_ms(lambda e=evening: best(e)) for _ in range(3)))
            run = SolverRun(evening)
            solver.append(took_ms(run.solve))
            places = best(evening)
            if (None if places is None else worth(evening, places)) != run.worth:
                raise SystemExit(f"evening {seed} of {minutes} min: not the optimum")
        ratio = statistics.median(solver) / statistics.median(ours)
        every += ours
        everywhere += solver
        print(
            f"{minutes:7}   {statistics.median(ours):7.3f} ({max(ours):6.3f})  "
            f"{statistics.median(solver):9.2f}   {ratio:5.0f}"
        )
    print(
        f"all: median {statistics.median(every):.3f} ms, most {max(every):.3f} ms, "
        f"{sum(everywhere) / sum(every):.0f} times faster in all"
    )


if __name__ == "__main__":
    main()
