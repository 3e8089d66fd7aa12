"""Twenty-six weeks of many simulated athletes, and what became of them.

    python -m tests.simulated.run --athletes 500
    python -m tests.simulated.run --athletes 500 --keep season.kept   # stop and go on later
    python -m tests.simulated.run --only 7        # one athlete's broken rules and half crimp

Prints how the loads settle by kit, which rules were broken with an example each, and the
engine beside two plain ways of adding weight. Says on the error stream how far it is. When
stopped with Ctrl-C it reports on the athletes that are finished.
"""

import argparse
import os
import sys
import time
from pathlib import Path

from tests.simulated.crowd import SEED, Outcome, outcome_of, outcomes, season_of
from tests.simulated.kept import Kept
from tests.simulated.report import report
from tests.simulated.rulebook.breach import told


def one_line(number: int, seed: int) -> str:
    """One athlete: the half crimp target by target, and what was broken."""
    lines = [f"{b.day} {b.rule}: {b.what}" for b in outcome_of(number, seed=seed).breaches]
    for shown in season_of(number, seed=seed).shown:
        items = (*shown.evening.items, *shown.evening.stopped)
        for item in (i for i in items if i.exercise.block == "fingers"):
            lines += [f"{shown.evening.day} {told(t)}" for t in item.targets]
    return "\n".join(lines)


def gathered(
    athletes: int, *, seed: int, processes: int, every: int, keep: Path | None
) -> tuple[Outcome, ...]:
    """Those finished before and now, in order; all of them, or fewer when stopped."""
    kept = Kept(keep, seed=seed)
    found = {o.number: o for o in kept.before() if o.number < athletes}
    todo = [n for n in range(athletes) if n not in found]
    begins = time.perf_counter()
    try:
        for n, outcome in enumerate(outcomes(todo, seed=seed, processes=processes), start=1):
            found[outcome.number] = outcome
            kept.add(outcome)
            if n % every == 0 or n == len(todo):
                took_s = time.perf_counter() - begins
                left_s = took_s / n * (len(todo) - n)
                print(f"{len(found)} of {athletes} athletes, {took_s:.0f} s, about "
                      f"{left_s:.0f} s to go", file=sys.stderr, flush=True)  # fmt: skip
    except KeyboardInterrupt:
        print(f"stopped: {len(found)} of {athletes} athletes", file=sys.stderr)
    return tuple(found[n] for n in sorted(found))


def main() -> None:
    """Read the words and print."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--athletes", type=int, default=40)
    words.add_argument("--seed", type=int, default=SEED)
    words.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    words.add_argument("--every", type=int, default=10, help="say after so many how far it is")
    words.add_argument("--keep", type=Path, help="file for what is finished, to go on from")
    words.add_argument("--examples", type=int, default=1)
    words.add_argument("--only", type=int)
    said = words.parse_args()
    if said.only is not None:
        print(one_line(said.only, said.seed))
        return
    found = gathered(
        said.athletes,
        seed=said.seed,
        processes=said.processes,
        every=said.every,
        keep=said.keep,
    )
    print(report(found, examples=said.examples))


if __name__ == "__main__":
    main()
