"""Which sums a pile of plates can make, in whole numbers.

Plates that share a step are one grid, and the sums of a grid are the set bits of one
whole number, so that a question about sums is one shift or one mask.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import gcd

FIRST_DEPTH = 4
"""Plates looked at first when the fewest are sought; doubled until enough."""


@dataclass(frozen=True, slots=True)
class Grid:
    """Plates whose masses are whole multiples of one step.

    Attributes:
        step: The step, in whole units of the caller. > 0
        kinds: (mass in steps, count), heaviest first.
        sums: Bit ``i`` is set where the plates can make ``i`` steps; bit 0 always is.
    """

    step: int
    kinds: tuple[tuple[int, int], ...]
    sums: int

    def greatest(self, units: int) -> int | None:
        """The greatest sum not above ``units``, None below zero."""
        if units < 0:
            return None
        within = self.sums & ((1 << (units // self.step + 1)) - 1)
        return (within.bit_length() - 1) * self.step

    def least(self, units: int) -> int | None:
        """The least sum not under ``units``, None where all sums are under it."""
        first = max(0, -(-units // self.step))
        beyond = self.sums >> first
        if not beyond:
            return None
        return (first + (beyond & -beyond).bit_length() - 1) * self.step

    def all_sums(self) -> tuple[int, ...]:
        """Every sum, ascending, in units."""
        bits = bin(self.sums)[:1:-1]
        return tuple(i * self.step for i, bit in enumerate(bits) if bit == "1")

    def makes(self, units: int) -> bool:
        """Whether the plates make exactly ``units``."""
        steps, rest = divmod(units, self.step)
        return units >= 0 and not rest and bool(self.sums >> steps & 1)


def grid_of(plates: Mapping[int, int], *, most: int) -> Grid:
    """The grid of plates by mass and count, in units, with sums up to ``most``."""
    step = gcd(*plates) or 1
    kinds = tuple((mass // step, count) for mass, count in sorted(plates.items(), reverse=True))
    within = (1 << (most // step + 1)) - 1
    sums = 1
    for mass, count in kinds:
        # Halving the count gives every number of plates of a kind in few shifts.
        left = count
        part = 1
        while left > 0:
            taken = min(part, left)
            sums |= (sums << mass * taken) & within
            left -= taken
            part *= 2
    return Grid(step, kinds, sums)


def fewest(grid: Grid, units: int, last: Mapping[int, int]) -> tuple[int, int, tuple[int, ...]]:
    """The best way to make a sum the grid can make.

    Args:
        grid: The plates.
        units: A sum for which ``grid.makes`` holds.
        last: Count by mass (in units) of the plates that are loaded now.

    Returns:
        Number of plates (fewest), number of plates to take off or put on (fewest among
        those), and the masses in units, heaviest first (the heaviest first among those).
    """
    target = units // grid.step
    layers, number = _deep_enough(grid, target)
    counts_now = tuple(last.get(mass * grid.step, 0) for mass, _ in grid.kinds)

    @cache
    def best(kind: int, left: int, plates: int) -> tuple[int, tuple[int, ...]]:
        if kind == len(grid.kinds):
            return 0, ()
        mass, count = grid.kinds[kind]
        ways = []
        for taken in range(min(count, plates) + 1):
            rest = left - taken * mass
            if rest >= 0 and layers[kind + 1][plates - taken] >> rest & 1:
                changes, others = best(kind + 1, rest, plates - taken)
                ways.append((changes + abs(taken - counts_now[kind]), (-taken, *others)))
        return min(ways)

    changes, taken = best(0, target, number)
    masses = (
        mass * grid.step
        for (mass, _), count in zip(grid.kinds, taken, strict=True)
        for _ in range(-count)
    )
    return number, changes, tuple(masses)


def _deep_enough(grid: Grid, target: int) -> tuple[list[list[int]], int]:
    """Layers (see ``_layers``) deep enough for ``target``, and the fewest plates it takes."""
    depth = FIRST_DEPTH
    while True:
        layers = _layers(grid, target, depth)
        for plates, sums in enumerate(layers[0]):
            if sums >> target & 1:
                return layers, plates
        depth *= 2


def _layers(grid: Grid, target: int, depth: int) -> list[list[int]]:
    """``layers[k][j]``: sums up to ``target`` of exactly ``j`` plates from kind ``k`` on."""
    within = (1 << (target + 1)) - 1
    layers = [[1] + [0] * depth]
    for mass, count in reversed(grid.kinds):
        lighter = layers[0]
        here = []
        for plates in range(depth + 1):
            sums = 0
            for taken in range(min(count, plates) + 1):
                sums |= (lighter[plates - taken] << mass * taken) & within
            here.append(sums)
        layers.insert(0, here)
    return layers
