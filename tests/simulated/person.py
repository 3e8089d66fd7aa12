"""One simulated athlete: what the body can do, hidden from the engine, and how it is reported.

Written down before the first run and not changed to please a result. Where a
paper is named it gives the number or bounds it; all else is an assumption without source.

=====  ==========================================================================================
what   assumption, and where it comes from
=====  ==========================================================================================
hold   A steady hold lasts k x E(load / maximum), E the Rohmert-type closed form printed by
       Hincapie-Ramos 2014 (100 % of maximum: 6.9 s), extended downwards to zero seconds above
       100 %. k differs between people, 95 % of them within 30 %: the spread that Frey-Law,
       Looft and Heitsman 2012 give for single predictions (29 to 47 %) at its lower end.
reps   Reps to failure by Epley 1985, times the same k.
day    Strength varies from session to session by 2.0 to 3.4 % (coefficient of variation of
       seated and standing finger tests, J Sports Sci 2025 body-position study).
size   Half crimp on 20 mm, one hand: 35 to 80 % of body weight. Assumption; it spans the 351 to
       576 N that Amca et al. 2012 measured over depths and grips.
edges  15 mm gives 80 to 92 % of 20 mm, 10 mm as much of 15 mm. Assumption, no source (Amca 2012:
       force rises with depth).
grips  Open hand 75 to 105 %, three fingers 70 to 90 %, wide pinch 40 to 65 % of half crimp.
       Assumption, no source.
hands  Right hand over left: normal about 1, standard deviation 6 %. Assumption, no source (Bourne
       2011 found the hands alike on average).
pull   Single best pull-up 105 to 165 % of body weight, lock-off 100 to 160 %. No source.
tired  A set to failure takes 3 to 9 % of the maximum for the moment, a set that stops short takes
       its part of the time to failure; half of it is back after 3 minutes. No source.
days   A full session takes 2 %, a wall visit 4 %, gone with a time constant of 1.5 days. No source.
gain   A full session adds 0.2 to 1.0 % of the starting maximum, less the nearer to a ceiling of
       10 to 35 %. No source for grip; the upper end is finger extensors' 8.4 % in 4 weeks of two
       sessions (Front Sports Act Living 2023).
dose   A set counts by its seconds (of 10) or reps (of 6) and by its share of the maximum: nothing
       under 40 %, all from 85 %. A grip passes 30 % on to other grips of the hand; a wall visit
       counts for 40 % of a full session. No source.
rust   Nothing is lost for 10 to 21 days without load, then 0.1 to 0.5 % a day. Between Ogasawara
       2011 (3 weeks: -2 to +1 %) and Hakkinen and Komi 1985 (about -10 % after 4 weeks).
said   Reserve is reported with an error of 1 (standard deviation) where 0 to 5 are left and 2
       beyond (Hackett 2017, reps; seconds of holds alike: no source) and a bias of the person,
       standard deviation 0.7 (no source).
words  84 % of sets get a word, 6 % a rating, 6 % a number left, 4 % nothing. No source.
floor  Planks, slow reps, long holds and free reps: a capacity that grows 1 % a session; each
       harder variation allows 85 % of the one before. No source.
=====  ==========================================================================================
"""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from math import exp
from random import Random

from core.catalogue import Exercise, LoadedHold, RepRange, get_exercise
from core.facts import SetDone, Side
from core.target import Target

ONE_HAND = ("left", "right")
GRIPS = ("half-crimp", "open-hand", "three-finger-crimp", "wide-pinch")
PULLS = ("pull-up", "wide-pull-up", "lock-off", "one-arm-lock-off")
FULL_SESSION_SETS = 4
TRANSFER = 0.3
WALL_PART = 0.4
SET_HALF_LIFE_S = 180.0
DAYS_CONSTANT = 1.5


def steady_s(share: float) -> float:
    """Seconds to failure at a share of the maximum, 0 where it cannot be lifted."""
    if share <= 0.16:
        return 2000.0
    return max(0.0, 1236.5 / (100 * share - 15) ** 0.618 - 72.5)


def share_for(seconds: float) -> float:
    """Share of the maximum that can be held so long, by the same curve; not above 1."""
    return min(1.0, (15 + (1236.5 / (seconds + 72.5)) ** (1 / 0.618)) / 100)


