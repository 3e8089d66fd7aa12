"""How long a review takes with a year of history behind it, and the training load.

    python -m tests.bench.review

Times are processor time, the best of several runs, each with a record that nothing was derived
from yet, and stand beside adding the same record up. Never asserted.
"""

from collections.abc import Callable
from datetime import UTC, datetime, time, timedelta
from time import process_time

from core.athlete import athlete_from_facts
from core.facts import Entry, EveningsPlanned, Fact, KitChanged, WallVisited
from core.progression import next_targets
from core.review import diary_of, review, training_load
from tests.bench.prescribe import RUNS, SLUGS, year

BUDGET_MS = 20.0


def record() -> tuple[Entry, ...]:
    """The invented year as entries, with a plan and a visit to the wall every week."""
    athlete, today = year()
    first = athlete.logs[0].day
    kit = athlete.kit
    facts: list[tuple[Fact, datetime]] = []
    begin = datetime.combine(first, time(12), UTC)
    facts.append((EveningsPlanned(("mon", "wed", "fri"), "20:00", 60), begin))
    facts.append((KitChanged(plates=kit.plates, pin_kg=kit.pin_kg, edges_mm=kit.edges_mm), begin))
    logs = [(d.log, datetime.combine(d.day, time(20), UTC)) for d in athlete.logs]
    visits = range(0, (today - first).days, 7)
    walls = [
        (WallVisited(first + timedelta(days=n), 120, None), begin + timedelta(days=n))
        for n in visits
    ]
    facts += sorted([*logs, *walls], key=lambda pair: pair[1])
    return tuple(Entry(n, n, at, at.date(), fact) for n, (fact, at) in enumerate(facts, start=1))


def best_ms(work: Callable[[], object]) -> float:
    """The shortest of several runs. [ms]"""
    times = []
    for _ in range(RUNS):
        start = process_time()
        work()
        times.append(1000 * (process_time() - start))
    return min(times)


def main() -> None:
    """Print the figures."""
    entries, today = record(), year()[1]
    added_ms = best_ms(lambda: athlete_from_facts(entries))

    def prescribed() -> None:
        athlete = athlete_from_facts(entries)
        for slug in SLUGS:
            next_targets(athlete, slug, today=today)

    def reviewed() -> None:
        review(athlete_from_facts(entries), diary_of(entries, minutes=60), today=today)

    def weighed() -> None:
        training_load(athlete_from_facts(entries), diary_of(entries, minutes=60), today=today)

    print(f"{len(entries)} entries; adding them up {added_ms:.2f} ms, left out below")
    works = (("twelve targets", prescribed), ("review", reviewed), ("training load", weighed))
    for name, work in works:
        took_ms = best_ms(work) - added_ms
        print(f"{name:>14}: {took_ms:6.2f} ms, {took_ms / added_ms:5.1f} times adding up")
    print(f"aim: a review under {BUDGET_MS:.0f} ms")


if __name__ == "__main__":
    main()
