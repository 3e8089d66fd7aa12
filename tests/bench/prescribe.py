"""How long prescribing takes with a year of history behind it: one exercise, and all of an evening.

    python tests/bench/prescribe.py

Twice: with a record that nothing was derived from yet, as after a start of the program, and
as it is asked while the program runs. Times are processor time, the best of several runs, and
stand beside a plain loop over the same record in the same run. Never asserted.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from time import process_time

from core.athlete import Athlete, DatedLog
from core.catalogue import HoldRange, LoadedHold, RepRange, SlowReps, get_exercise
from core.facts import Asked, BandOwned, Effort, Logged, PlateCount, SetDone
from core.history import sides_of
from core.kit.inventory import Inventory
from core.planning import evening
from core.progression import next_targets

SLUGS = (
    "half-crimp", "open-hand", "wide-pinch", "wide-pull-up", "lock-off", "long-lever-plank",
    "l-sit", "cross-plank", "cossack-squat", "pancake", "side-split", "push-up",
)  # fmt: skip
EVENINGS = 156
BUDGET_MS = 5.0
RUNS = 9
EFFORTS: tuple[Effort, ...] = ("ok", "easy", "ok", "hard", "ok")


def year() -> tuple[Athlete, date]:
    """An invented year: three evenings a week, eight of 12 exercises, and the day after."""
    first = date(2026, 1, 6)
    logs = []
    for n in range(EVENINGS):
        day = first + timedelta(days=n * 364 // EVENINGS)
        for slug in tonight(n):
            logs.append(DatedLog(len(logs) + 1, day, _log(slug, n)))
    plates = tuple(PlateCount(Decimal(kg), 4) for kg in ("10", "5", "2.5", "1.25", "0.5"))
    bands = (BandOwned("red", Decimal(6)), BandOwned("green", Decimal(14)))
    kit = Inventory(plates=plates, pin_kg=Decimal("1.2"), edges_mm=(20, 15), bands=bands,
                    grips=("half-crimp", "open-hand", "wide-pinch"))  # fmt: skip
    return Athlete(body_kg=Decimal(70), kit=kit, logs=tuple(logs)), first + timedelta(days=365)


def tonight(n: int) -> tuple[str, ...]:
    """Eight of the twelve, as an hour allows: half crimp always, the others in turn."""
    return (SLUGS[0], *(slug for i, slug in enumerate(SLUGS[1:]) if (i + n) % 3))


def _log(slug: str, n: int) -> Logged:
    exercise, effort = get_exercise(slug), EFFORTS[n % len(EFFORTS)]
    dose = exercise.dose
    load_kg = Decimal(20) + Decimal(n // 10) / 2 if isinstance(dose, LoadedHold) else None
    if isinstance(dose, RepRange | HoldRange) and dose.share:
        load_kg = Decimal(0)
    reps = 7 if isinstance(dose, RepRange) else 6 if isinstance(dose, SlowReps) else None
    hold_s = None if reps else 10 if isinstance(dose, LoadedHold | HoldRange) else 20
    sets = tuple(
        SetDone(side, load_kg, reps=reps, hold_s=hold_s, effort=effort)
        for side in sides_of(slug)
        for _ in range(dose.sets)
    )
    asked = tuple(Asked(side, dose.sets, reps, hold_s, load_kg) for side in sides_of(slug))
    return Logged(slug, 20 if exercise.edged else None, sets, asked, None, "")


def plain_loop(athlete: Athlete) -> int:
    """Every set of the record looked at once."""
    return sum(1 for dated in athlete.logs for done in dated.log.sets if done.effort != "fail")


def anew(athlete: Athlete) -> Athlete:
    """The athlete with nothing derived from the record, as after a start of the program."""
    return replace(athlete, walks={})


def next_day(athlete: Athlete) -> Athlete:
    """The athlete on a day after training, where the program has been running all along."""
    last = athlete.logs[-1].day
    begun = replace(athlete, logs=tuple(d for d in athlete.logs if d.day < last), walks={})
    evening(begun, today=last)
    return replace(begun, logs=athlete.logs)


def best_ms(
    work: Callable[[Athlete], object], athlete: Athlete, *, ready: Callable[[Athlete], Athlete]
) -> float:
    """The shortest of several runs, each on an athlete made ready for it. [ms]"""
    times = []
    for _ in range(RUNS):
        fresh = ready(athlete)
        start = process_time()
        work(fresh)
        times.append(1000 * (process_time() - start))
    return min(times)


def main() -> None:
    """Print the figures."""
    athlete, today = year()
    loop_ms = best_ms(plain_loop, athlete, ready=anew)
    sets = sum(len(d.log.sets) for d in athlete.logs)
    print(
        f"{EVENINGS} evenings, {len(athlete.logs)} logs, {sets} sets; a plain loop {loop_ms:.2f} ms"
    )

    def all_of_them(fresh: Athlete) -> None:
        for slug in SLUGS:
            next_targets(fresh, slug, today=today)

    works: list[tuple[str, Callable[[Athlete], object]]] = [
        ("half crimp", lambda fresh: next_targets(fresh, "half-crimp", today=today)),
        ("plank", lambda fresh: next_targets(fresh, "long-lever-plank", today=today)),
        ("all twelve", all_of_them),
        ("the evening", lambda fresh: evening(fresh, today=today)),
    ]
    print("                 after a start     the day after training")
    for name, work in works:
        cold_ms = best_ms(work, athlete, ready=anew)
        warm_ms = best_ms(work, athlete, ready=next_day)
        print(
            f"{name:>12}: {cold_ms:6.2f} ms ({cold_ms / loop_ms:4.1f} loops)"
            f" {warm_ms:6.2f} ms ({warm_ms / loop_ms:4.1f} loops)"
        )
    print(f"aim: the evening under {BUDGET_MS:.0f} ms")


if __name__ == "__main__":
    main()
