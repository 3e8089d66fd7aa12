"""How long a year of history takes: the strength of every line of an evening.

Run: python tests/bench/strength.py. Nothing is asserted; a line should take less than 1 ms.
"""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from statistics import median
from time import process_time

from core.athlete import Athlete, DatedLog
from core.facts import Effort, Logged, SetDone, Side
from core.history import stream_of
from core.strength import strength_from
from core.strength.fold import fold

YEAR = 364
EVENINGS = (1, 3, 5)
ROUNDS = 15
EFFORTS: tuple[Effort, ...] = ("ok", "hard", "easy", "ok", "limit")
GRIPS = ("half-crimp", "wide-pinch", "open-hand")
HANDS: tuple[Side, ...] = ("left", "right")
PULLS: tuple[tuple[str, Side], ...] = (("wide-pull-up", "both"), ("lock-off", "both"))
LINES = (*((slug, side) for slug in GRIPS for side in HANDS), *PULLS)


def a_year() -> Athlete:
    """Three evenings a week; every third session ends with a harder set."""
    logs: list[DatedLog] = []
    for day in (d for d in range(YEAR) if d % 7 in EVENINGS):
        for place, (slug, side) in enumerate(LINES):
            if side == "right":
                continue
            kg, effort = Decimal(18 + day // 60 + (day + place) % 3), EFFORTS[day % 5]
            if slug == "wide-pull-up":
                sets = tuple(SetDone("both", Decimal(0), reps=6, effort=effort) for _ in range(3))
            elif slug == "lock-off":
                sets = tuple(SetDone("both", None, hold_s=8, effort=effort) for _ in range(3))
            else:
                sets = tuple(SetDone("both", kg, hold_s=10, effort=effort) for _ in range(4))
            if day % 3 == 0:
                sets = (*sets[:-1], SetDone("both", sets[0].load_kg, reps=sets[0].reps,
                                            hold_s=sets[0].hold_s, effort="hard"))  # fmt: skip
            log = Logged(slug, None, sets, (), None, "")
            logs.append(DatedLog(len(logs) + 1, date(2026, 1, 1) + timedelta(days=day), log))
    return Athlete(body_kg=Decimal(70), logs=tuple(logs))


def once_each(athlete: Athlete, today: date) -> float:
    """Milliseconds of processor time per line, nothing remembered from before."""
    athlete = replace(athlete, walks={})
    lines = [stream_of(athlete, slug, side=side, edge_mm=None) for slug, side in LINES]
    begun = process_time()
    found = [strength_from(athlete, line, today=today) for line in lines]
    spent = process_time() - begun
    if any(one is None for one in found) or fold(athlete, lines[0]).doubted:
        raise SystemExit("the made-up year is not what it should be")
    return spent / len(lines) * 1000


def main() -> None:
    """Print the median and the slowest of some rounds."""
    athlete, today = a_year(), date(2027, 1, 1)
    spent = [once_each(athlete, today) for _ in range(ROUNDS)]
    print(f"{len(athlete.logs)} logs, {len(LINES)} lines, nothing remembered from before:")
    print(f"{median(spent):.2f} ms a line (slowest round {max(spent):.2f})")


if __name__ == "__main__":
    main()
