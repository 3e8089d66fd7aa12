"""Twenty-six weeks of many simulated athletes, and what became of them.

    python -m tests.simulated.run --athletes 500
    python -m tests.simulated.run --only 7        # one athlete's broken rules and half crimp

Prints how the loads settle by kit, which rules were broken with an example each, and the
engine beside two plain ways of adding weight.
"""

import argparse
import os
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from tests.simulated.crowd import SEED, Outcome, outcome_of, outcomes, season_of
from tests.simulated.kits import KITS
from tests.simulated.plain_ways import Tally
from tests.simulated.rulebook.book import TO_THE_DAY
from tests.simulated.rulebook.breach import told


@dataclass(frozen=True, slots=True)
class Shares:
    """Counts of athletes whose record says something."""

    of: int
    settled: int
    hunting: int

    @property
    def settled_percent(self) -> float:
        """Athletes whose both hands settled, and none hunts. [%]"""
        return 100 * self.settled / self.of if self.of else float("nan")


def shares(found: Sequence[Outcome]) -> Shares:
    """How many settle and do not hunt, of those who trained enough to tell."""
    told_by = [o for o in found if o.hands and all(h.settled is not None for h in o.hands)]
    calm = [o for o in told_by if all(h.settled and not h.hunts for h in o.hands)]
    hunting = sum(any(h.hunts for h in o.hands) for o in told_by)
    return Shares(len(told_by), len(calm), hunting)


def with_window(found: Sequence[Outcome]) -> list[Outcome]:
    """Those whose kit makes a load of 80 to 95 % for both hands."""
    return [o for o in found if o.hands and all(h.window for h in o.hands)]


def stepping(found: Sequence[Outcome], most: float) -> list[Outcome]:
    """Of those, the ones whose plates step through the window by at most that ratio."""
    return [o for o in with_window(found) if all(h.step <= most for h in o.hands)]


def unhurt(found: Sequence[Outcome]) -> list[Outcome]:
    """Those without finger pain in the first sixteen sessions."""
    return [o for o in found if not any(h.hurt for h in o.hands)]


def able(found: Sequence[Outcome]) -> list[Outcome]:
    """Those for whom nothing but the engine decides: steps of 5 % at most, fingers well."""
    return unhurt(stepping(found, 1.05))


def percentile(values: Sequence[float], percent: int) -> float:
    """That percentile, nearest rank."""
    ranked = sorted(values)
    return ranked[min(len(ranked) - 1, len(ranked) * percent // 100)] if ranked else float("nan")


def settling_lines(found: Sequence[Outcome]) -> list[str]:
    """The distribution by kit."""
    lines = ["half crimp, part of the true maximum prescribed from the 9th session on"]
    lines.append(f"{'kit':13}{'athletes':>9}{'p5':>6}{'p25':>6}{'p50':>6}{'p75':>6}{'p95':>6}"
                 f"{'settled':>9}{'hunting':>9}")  # fmt: skip
    groups = {k.name: [o for o in found if o.kit == k.name] for k in KITS}
    groups |= {
        "all": list(found),
        "window": with_window(found),
        "steps <= 10%": stepping(found, 1.1),
        "steps <= 5%": stepping(found, 1.05),
        "and unhurt": able(found),
    }
    for name, group in groups.items():
        parts = [p for o in group for h in o.hands for p in h.parts[8:]]
        said = shares(group)
        spread = "".join(f"{percentile(parts, p):6.2f}" for p in (5, 25, 50, 75, 95))
        lines.append(f"{name:13}{said.of:9}{spread}{said.settled_percent:8.1f}%{said.hunting:9}")
    return lines


def rule_lines(found: Sequence[Outcome], *, examples: int = 1) -> list[str]:
    """Rules that were broken, how often, by how many athletes, with examples."""
    counts = Counter(b.rule for o in found for b in o.breaches)
    targets, letter = sum(o.targets for o in found), counts.pop(TO_THE_DAY, 0)
    lines = [
        f"{sum(counts.values())} broken rules in {targets} targets; {letter} finger targets over "
        "110 % of the last session 28 days old (to the letter; our reading takes the fortnight up "
        "to then)"
    ]
    for rule, count in counts.most_common():
        who = [(o, b) for o in found for b in o.breaches if b.rule == rule]
        lines.append(f"{rule:22}{count:6} in {len({o.number for o, _ in who})} athletes")
        shown = {o.number: (o, b) for o, b in reversed(who)}
        for o, b in list(reversed(shown.values()))[:examples]:
            lines.append(f"    {o.number} ({o.kit}) {b.day}: {b.what}")
    return lines


def gap_lines(found: Sequence[Outcome]) -> list[str]:
    """First loads of a line, and after the gap, over the true maximum."""
    begun = [p for o in found for p in o.starts]
    lines = [
        f"first loads of {len(begun)} lines from the floor: median {percentile(begun, 50):.2f}, "
        f"most {max(begun, default=0):.2f} of the true maximum; {sum(p > 1 for p in begun)} above"
    ]
    for name, days in (("21 days", range(21, 22)), ("30 to 60 days", range(22, 99))):
        firsts = [r for o in found if o.gap_days in days for r in o.returns]
        parts = [r.part for r in firsts]
        over = [r for r in firsts if r.part > 1]
        forced = sum(r.lightest for r in over)
        lines.append(
            f"after {name} off: {len(parts)} first loads, median {percentile(parts, 50):.2f}, most "
            f"{max(parts, default=0):.2f} of the true maximum; {len(over)} above it, {forced} of "
            "them where the kit has no lighter load"
        )
    return lines


def way_lines(found: Sequence[Outcome]) -> list[str]:
    """The engine beside the plain ways."""
    lines = [f"{'':22}{'sets':>8}{'failed per 100':>16}{'gain of maximum':>17}"]
    for name in ("engine", "fixed", "repeat"):
        tallies: list[Tally] = [t for o in found if (t := getattr(o, name)) is not None]
        sets, failed = sum(t.sets for t in tallies), sum(t.failed for t in tallies)
        gain = sum(t.gain for t in tallies) / max(1, len(tallies))
        rate = 100 * failed / max(1, sets)
        lines.append(f"{name:22}{sets:8}{rate:16.1f}{100 * gain:16.1f}%")
    return lines


def report(found: Sequence[Outcome], *, examples: int = 1) -> str:
    """All of it."""
    parts = (
        settling_lines(found),
        gap_lines(found),
        way_lines(found),
        rule_lines(found, examples=examples),
    )
    return "\n\n".join("\n".join(p) for p in parts)


def one_line(number: int, seed: int) -> str:
    """One athlete: the half crimp target by target, and what was broken."""
    lines = [f"{b.day} {b.rule}: {b.what}" for b in outcome_of(number, seed=seed).breaches]
    for shown in season_of(number, seed=seed).shown:
        items = (*shown.evening.items, *shown.evening.stopped)
        for item in (i for i in items if i.exercise.block == "fingers"):
            lines += [f"{shown.evening.day} {told(t)}" for t in item.targets]
    return "\n".join(lines)


def main() -> None:
    """Read the words and print."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--athletes", type=int, default=40)
    words.add_argument("--seed", type=int, default=SEED)
    words.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    words.add_argument("--examples", type=int, default=1)
    words.add_argument("--only", type=int)
    said = words.parse_args()
    if said.only is not None:
        print(one_line(said.only, said.seed))
        return
    found = list(outcomes(said.athletes, seed=said.seed, processes=said.processes))
    print(report(found, examples=said.examples))


if __name__ == "__main__":
    main()