@dataclass
class Line:
    """One trained quality: a grip of a hand, or a pull. Maximum in kg of net load."""

    base_kg: float
    gain: float = 0.0
    dose_today: float = 0.0
    idle_days: int = 0

    @property
    def max_kg(self) -> float:
        """The true current maximum: rested, on an average day. [kg]"""
        return self.base_kg * (1 + self.gain)


@dataclass
class Person:
    """The hidden state of one athlete. Chance comes from ``rng`` alone."""

    rng: Random
    body_kg: float = field(init=False)

    def __post_init__(self) -> None:
        rng = self.rng
        self.body_kg = round(rng.uniform(50, 90), 1)
        self.k = exp(rng.gauss(0, 0.15))
        self.day_cv = rng.uniform(0.020, 0.034)
        self.set_cost = rng.uniform(0.03, 0.09)
        self.gain_rate = rng.uniform(0.002, 0.010)
        self.ceiling = rng.uniform(0.10, 0.35)
        self.rust_after = rng.randint(10, 21)
        self.rust_rate = rng.uniform(0.001, 0.005)
        self.bias = rng.gauss(0, 0.7)
        self.lines = self._lines()
        self.edge_part = {20: 1.0, 15: rng.uniform(0.80, 0.92)}
        self.edge_part[10] = self.edge_part[15] * rng.uniform(0.80, 0.92)
        self.floor_s = rng.uniform(18, 60)
        self.floor_reps = rng.uniform(7, 25)
        self.practised: dict[str, int] = {}
        self.tired = 0.0
        self.worn: dict[str, float] = {}
        self.form = 1.0

    def _lines(self) -> dict[tuple[str, str], Line]:
        rng = self.rng
        left = self.body_kg * rng.uniform(0.35, 0.80)
        hand = {"left": left, "right": left * rng.gauss(1, 0.06)}
        part = {
            "half-crimp": 1.0,
            "open-hand": rng.uniform(0.75, 1.05),
            "three-finger-crimp": rng.uniform(0.70, 0.90),
            "wide-pinch": rng.uniform(0.40, 0.65),
        }
        lines = {(grip, side): Line(hand[side] * part[grip]) for grip in GRIPS for side in ONE_HAND}
        pull, lock = rng.uniform(1.05, 1.65), rng.uniform(1.0, 1.6)
        lines["pull-up", "both"] = Line(self.body_kg * pull)
        lines["wide-pull-up", "both"] = Line(self.body_kg * pull * 0.93)
        lines["lock-off", "both"] = Line(self.body_kg * lock)
        for side in ONE_HAND:
            lines["one-arm-lock-off", side] = Line(self.body_kg * lock * 0.55)
        return lines

    def max_kg(self, exercise: str, side: Side, edge_mm: int | None) -> float:
        """The true current maximum of that line, rested, on an average day. [kg, net]"""
        part = 1.0 if edge_mm is None else self.edge_part[edge_mm]
        return self.lines[exercise, side].max_kg * part

    def wake(self) -> None:
        """A new day: its form, nothing worn yet."""
        self.form = exp(self.rng.gauss(0, self.day_cv))
        self.worn = {}

    def visit_wall(self) -> None:
        """Climb: a part of a full session for fingers and pull."""
        for line in self.lines.values():
            line.dose_today = max(line.dose_today, WALL_PART)
        self.tired += 0.04 - 0.02 * WALL_PART

    def sleep(self) -> None:
        """The night: what the day's dose adds, what idle days take, fatigue that fades."""
        for line in self.lines.values():
            dose = min(1.2, line.dose_today)
            line.idle_days = 0 if dose > 0.05 else line.idle_days + 1
            line.gain += self.gain_rate * dose * (1 - line.gain / self.ceiling)
            if line.idle_days > self.rust_after:
                line.gain = max(-0.4, line.gain - self.rust_rate)
        self.tired += 0.02 * min(1.2, max(line.dose_today for line in self.lines.values()))
        self.tired *= exp(-1 / DAYS_CONSTANT)
        for line in self.lines.values():
            line.dose_today = 0.0

    def rest(self, seconds: float) -> None:
        """What a rest gives back of what sets have worn."""
        kept = 0.5 ** (seconds / SET_HALF_LIFE_S)
        self.worn = {part: worn * kept for part, worn in self.worn.items()}

    def do(self, target: Target, aim: int, load_kg: Decimal | None, *, body_kg: float) -> SetDone:
        """One set as it goes, and as it is reported."""
        exercise = get_exercise(target.exercise)
        timed = target.hold_s is not None
        if (target.exercise, target.side) in self.lines:
            most = self._loaded(exercise, target, load_kg, body_kg=body_kg)
        else:
            most = self._floor(exercise, target)
        done = aim if most >= aim else int(most)
        self._wear(
            exercise, target, load_kg, body_kg=body_kg, done=done, part=min(1, done / max(most, 1))
        )
        said = self._said(most - aim)
        return SetDone(
            target.side,
            load_kg,
            target.band if load_kg == target.load_kg else None,
            target.reps if timed else done,
            done if timed else None,
            **said,  # type: ignore[arg-type]
        )

    def _net(self, exercise: Exercise, load_kg: Decimal | None, body_kg: float) -> float:
        load = float(load_kg or 0)
        dose = exercise.dose
        return load if isinstance(dose, LoadedHold) else body_kg + load

    def _loaded(
        self, exercise: Exercise, target: Target, load_kg: Decimal | None, *, body_kg: float
    ) -> float:
        """Seconds or reps to failure, now."""
        fresh = self.max_kg(target.exercise, target.side, target.edge_mm)
        worn = self.worn.get(f"{exercise.tissue}/{target.side}", 0.0)
        now_kg = fresh * self.form * (1 - self.tired) * (1 - worn)
        share = self._net(exercise, load_kg, body_kg) / now_kg
        if isinstance(exercise.dose, RepRange):
            return max(0.0, self.k * 30 * (1 / share - 1)) if share > 0 else 100.0
        return self.k * steady_s(share)

    def _floor(self, exercise: Exercise, target: Target) -> float:
        steps = exercise.variations.index(target.variation) if target.variation else 0
        grown = 1.01 ** min(70, self.practised.get(exercise.slug, 0))
        start = 2 * self.floor_s if exercise.dose.kind == "long-hold" else self.floor_s
        able = self.floor_reps if target.hold_s is None else start
        return able * grown * self.form * 0.85**steps

    def _wear(
        self, exercise: Exercise, target: Target, load_kg: Decimal | None, *, body_kg: float,
        done: int, part: float,
    ) -> None:  # fmt: skip
        worn = f"{exercise.tissue}/{target.side}"
        self.worn[worn] = self.worn.get(worn, 0.0) + self.set_cost * part
        if (target.exercise, target.side) not in self.lines:
            self.practised[exercise.slug] = self.practised.get(exercise.slug, 0) + 1
            return
        share = self._net(exercise, load_kg, body_kg) / self.max_kg(
            target.exercise, target.side, target.edge_mm
        )
        full = 6 if isinstance(exercise.dose, RepRange) else 10
        dose = min(1.0, done / full) * min(1.0, max(0.0, (share - 0.4) / 0.45)) / FULL_SESSION_SETS
        for (slug, side), line in self.lines.items():
            if (slug, side) == (target.exercise, target.side):
                line.dose_today += dose
            elif side == target.side and (slug in GRIPS) == (target.exercise in GRIPS):
                line.dose_today += TRANSFER * dose

    def _said(self, left: float) -> dict[str, object]:
        """How the set is reported: never a fail that was none, else with error."""
        if left < 0:
            return {"effort": "fail"}
        felt = max(0.0, left + self.bias + self.rng.gauss(0, 1 if left <= 5 else 2))
        draw = self.rng.random()
        if draw < 0.04:
            return {}
        if draw < 0.10:
            return {"rpe": Decimal(round(2 * max(1.0, 10 - felt))) / 2}
        if draw < 0.16:
            return {"left": round(felt)}
        words = ("limit", "hard", "ok", "easy")
        return {"effort": words[min(3, round(felt))]}


DAY_ONE = date(2026, 1, 5)
"""A Monday."""
