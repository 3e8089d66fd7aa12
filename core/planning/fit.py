"""Which exercises, and how many sets of each, make the most of the minutes there are.

Each exercise is a group of options: none, or from its useful least to all the sets asked.
What is logged already is never cut; what the athlete skipped in a short evening is free.
The optimum itself is found by ``optimum``, what a set is worth is said by ``worth``.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import product

from core.catalogue import Tissue
from core.planning.allowance import Allowance
from core.planning.candidate import Candidate
from core.planning.duration import alone_s, alternating_s, rounds_s
from core.planning.item import Item
from core.planning.optimum import Option, best_choice
from core.planning.warm_up import WarmUp
from core.planning.worth import set_points

POINT = 64
"""What a point weighs against an exercise left as it is: fewer changes decide ties only.

More than the exercises of any evening, so that no number of changes outweighs a point.
"""

NOT_COMPETING: frozenset[tuple[Tissue, Tissue]] = frozenset(
    {("elbow flexors", "trunk"), ("trunk", "hip")}
)
"""Tissues that may take turns, one worked while the other rests; fingers never. House rule."""


@dataclass(frozen=True, slots=True)
class Entrant:
    """An exercise in the running for tonight's minutes.

    Attributes:
        candidate: The exercise and its standing.
        item: What it would ask if time did not matter.
        start: Rounds that were done before the minutes began to count.
    """

    candidate: Candidate
    item: Item
    start: int


@dataclass(frozen=True, slots=True)
class Fit:
    """The best use of the minutes.

    Attributes:
        sets: How many of each entrant, in their order; 0 for those that found no room.
        seconds: Time it takes, warm-up included; done before the minutes counted is free. [s]
        warm_up: Bits of the warm-up parts still to do.
        pairs: Places of entrants that alternate, first the one that begins.
    """

    sets: tuple[int, ...]
    seconds: int
    warm_up: int
    pairs: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class _Lane:
    """One entrant alone: how many sets it may have, how long each round is, its worth."""

    counts: tuple[int, ...]
    rounds_s: tuple[int, ...]
    points: tuple[int, ...]
    start: int
    done: int
    setup_s: int
    rest_s: int
    needs: int

    def rounds(self, sets: int) -> tuple[int, ...]:
        """Work of the rounds still to be paid for. [s]"""
        return self.rounds_s[self.start : sets]


def best_fit(
    entrants: Sequence[Entrant], *, allowed: Allowance, parts: WarmUp, warm: int, today: date
) -> Fit:
    """The sets of each exercise that are worth most inside the minutes.

    Args:
        entrants: In the order of the evening.
        allowed: Minutes, and whether rests may be shared.
        parts: The warm-up.
        warm: Bits of its parts that are done.
        today: The training day.

    Returns:
        The optimum; ties go to the fewest exercises changed, then to more sets of the earlier
        exercise. Where what is done already takes longer than the minutes, nothing is added.
    """
    lanes = [_lane(e, allowed, parts, today) for e in entrants]
    groups = _groups(entrants, alternates=allowed.alternates)
    charges_s = parts.charges_s(warm=warm)
    sets = _best_sets(lanes, groups, charges_s=charges_s, room_s=allowed.minutes * 60)
    chosen = [_option([lanes[at] for at in group], [sets[at] for at in group]) for group in groups]
    needs = 0
    for option in chosen:
        needs |= option.needs
    due = needs & ~warm
    paid_s = sum(charge_s for bit, charge_s in enumerate(charges_s) if due >> bit & 1)
    return Fit(
        sets=tuple(sets),
        seconds=paid_s + sum(o.cost_s for o in chosen),
        warm_up=due,
        pairs=tuple((g[0], g[1]) for g in groups if len(g) == 2 and all(sets[at] for at in g)),
    )


def _best_sets(
    lanes: Sequence[_Lane],
    groups: Sequence[tuple[int, ...]],
    *,
    charges_s: Sequence[int],
    room_s: int,
) -> list[int]:
    """The best number of sets of each; those that are done, where even they do not fit."""
    ways = [list(product(*(lanes[at].counts for at in group))) for group in groups]
    options = [
        [_option([lanes[at] for at in group], way) for way in here]
        for group, here in zip(groups, ways, strict=True)
    ]
    places = best_choice(options, charges_s=charges_s, room_s=room_s)
    sets = [lane.done for lane in lanes]
    if places is not None:
        for group, here, place in zip(groups, ways, places, strict=True):
            for at, count in zip(group, here[place], strict=True):
                sets[at] = count
    return sets


def _lane(entrant: Entrant, allowed: Allowance, parts: WarmUp, today: date) -> _Lane:
    item = entrant.item
    if item.skipped and allowed.after:
        return _Lane((item.sets,), (), (0,) * item.sets, item.sets, item.sets, 0, 0, 0)
    done = min(max(item.done), item.sets)
    start = min(entrant.start, done)
    least = max(done, min(entrant.candidate.block.least_sets, item.sets))
    counts = tuple(range(item.sets, least - 1, -1))
    if done == start and start not in counts:
        # Not gone on with since the minutes began to count, so it may stay at that.
        counts = (*counts, start)
    return _Lane(
        counts=counts,
        rounds_s=rounds_s(item.exercise, item.targets),
        points=set_points(entrant.candidate, sets=item.sets, today=today),
        start=start,
        done=done,
        setup_s=item.exercise.setup_s,
        rest_s=item.targets[0].rest_s,
        needs=parts.bits(item.exercise),
    )


def _groups(entrants: Sequence[Entrant], *, alternates: bool) -> list[tuple[int, ...]]:
    """Entrants that are decided together: those that may share their rests, else one by one."""
    taken: set[int] = set()
    groups: list[tuple[int, ...]] = []
    for at, entrant in enumerate(entrants):
        if at in taken:
            continue
        partner = next(
            (
                other
                for other in range(at + 1, len(entrants))
                if alternates
                and other not in taken
                and (
                    entrant.item.exercise.tissue,
                    entrants[other].item.exercise.tissue,
                )
                in NOT_COMPETING
            ),
            None,
        )
        group = (at,) if partner is None else (at, partner)
        taken.update(group)
        groups.append(group)
    return groups


def _option(lanes: Sequence[_Lane], counts: Sequence[int]) -> Option:
    """Those sets of one exercise, or of two that alternate."""
    rounds = [lane.rounds(n) for lane, n in zip(lanes, counts, strict=True)]
    if len(lanes) == 1:
        work_s = alone_s(rounds[0], rest_s=lanes[0].rest_s)
    else:
        rests_s = (lanes[0].rest_s, lanes[1].rest_s)
        work_s = alternating_s(rounds[0], rounds[1], one_rest_s=rests_s[0], other_rest_s=rests_s[1])
    worth = needs = setup_s = 0
    for lane, n, todo in zip(lanes, counts, rounds, strict=True):
        worth += POINT * sum(lane.points[:n]) + (n == lane.counts[0])
        if todo:
            needs |= lane.needs
            # What is begun stands there ready.
            setup_s += 0 if lane.start else lane.setup_s
    return Option(work_s + setup_s, worth, needs)
