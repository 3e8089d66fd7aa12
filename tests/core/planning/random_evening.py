"""Evenings at random for checks of the optimum, and the same model in a general solver."""

import random
from collections.abc import Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from core.planning.optimum import Option

PARTS_S = (195, 72, 80, 135)
"""The warm-up's parts as the catalogue has them: pulse, shoulder blades, fingers, ramp. [s]"""

ROOMS_S = (30 * 60, 60 * 60, 90 * 60, 180 * 60)
"""Budgets are drawn up to one of these. [s]"""

BLOCKS = (
    # points of a first set, bits of the warm-up, most exercises, useful least of sets, rest [s]
    (1000, 0b1101, 3, 2, 120),
    (900, 0b0111, 2, 2, 150),
    (400, 0b0001, 3, 2, 60),
    (600, 0b0001, 3, 1, 60),
    (150, 0b0001, 2, 2, 45),
)


@dataclass(frozen=True)
class RandomEvening:
    groups: tuple[tuple[Option, ...], ...]
    charges_s: tuple[int, ...]
    room_s: int


def random_evening(seed: int, *, fullest: bool = False) -> RandomEvening:
    """Some exercises of each block with up to six sets each; budgets to three hours."""
    draw = random.Random(seed)
    groups: list[tuple[Option, ...]] = []
    for points, needs, most, least, rest_s in BLOCKS:
        for place in range(most if fullest else draw.randint(0, most)):
            sets = draw.randint(2, 6)
            setup_s, round_s = draw.randint(5, 30), draw.randint(8, 120) + rest_s
            first = points * draw.randint(100, 130) // (100 * (place + 1))
            worths = [0]
            for number in range(sets):
                worths.append(worths[-1] + first * max(40, 100 - 15 * number) // 100)
            done = draw.choice((0, 0, 0, 0, 0, 1, 2))
            counts = range(sets, max(1, done if done else min(least, sets)) - 1, -1)
            options = [
                Option(
                    cost_s=setup_s * (done == 0) + round_s * (n - min(done, n)),
                    worth=64 * worths[n] + (n == sets),
                    needs=needs if n > done else 0,
                )
                for n in counts
            ]
            groups.append((*options, *(() if done else (Option(0, 0),))))
    charges_s = tuple(s if draw.random() < 0.8 else 0 for s in PARTS_S)
    return RandomEvening(tuple(groups), charges_s, draw.randint(0, draw.choice(ROOMS_S)))


class SolverRun:
    """The same evening in OR-tools CP-SAT: a truth value per option, and one per charge."""

    def __init__(self, evening: RandomEvening) -> None:
        self.model = cp_model.CpModel()
        paid = [self.model.new_bool_var("") for _ in evening.charges_s]
        spent_s = sum(v * s for v, s in zip(paid, evening.charges_s, strict=True))
        gained = 0
        for group in evening.groups:
            taken = [self.model.new_bool_var("") for _ in group]
            self.model.add_exactly_one(taken)
            for chosen, option in zip(taken, group, strict=True):
                spent_s += chosen * option.cost_s
                gained += chosen * option.worth
                for bit, charge in enumerate(paid):
                    if option.needs >> bit & 1:
                        self.model.add_implication(chosen, charge)
        self.model.add(spent_s <= evening.room_s)
        self.model.maximize(gained)
        self.solver = cp_model.CpSolver()
        self.solver.parameters.num_workers = 1
        self.worth: int | None = None

    def solve(self) -> None:
        """Prove the optimum; ``worth`` stays None where nothing fits."""
        status = self.solver.solve(self.model)
        if status == cp_model.OPTIMAL:
            self.worth = round(self.solver.objective_value)
        elif status != cp_model.INFEASIBLE:
            raise RuntimeError(self.solver.status_name(status))


def solver_worth(evening: RandomEvening) -> int | None:
    """The most worth by the general solver, None where nothing fits."""
    run = SolverRun(evening)
    run.solve()
    return run.worth


def cost_s(evening: RandomEvening, places: Sequence[int]) -> int:
    """Time of a choice, charges included. [s]"""
    chosen = [group[at] for group, at in zip(evening.groups, places, strict=True)]
    needs = 0
    for option in chosen:
        needs |= option.needs
    charged = sum(s for bit, s in enumerate(evening.charges_s) if needs >> bit & 1)
    return charged + sum(o.cost_s for o in chosen)


def worth(evening: RandomEvening, places: Sequence[int]) -> int:
    """Worth of a choice."""
    return sum(group[at].worth for group, at in zip(evening.groups, places, strict=True))
