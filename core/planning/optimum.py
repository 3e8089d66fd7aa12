"""The most valuable choice of options under a budget: one option a group, exactly.

A multiple-choice knapsack with charges that are paid once (a warm-up part that several
exercises share). Branch and bound: groups are decided in their order; a branch is left
when even the relaxed rest, in which steps may be split, cannot beat the best known.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise


@dataclass(frozen=True, slots=True)
class Option:
    """One way to decide a group.

    Attributes:
        cost_s: Time it takes. [s], >= 0
        worth: What it is worth, in points of the caller. [-], >= 0
        needs: Bit k set: charge k has to be paid too.
    """

    cost_s: int
    worth: int
    needs: int = 0


_Step = tuple[float, int, int, int]
"""Worth per second, negated for sorting; seconds; points; which group it belongs to."""

_NOT_AT_ALL = -(1 << 60)
"""Less than any worth: the rest does not fit."""


def best_choice(
    groups: Sequence[Sequence[Option]], *, charges_s: Sequence[int], room_s: int
) -> tuple[int, ...] | None:
    """The option of each group, by its place, that together are worth most.

    Args:
        groups: The options of each group; none may be empty.
        charges_s: Time of each charge, paid once if any chosen option needs it. [s], >= 0
        room_s: Time there is. [s]

    Returns:
        One place per group; None if not even the shortest options fit. Where several choices
        are worth the same, the one that decides the first differing group by the option
        listed earlier.

    Validity: Exact for any input. Quick where the options of a group have falling worth per
        second, as the sets of an exercise do.
    Source: the relaxation is the usual one of the multiple-choice knapsack problem.
    Ours: Charges are left out of the relaxation, which keeps it an upper bound.

    Example:
        >>> crimp = (Option(600, 31), Option(310, 19), Option(0, 0))
        >>> plank = (Option(235, 10), Option(160, 7), Option(0, 0))
        >>> best_choice((crimp, plank), charges_s=(), room_s=790)
        (0, 1)
    """
    worths = ([option.worth for option in group] for group in groups)
    wished = tuple(points.index(max(points)) for points in worths)
    if _fits(groups, wished, charges_s=charges_s, room_s=room_s):
        return wished
    return _Search(groups, charges_s).run(room_s)


def _fits(
    groups: Sequence[Sequence[Option]],
    places: Sequence[int],
    *,
    charges_s: Sequence[int],
    room_s: int,
) -> bool:
    cost_s = needs = 0
    for group, place in zip(groups, places, strict=True):
        cost_s += group[place].cost_s
        needs |= group[place].needs
    charged_s = sum(charge_s for bit, charge_s in enumerate(charges_s) if needs >> bit & 1)
    return cost_s + charged_s <= room_s


class _Search:
    """One run of branch and bound; ``_best`` is the worth to beat."""

    __slots__ = ("_best", "_chosen", "_found", "_groups", "_paid_s", "_rests", "_steps")

    def __init__(self, groups: Sequence[Sequence[Option]], charges_s: Sequence[int]) -> None:
        self._groups = [[(o.cost_s, o.worth, o.needs) for o in group] for group in groups]
        self._paid_s = [0]
        for charge_s in charges_s:
            self._paid_s += [paid_s + charge_s for paid_s in self._paid_s]
        self._rests = [_Rest(0, 0, [])]
        self._steps: list[_Step] = []
        base_s = base_worth = 0
        for at in range(len(groups) - 1, -1, -1):
            cost_s, worth, steps = _hull(self._groups[at], at)
            base_s += cost_s
            base_worth += worth
            self._steps = sorted(self._steps + steps)
            self._rests.append(_Rest(base_s, base_worth, self._steps))
        self._rests.reverse()
        self._chosen = [0] * len(groups)
        self._found: tuple[int, ...] | None = None
        self._best = -1

    def run(self, room_s: int) -> tuple[int, ...] | None:
        # One less than is known to be possible, so that the first such choice is still found.
        self._best = self._greedy(room_s - self._paid_s[-1]) - 1
        self._decide(0, room_s, 0, 0)
        return self._found

    def _greedy(self, room_s: int) -> int:
        """What the steps of most worth per second add up to, one after the other."""
        rest = self._rests[0]
        left_s, worth = room_s - rest.base_s, rest.worths[0]
        if left_s < 0:
            return 0
        closed: set[int] = set()
        for _, cost_s, more, group in self._steps:
            if group in closed:
                continue
            if cost_s <= left_s:
                left_s -= cost_s
                worth += more
            else:
                closed.add(group)
        return worth

    def _decide(self, at: int, room_s: int, worth: int, paid: int) -> None:
        if at == len(self._groups):
            self._best, self._found = worth, tuple(self._chosen)
            return
        rest, paid_s = self._rests[at + 1], self._paid_s
        room_s += paid_s[paid]
        for place, (cost_s, more, needs) in enumerate(self._groups[at]):
            left_s = room_s - cost_s - paid_s[paid | needs]
            if left_s >= rest.base_s and worth + more + rest.most(left_s) > self._best:
                self._chosen[at] = place
                self._decide(at + 1, left_s, worth + more, paid | needs)


class _Rest:
    """What the groups still open can be worth at most, by the time left."""

    __slots__ = ("base_s", "costs_s", "steps", "worths")

    def __init__(self, base_s: int, base_worth: int, steps: list[_Step]) -> None:
        self.base_s = base_s
        self.costs_s = list(accumulate((s[1] for s in steps), initial=base_s))
        self.worths = list(accumulate((s[2] for s in steps), initial=base_worth))
        self.steps = steps

    def most(self, left_s: int) -> int:
        whole = bisect_right(self.costs_s, left_s) - 1
        worth = self.worths[whole]
        if whole == len(self.steps):
            return worth
        _, cost_s, more, _ = self.steps[whole]
        return worth + (left_s - self.costs_s[whole]) * more // cost_s


def _hull(group: Sequence[tuple[int, int, int]], number: int) -> tuple[int, int, list[_Step]]:
    """Seconds and worth of the shortest option, and the steps of the upper hull from there."""
    points: list[tuple[int, int]] = []
    for cost_s, worth, _ in sorted(group, key=lambda option: (option[0], -option[1])):
        if points and worth <= points[-1][1]:
            continue
        while len(points) > 1:
            (b, v), (c, w) = points[-2:]
            if (w - v) * (cost_s - c) > (worth - w) * (c - b):
                break
            points.pop()
        points.append((cost_s, worth))
    steps = [((v - w) / (c - b), c - b, w - v, number) for (b, v), (c, w) in pairwise(points)]
    return *points[0], steps
