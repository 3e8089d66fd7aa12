"""What a season shows: does the load settle, does it hunt, is the return after a gap safe.

Definitions:

- *Part of the maximum*: the prescribed load over the true current maximum of that line, rested
  and on an average day, whatever the hold. This is the headline.
- *Part for ten seconds*: a hold other than 10 s counts as the load for 10 s that asks as much by
  the curve of short holds (load x share(10 s) / share(hold)). The headline of earlier runs.
- *Part of what can be held*: the load over the greatest that this athlete can hold just so long,
  by the same curve with the athlete's own endurance: how hard the set is.
- *Settled*: within the line's first eight sessions one is prescribed at 80 to 95 %, and so are at
  least three in four of the next eight. Sessions lowered by pain, time off or an easier week do
  not count. An athlete is settled when both hands of the half crimp are. Lines with fewer than
  four sessions after the eighth say nothing.
- *Turns*: how often the load turns round (up after down or down after up) in some eight sessions
  running, at most, from the session on at which it settled, else from the ninth. A step from or
  to a lowered session is no move of its own. Two turns are an up, a down and an up: what one
  failed session does. *Hunting* is one more, so that the load goes back and forth twice.
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
from typing import TypedDict

from core.catalogue import get_exercise
from core.facts import Logged
from tests.simulated.kits import Kit, body_loads_kg, floor_loads_kg
from tests.simulated.person import ONE_HAND, share_for
from tests.simulated.rulebook.record import Key, Record, Sitting
from tests.simulated.season import Season

LOW, HIGH = 0.80, 0.95
WITHIN = 8
NEXT = 8
ENOUGH = 4
STAYS = 0.75
HUNTING = 3


@dataclass(frozen=True, slots=True)
class LineFigures:
    """One hand of the half crimp on its first edge.

    ``parts`` and ``of_held`` leave lowered sessions out. ``settled`` is by the part of the
    maximum, the next two by the part for ten seconds and of what can be held.
    """

    parts: tuple[float, ...]
    of_held: tuple[float, ...]
    settled: bool | None
    settled_ten: bool | None
    settled_held: bool | None
    turns: int
    window: bool
    step: float
    hurt: bool


def part_for_ten(load_kg: Decimal, hold_s: int, max_kg: float) -> float:
    """The prescribed load as a part of the maximum, as if for 10 s."""
    return float(load_kg) * share_for(10) / share_for(hold_s) / max_kg


def part_of_held(load_kg: Decimal, hold_s: int, max_kg: float, *, k: float) -> float:
    """The prescribed load as a part of what can be held so long by who lasts k times the curve."""
    return float(load_kg) / (max_kg * share_for(hold_s / k))


def half_crimp_figures(season: Season, record: Record, *, k: float) -> tuple[LineFigures, ...]:
    """Both hands; empty where the half crimp was never trained."""
    edge = max(season.kit.edges_mm, default=None)
    lines = ((("half-crimp", side, edge)) for side in ONE_HAND)
    return tuple(_line(season, record, key, k=k) for key in lines if key in record.lines)


def _line(season: Season, record: Record, key: Key, *, k: float) -> LineFigures:
    sittings = record.lines[key]
    truths = [season.truth_kg[s.day, key[0], key[1], key[2]] for s in sittings]
    asked = [
        None if s.lowered else (s.target.load_kg, s.target.hold_s, truth)
        for s, truth in zip(sittings, truths, strict=True)
        if s.target.load_kg is not None and s.target.hold_s is not None
    ]
    parts = [a and float(a[0]) / a[2] for a in asked]
    held = [a and part_of_held(*a, k=k) for a in asked]
    at = settles_at(parts)
    return LineFigures(
        parts=tuple(p for p in parts if p is not None),
        of_held=tuple(p for p in held if p is not None),
        settled=settles(parts),
        settled_ten=settles([a and part_for_ten(*a) for a in asked]),
        settled_held=settles(held),
        turns=most_turns([a and a[0] for a in asked][WITHIN if at is None else at :]),
        **_window(season.kit, truths[min(WITHIN, len(truths)) - 1]),
        hurt=any(
            "finger" in (p.site or "") and day <= _sixteenth(sittings) for day, p in record.pains
        ),
    )


class _Window(TypedDict):
    window: bool
    step: float


def _window(kit: Kit, truth_kg: float) -> _Window:
    """Whether the kit makes a load in the window, and its largest step there."""
    loads = floor_loads_kg(kit)
    fits = [kg for kg in loads if LOW <= float(kg) / truth_kg <= HIGH]
    under = [kg for kg in loads if float(kg) / truth_kg < LOW]
    steps = (float(b / a) for a, b in pairwise([*under[-1:], *fits]))
    return _Window(window=bool(fits), step=max(steps, default=9.0))


def _sixteenth(sittings: list[Sitting]) -> date:
    return sittings[min(len(sittings), WITHIN + NEXT) - 1].day


def settles(parts: Sequence[float | None]) -> bool | None:
    """Whether it settles within eight sessions; None where too little was done to tell."""
    if len([p for p in parts[WITHIN:] if p is not None]) < ENOUGH:
        return None
    return settles_at(parts) is not None


def settles_at(parts: Sequence[float | None]) -> int | None:
    """The index of the session at which it settles; None if it does not in eight sessions."""
    for n, part in enumerate(parts[:WITHIN]):
        after = [p for p in parts[n + 1 :] if p is not None][:NEXT]
        if part is not None and _inside(part) and sum(map(_inside, after)) >= STAYS * len(after):
            return n
    return None


def _inside(part: float) -> bool:
    return LOW <= part <= HIGH


def most_turns(loads_kg: Sequence[Decimal | None]) -> int:
    """How often the load turns round in some eight sessions running; None is passed over."""
    moves = [(b > a) - (b < a) for a, b in pairwise(loads_kg) if a is not None and b is not None]
    most = 0
    for start in range(max(1, len(moves) - NEXT + 2)):
        turned = [m for m in moves[start : start + NEXT - 1] if m]
        most = max(most, sum(a != b for a, b in pairwise(turned)))
    return most


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
