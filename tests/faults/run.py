"""Many random runs: ``python -m tests.faults.run --runs 200 --seed 1``.

Each is a real process of the program with a database of its own, faults from the double, and
one or two kills -9. Prints what did not hold, with the seed that shows it again, and a table.
``--replicas`` runs three processes on one PostgreSQL instead: see ``tests/faults/replicas.py``.
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from datetime import UTC, datetime

from bot.wiring import House, open_house
from tests.double.bot_api import BotApiDouble
from tests.faults.place import Place, made, postgresql
from tests.faults.plan import CHATS, BackEnd, Plan, draw
from tests.faults.play import Played, Player
from tests.faults.verdict import Verdict, judge

BACK_ENDS: tuple[BackEnd, ...] = ("sqlite", "postgresql")


@contextmanager
def play(plan: Plan, place: Place) -> Iterator[tuple[Played, BotApiDouble, House]]:
    """One run, and what is left of it: what was done, the chat service, the database."""
    url = place.database(plan.back_end)
    try:
        with BotApiDouble() as double:
            for chat_id in CHATS:
                double.meet(chat_id)
            played = Player(plan, double, url, now=datetime.now(UTC)).play()
            with open_house(url, make=False) as house:
                yield played, double, house
    finally:
        place.drop(url)


def run(plan: Plan, place: Place) -> Verdict:
    """One run and what it came to."""
    with play(plan, place) as left:
        return judge(*left)


def main() -> None:
    """Run what the command line asks for; exit 1 if something did not hold."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--at-once", type=int, default=2, help="runs side by side")
    parser.add_argument("--minutes", type=float, default=60.0, help="begin no run after that")
    parser.add_argument("--back-end", choices=BACK_ENDS, help="default: both in turn")
    parser.add_argument("--replicas", action="store_true", help="three processes, 5,000 reminders")
    asked = parser.parse_args()
    if asked.replicas:
        from tests.faults.replicas import main as replicas

        replicas()
        return
    back_ends = (asked.back_end,) if asked.back_end else BACK_ENDS
    plans = [draw(asked.seed + n, back_ends[n % len(back_ends)]) for n in range(asked.runs)]
    deadline = time.monotonic() + 60 * asked.minutes
    with ExitStack() as stack:
        server = stack.enter_context(postgresql()) if "postgresql" in back_ends else None
        place = stack.enter_context(made(CHATS, server=server))

        def tell(plan: Plan) -> tuple[Plan, Verdict] | None:
            if time.monotonic() > deadline:
                return None
            try:
                verdict = run(plan, place)
            except Exception as error:
                verdict = Verdict((f"the run itself failed: {error!r:.300}",), Counter())
            for fault in verdict.faults:
                print(f"seed {plan.seed} {plan.back_end}: {fault}", flush=True)
            return plan, verdict

        with ThreadPoolExecutor(asked.at_once) as pool:
            done = [each for each in pool.map(tell, plans) if each is not None]
    sys.exit(_report(done))


def _report(done: list[tuple[Plan, Verdict]]) -> int:
    met: Counter[str] = Counter()
    broke: Counter[str] = Counter()
    counts: Counter[str] = Counter()
    for plan, verdict in done:
        for name in {trouble.name for trouble in plan.troubles}:
            met[name] += 1
            broke[name] += bool(verdict.faults)
        met[plan.back_end] += 1
        broke[plan.back_end] += bool(verdict.faults)
        counts += verdict.counts
    print(f"\n{'with':<20}{'runs':>6}{'broke':>7}")
    for name in sorted(met):
        print(f"{name:<20}{met[name]:>6}{broke[name]:>7}")
    print()
    for name, count in sorted(counts.items()):
        print(f"{name:<34}{count:>7}")
    failed = sum(bool(verdict.faults) for _, verdict in done)
    print(f"\n{len(done)} runs, {failed} in which something did not hold")
    return int(failed > 0)


if __name__ == "__main__":
    main()
