"""The record as the rule book reads it: sessions by line, loaded days, pains, the easier weeks.

Folded from facts by code of its own; of the engine only the plain data is used (facts, targets
and the catalogue's doses).
"""

from bisect import bisect_left, insort
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

from core.catalogue import Exercise, get_exercise
from core.facts import (
    Asked,
    BodyWeighed,
    CameBack,
    DeloadAsked,
    Entry,
    Logged,
    PainFelt,
    SetDone,
    SettingChanged,
    WallVisited,
)
from core.target import Target

Key = tuple[str, str, int | None]
"""Exercise, side, edge."""

PLACES = {
    "ring finger": "finger flexors",
    "middle finger": "finger flexors",
    "elbow": "elbow flexors",
    "shoulder": "shoulder",
    "groin": "hip",
    "back": "trunk",
}
"""The tissue each simulated sore place belongs to."""

FINGERS = "finger flexors"


def key_of(target: Target) -> Key:
    """The line a target belongs to."""
    return target.exercise, target.side, target.edge_mm


def word_of(done: SetDone) -> str | None:
    """Effort in words: RPE 10 minus what was left; half in between counts as the harder."""
    if done.effort is not None:
        return done.effort
    said = []
    if done.rpe is not None:
        said.append(10 - done.rpe)
    if done.left is not None:
        said.append(Decimal(done.left))
    if not said:
        return None
    left = min(said)
    return "easy" if left >= 3 else "ok" if left >= 2 else "hard" if left >= 1 else "limit"


def hardest(words: list[str | None]) -> str | None:
    """The hardest word said, None if none was."""
    order = ("easy", "ok", "hard", "limit", "fail")
    said = [w for w in words if w is not None]
    return max(said, key=order.index) if said else None


@dataclass(frozen=True, slots=True)
class Sitting:
    """One line on one day. ``target`` is what had been shown.

    ``lowered``: something above progress (pain, time off, an easier week) had a say in it.
    """

    day: date
    sets: tuple[SetDone, ...]
    asked: Asked
    target: Target
    lowered: bool

    @property
    def eased(self) -> bool:
        """Whether it was part of an easier week, so that it shows no level."""
        return self.target.change == "deload"

    @property
    def held_kg(self) -> Decimal:
        """The heaviest load that did not fail, else the heaviest. [kg]"""
        held = [s.load_kg for s in self.sets if s.load_kg is not None and s.effort != "fail"]
        return max(held or [s.load_kg for s in self.sets if s.load_kg is not None])


@dataclass
class Record:
    """What is known at one moment. Entries must come in order."""

    lines: dict[Key, list[Sitting]] = field(default_factory=dict)
    loaded: dict[tuple[str, str], list[date]] = field(default_factory=dict)
    pains: list[tuple[date, PainFelt]] = field(default_factory=list)
    backs: list[date] = field(default_factory=list)
    deloads: list[date] = field(default_factory=list)
    walls: list[date] = field(default_factory=list)
    trained: list[date] = field(default_factory=list)
    age: int | None = None
    body_kg: Decimal | None = None
    targets: dict[Key, tuple[Target, bool]] = field(default_factory=dict)

    def show(self, target: Target, *, lowered: bool) -> None:
        """Remember what is asked of a line, to be found again when it is logged."""
        self.targets[key_of(target)] = (target, lowered)

    def take(self, entry: Entry) -> None:
        """One more entry."""
        match entry.fact:
            case Logged() as log:
                self._log(entry.day, log)
            case WallVisited(on=on):
                self.walls.append(on)
                for pair in ((FINGERS, "fingers"), ("elbow flexors", "pull")):
                    self._load(pair, on)
            case PainFelt() as pain:
                self.pains.append((entry.day, pain))
            case CameBack():
                self.backs.append(entry.day)
            case DeloadAsked():
                self.deloads.append(entry.day)
            case SettingChanged(name="age", value=value):
                self.age = int(value)
            case BodyWeighed(kg=kg):
                self.body_kg = kg

    def before(self, key: Key, day: date) -> list[Sitting]:
        """The line's sittings of earlier days."""
        return [s for s in self.lines.get(key, []) if s.day < day]

    def rests(self, exercise: Exercise, day: date) -> list[tuple[date, date]]:
        """Times in which its tissue was loaded by no exercise of its block and no wall.

        Each as the loaded day before it and the loaded day, or ``day``, that ended it.
        """
        # Entries come in order, so the days are sorted already.
        loaded = self.loaded.get((exercise.tissue, exercise.block), [])
        return list(pairwise([*loaded[: bisect_left(loaded, day)], day]))

    def days_off(self, key: Key, day: date) -> int | None:
        """Days of the longest rest since the line's last session; None for a new line.

        A wall visit after a long rest ends it and does not undo it. Rests that ended more than
        eight weeks ago are forgotten. Our reading.
        """
        line = self.before(key, day)
        if not line:
            return None
        lately = max(line[-1].day, day - timedelta(days=56))
        rests = self.rests(get_exercise(key[0]), day)
        return max((b - a).days for a, b in rests if a >= line[-1].day and b >= lately)

    def _load(self, pair: tuple[str, str], day: date) -> None:
        days = self.loaded.setdefault(pair, [])
        if not days or days[-1] != day:
            insort(days, day)

    def _log(self, day: date, log: Logged) -> None:
        exercise = get_exercise(log.exercise)
        self._load((exercise.tissue, exercise.block), day)
        self.trained.append(day)
        for asked in log.asked:
            key = (log.exercise, asked.side, log.edge_mm)
            sets = tuple(s for s in log.sets if s.side == asked.side)
            if sets:
                self._sit(key, Sitting(day, sets, asked, *self.targets[key]))

    def _sit(self, key: Key, new: Sitting) -> None:
        line = self.lines.setdefault(key, [])
        if line and line[-1].day == new.day:
            line[-1] = replace(line[-1], sets=(*line[-1].sets, *new.sets))
        else:
            line.append(new)
