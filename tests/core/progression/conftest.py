"""A diary to write sessions into and to ask what comes next. Invented people only."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from core.athlete import Athlete, DatedLog, DatedPain
from core.facts import Asked, BandOwned, Logged, PainFelt, PlateCount, SetDone, StartLoadStated
from core.kit.inventory import Inventory
from core.progression import RULES, next_targets
from core.target import Target

DAY_0 = date(2026, 12, 1)


def kit_of(*plates: str, pin: str = "0", **more: object) -> Inventory:
    """A kit from words such as "2x10"."""
    counts = [word.split("x") for word in plates]
    owned = sorted((PlateCount(Decimal(kg), int(n)) for n, kg in counts), key=lambda p: -p.kg)
    return replace(Inventory(plates=tuple(owned), pin_kg=Decimal(pin)), **more)  # type: ignore[arg-type]


HALVES = kit_of("4x10", "2x5", "2x2.5", "2x1", "2x0.5")
"""Every multiple of 0.5 kg up to 58 kg."""


@dataclass
class Diary:
    """Sessions of one athlete, days counted from 1 December 2026."""

    athlete: Athlete = field(default_factory=lambda: Athlete(kit=HALVES, body_kg=Decimal(70)))

    def on(self, day: int) -> date:
        return DAY_0 + timedelta(days=day)

    def has(self, **parts: object) -> "Diary":
        self.athlete = replace(self.athlete, **parts)  # type: ignore[arg-type]
        return self

    def log(
        self, day: int, exercise: str, sets: Sequence[SetDone], *, asked: Asked | None = None,
        edge_mm: int | None = None,
    ) -> "Diary":  # fmt: skip
        logged = Logged(exercise, edge_mm, tuple(sets), () if asked is None else (asked,), None, "")
        number = len(self.athlete.logs) + 1
        logs = (*self.athlete.logs, DatedLog(number, self.on(day), logged))
        return self.has(logs=tuple(sorted(logs, key=lambda dated: dated.day)))

    def held(
        self, day: int, load: str, *efforts: str | tuple[str, int], hold_s: int = 10,
        exercise: str = "half-crimp", edge_mm: int | None = None,
    ) -> "Diary":  # fmt: skip
        """Holds at a load, one per effort; ("fail", 7) failed after 7 s. Four sets were asked."""
        sets = []
        for said in efforts:
            effort, seconds = (said, hold_s) if isinstance(said, str) else said
            word = None if effort == "-" else effort
            sets.append(SetDone("left", Decimal(load), hold_s=seconds, effort=word))  # type: ignore[arg-type]
        asked = Asked("left", 4, None, hold_s, Decimal(load))
        return self.log(day, exercise, sets, asked=asked, edge_mm=edge_mm)

    def repped(
        self, day: int, reps: Sequence[int], effort: str | None = "ok", *, load: str = "0",
        exercise: str = "pull-up",
    ) -> "Diary":  # fmt: skip
        sets = [SetDone("both", Decimal(load), reps=r, effort=effort) for r in reps]  # type: ignore[arg-type]
        return self.log(day, exercise, sets)

    def timed(
        self, day: int, seconds: Sequence[int], effort: str | None = "ok", *,
        exercise: str = "l-sit", load: str | None = None,
    ) -> "Diary":  # fmt: skip
        kg = None if load is None else Decimal(load)
        sets = [SetDone("both", kg, hold_s=s, effort=effort) for s in seconds]  # type: ignore[arg-type]
        return self.log(day, exercise, sets)

    def hurt(self, day: int, score: int | None = None, site: str | None = "ring finger",
             *flags: str) -> "Diary":  # fmt: skip
        pain = DatedPain(self.on(day), PainFelt(site, None, score, flags))
        return self.has(pains=(*self.athlete.pains, pain))

    def cleared(self, day: int) -> "Diary":
        """A professional has cleared every warning sign told so far."""
        pains = (replace(p, cleared=p.cleared or self.on(day)) for p in self.athlete.pains)
        return self.has(pains=tuple(pains))

    def starts(self, exercise: str, load: str, side: str = "both") -> "Diary":
        stated = StartLoadStated(exercise, Decimal(load), side)  # type: ignore[arg-type]
        return self.has(starts=(*self.athlete.starts, stated))

    def next(self, day: int, exercise: str = "half-crimp") -> Target:
        """The first target: the left hand's, or both hands'. Its reasons are in the list."""
        target = next_targets(self.athlete, exercise, today=self.on(day))[0]
        assert target.reasons
        for reason in target.reasons:
            rule, names = RULES[reason.rule], {name for name, _ in reason.facts}
            assert set(rule.facts) <= names <= {*rule.facts, *rule.may}, reason
        return target


@pytest.fixture(scope="session")
def diary() -> Callable[[], Diary]:
    """A new diary: plates for every half kilogram, body weight 70 kg."""
    return Diary


@pytest.fixture(scope="session")
def kit() -> Callable[..., Inventory]:
    """A kit from words: kit("2x10", "1x5", pin="1.25")."""
    return kit_of


@pytest.fixture(scope="session")
def bands() -> tuple[BandOwned, ...]:
    """Two bands."""
    return (BandOwned("red", Decimal(5)), BandOwned("green", Decimal(12)))


@pytest.fixture(scope="session")
def rules() -> Callable[[Target], list[str]]:
    """The names of a target's reasons."""
    return lambda target: [reason.rule for reason in target.reasons]
