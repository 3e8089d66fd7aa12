"""What a season shows: does the load settle, does it hunt, is the return after a gap safe.

Definitions, fixed before the first run:

- *Part of the maximum*: the prescribed load over the true current maximum of that line, rested
  and on an average day. A hold other than 10 s counts as the load for 10 s that asks as much by
  the curve of short holds (load x share(10 s) / share(hold)).
- *Settled*: within the line's first eight sessions one is prescribed at 80 to 95 %, and so are at
  least three in four of the next eight. Sessions lowered by pain, time off or an easier week do
  not count. An athlete is settled when both hands of the half crimp are. Lines with fewer than
  four sessions after the eighth say nothing.
- *Hunting*: in some eight sessions running, so counted, the load turns round (up after down or
  down after up) four times or more. A step from or to a lowered session is no move of its own.
- *Window exists*: the kit makes a load of 80 to 95 % of the true maximum at the eighth session.
  Where it does not, nobody could prescribe one; such athletes are reported apart.
- *Step*: the largest step between neighbouring loads from the one under the window to the last
  one in it. Over 5 % the rules take no step at once but add seconds, a session each, and step at
  a shorter hold, so that the part moves over more than the window; over 10 % the 28-day rule
  forbids the step. Such athletes are reported apart.
- *Hurt*: finger pain by the line's sixteenth session; the rules then take a fifth off, and what
  was taken comes back by single steps. Reported apart.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise

from core.catalogue import get_exercise
from core.facts import Logged
from tests.simulated.kits import body_loads_kg, floor_loads_kg
from tests.simulated.person import ONE_HAND, share_for
from tests.simulated.rulebook.record import Key, Record, Sitting
from tests.simulated.season import Season

LOW, HIGH = 0.80, 0.95
WITHIN = 8
NEXT = 8
ENOUGH = 4
STAYS = 0.75
TURNS = 4


@dataclass(frozen=True, slots=True)
class LineFigures:
    """One hand of the half crimp on its first edge."""

    parts: tuple[float, ...]
    settled: bool | None
    hunts: bool
    window: bool
    step: float
    hurt: bool


def part_of_max(load_kg: Decimal, hold_s: int, max_kg: float) -> float:
    """The prescribed load as a part of the maximum, for 10 s."""
    return float(load_kg) * share_for(10) / share_for(hold_s) / max_kg


def half_crimp_figures(season: Season, record: Record) -> tuple[LineFigures, ...]:
    """Both hands; empty where the half crimp was never trained."""
    edge = max(season.kit.edges_mm, default=None)
    lines = ((("half-crimp", side, edge)) for side in ONE_HAND)
    return tuple(_line(season, record, key) for key in lines if key in record.lines)


def _line(season: Season, record: Record, key: Key) -> LineFigures:
    sittings = record.lines[key]
    truths = [season.truth_kg[s.day, key[0], key[1], key[2]] for s in sittings]
    parts = [
        None if s.lowered else part_of_max(s.target.load_kg, s.target.hold_s, truth)
        for s, truth in zip(sittings, truths, strict=True)
        if s.target.load_kg is not None and s.target.hold_s is not None
    ]
    truth = truths[min(WITHIN, len(truths)) - 1]
    loads = floor_loads_kg(season.kit)
    fits = [kg for kg in loads if LOW <= float(kg) / truth <= HIGH]
    under = [kg for kg in loads if float(kg) / truth < LOW]
    loads_kg = [None if s.lowered else s.target.load_kg for s in sittings]
    return LineFigures(
        parts=tuple(p for p in parts if p is not None),
        settled=settles(parts),
        hunts=hunts(loads_kg),
        window=bool(fits),
        step=max((float(b / a) for a, b in pairwise([*under[-1:], *fits])), default=9.0),
        hurt=any(
            "finger" in (p.site or "") and day <= _sixteenth(sittings) for day, p in record.pains
        ),
    )


def _sixteenth(sittings: list[Sitting]) -> date:
    return sittings[min(len(sittings), WITHIN + NEXT) - 1].day


def settles(parts: Sequence[float | None]) -> bool | None:
    """Whether it settles within eight sessions; None where too little was done to tell."""
    if len([p for p in parts[WITHIN:] if p is not None]) < ENOUGH:
        return None
    for n, part in enumerate(parts[:WITHIN]):
        after = [p for p in parts[n + 1 :] if p is not None][:NEXT]
        if part is not None and _inside(part) and sum(map(_inside, after)) >= STAYS * len(after):
            return True
    return False


def _inside(part: float) -> bool:
    return LOW <= part <= HIGH


def hunts(loads_kg: Sequence[Decimal | None]) -> bool:
    """Whether the load turns round too often in eight sessions running; None is passed over."""
    moves = [(b > a) - (b < a) for a, b in pairwise(loads_kg) if a is not None and b is not None]
    for start in range(max(1, len(moves) - NEXT + 2)):
        turned = [m for m in moves[start : start + NEXT - 1] if m]
        if sum(a != b for a, b in pairwise(turned)) >= TURNS:
            return True
    return False


@dataclass(frozen=True, slots=True)
class Return:
    """The first load of a line after the gap, net, over the true maximum of that day.

    ``lightest``: no lighter load exists, so that nothing less could be asked but nothing.
    """

    part: float
    lightest: bool


def starts(season: Season, record: Record) -> tuple[float, ...]:
    """First loads of lines lifted from the floor, over the true maximum of that day."""
    return tuple(
        float(line[0].target.load_kg or 0) / season.truth_kg[line[0].day, key[0], key[1], key[2]]
        for key, line in record.lines.items()
        if get_exercise(key[0]).from_floor
    )


def returns(season: Season, record: Record) -> tuple[Return, ...]:
    """One for every line that was loaded before the gap and after it."""
    found = []
    for key, sittings in record.lines.items():
        before = any(s.day < season.life.gap_from for s in sittings)
        first = next((s for s in sittings if s.day >= season.life.gap_ends), None)
        if first is None or not before or first.target.load_kg is None:
            continue
        truth = season.truth_kg.get((first.day, key[0], key[1], key[2]))
        if truth is not None:
            floor = get_exercise(key[0]).from_floor
            loads = floor_loads_kg(season.kit) if floor else body_loads_kg(season.kit)
            own = 0.0 if floor else float(record.body_kg or 0)
            part = (float(first.target.load_kg) + own) / truth
            found.append(Return(part, first.target.load_kg <= min(loads)))
    return tuple(found)


def grip_sets(season: Season) -> tuple[int, int]:
    """Sets of grips lifted from the floor, and those that failed."""
    logs = [e.fact for e in season.entries if isinstance(e.fact, Logged)]
    sets = [s for log in logs if get_exercise(log.exercise).from_floor for s in log.sets]
    return len(sets), sum(s.effort == "fail" for s in sets)
