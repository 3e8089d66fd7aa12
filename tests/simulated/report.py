"""What a crowd came to, in words and columns: settling by kit, gaps, plain ways, broken rules."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from tests.simulated.crowd import Outcome
from tests.simulated.figures import HUNTING, LineFigures
from tests.simulated.kits import KITS
from tests.simulated.plain_ways import Tally
from tests.simulated.rulebook.book import TO_THE_DAY


@dataclass(frozen=True, slots=True)
class Shares:
    """Counts of athletes whose record says something.

    ``settled`` by the part of the maximum, ``settled_ten`` by that for ten seconds,
    ``settled_held`` by that of what can be held; ``calm`` settled by the first and do not hunt.
    """

    of: int
    window: int
    settled: int
    settled_ten: int
    settled_held: int
    calm: int
    twice: int
    hunting: int

    def percent(self, count: int) -> float:
        """So many of them. [%]"""
        return 100 * count / self.of if self.of else float("nan")


def shares(found: Sequence[Outcome]) -> Shares:
    """How many settle and how many hunt, of those who trained enough to tell."""
    hands = [o.hands for o in found if o.hands and all(h.settled is not None for h in o.hands)]
    hunting = [any(h.turns >= HUNTING for h in two) for two in hands]
    settled = [all(h.settled for h in two) for two in hands]
    return Shares(
        of=len(hands),
        window=sum(all(h.window for h in two) for two in hands),
        settled=sum(settled),
        settled_ten=sum(all(h.settled_ten for h in two) for two in hands),
        settled_held=sum(all(h.settled_held for h in two) for two in hands),
        calm=sum(s and not h for s, h in zip(settled, hunting, strict=True)),
        twice=sum(any(h.turns == HUNTING - 1 for h in two) for two in hands),
        hunting=sum(hunting),
    )


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


def groups(found: Sequence[Outcome]) -> dict[str, list[Outcome]]:
    """All of them, by kit, and by what their plates allow."""
    return {
        "all": list(found),
        **{k.name: [o for o in found if o.kit == k.name] for k in KITS if k.plates},
        "window": with_window(found),
        "steps <= 10%": stepping(found, 1.1),
        "steps <= 5%": stepping(found, 1.05),
        "and unhurt": able(found),
    }


def settling_lines(found: Sequence[Outcome]) -> list[str]:
    """Who settles, and who hunts, by kit."""
    lines = [
        "half crimp, both hands: settled at 80 to 95 % within eight sessions, in % of athletes.",
        "load: over the true maximum, whatever the hold; 10 s: as if every hold were 10 s; held:",
        "over what the athlete can hold so long. window: the kit makes a load of 80 to 95 %.",
        f"turned: up, down and up again in eight sessions; hunting: {HUNTING} turns or more.",
        f"{'':13}{'athletes':>9}{'window':>8}{'load':>8}{'10 s':>8}{'held':>8}"
        f"{'turned':>8}{'hunting':>9}",
    ]
    for name, group in groups(found).items():
        said = shares(group)
        counts = (said.window, said.settled, said.settled_ten, said.settled_held)
        columns = "".join(f"{said.percent(n):7.1f}%" for n in counts)
        lines.append(f"{name:13}{said.of:9}{columns}{said.twice:8}{said.hunting:9}")
    return lines


def spread_lines(found: Sequence[Outcome]) -> list[str]:
    """The distribution of what is prescribed from the ninth session on."""
    lines = ["prescribed from the 9th session on (5th, 25th, 50th, 75th and 95th percentile)"]
    lines.append(f"{'':13}{'part of the maximum':^32}{'part of what can be held':^32}")
    for name, group in groups(found).items():
        hands: list[LineFigures] = [h for o in group for h in o.hands]
        columns = ""
        for parts in ([p for h in hands for p in h.parts[8:]],
                      [p for h in hands for p in h.of_held[8:]]):  # fmt: skip
            columns += "".join(f"{percentile(parts, p):6.2f}" for p in (5, 25, 50, 75, 95)) + "  "
        lines.append(f"{name:13}{columns}")
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
    """The engine beside the plain ways, and by kit."""
    lines = [f"{'':22}{'sets':>8}{'failed per 100':>16}{'gain of maximum':>17}"]
    rows = [(name, name, list(found)) for name in ("engine", "fixed", "repeat")]
    rows += [
        (f"engine, {k.name}", "engine", [o for o in found if o.kit == k.name])
        for k in KITS
        if k.plates
    ]
    for name, way, group in rows:
        tallies: list[Tally] = [t for o in group if (t := getattr(o, way)) is not None]
        sets, failed = sum(t.sets for t in tallies), sum(t.failed for t in tallies)
        gain = sum(t.gain for t in tallies) / max(1, len(tallies))
        rate = 100 * failed / max(1, sets)
        lines.append(f"{name:22}{sets:8}{rate:16.1f}{100 * gain:16.1f}%")
    return lines


def report(found: Sequence[Outcome], *, examples: int = 1) -> str:
    """All of it."""
    parts = (
        settling_lines(found),
        spread_lines(found),
        gap_lines(found),
        way_lines(found),
        rule_lines(found, examples=examples),
    )
    return "\n\n".join("\n".join(p) for p in parts)
