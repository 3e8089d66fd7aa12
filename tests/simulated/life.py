"""Twenty-six weeks of one simulated athlete: evenings, walls, gaps, pain, and what is typed.

How often life gets in the way has no source; these are assumptions, fixed before the first run:
15 % of evenings are missed; 80 % of wall days are kept and 5 % of evenings become a wall visit;
one gap of 21 days begins between week 8 and 14 (for one athlete in five it lasts 30, 45 or 60
days instead), half of them announced; 1.5 % of evenings bring pain, half of it while loading;
one pain in fifteen is a warning sign, cleared by a professional after 20 to 40 days; on 1 % of
evenings an easier week is asked for; 8 % are short; body weight drifts by 0.4 kg (standard
deviation) in four weeks and is told then; 4 % of athletes are under 18; two in five state a
start load, at 55 to 80 % of what they can lift, the others find it as the bot tells them.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from random import Random

from core.facts import PainFelt, Weekday
from tests.simulated.person import DAY_ONE

WEEKS = 26
PLANS: tuple[tuple[Weekday, ...], ...] = (
    ("mon", "wed"),
    ("tue", "thu"),
    ("mon", "wed", "fri"),
    ("mon", "tue", "thu"),
)
WALL_DAYS: tuple[tuple[Weekday, ...], ...] = ((), ("sat",), ("sun",), ("sat",))
DAY_NAMES: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
SITES = ("ring finger", "ring finger", "middle finger", "elbow", "shoulder", "groin", "back")
SIGNS = ("swelling", "pop", "numbness", "night pain")
LONG_GAPS = (30, 45, 60)


@dataclass(frozen=True, slots=True)
class Day:
    """What a day brings. ``pain_late``: it is felt after the first exercise."""

    day: date
    evening: bool
    wall: bool
    missing: bool
    minutes: int | None
    asks_deload: bool
    pain: PainFelt | None
    pain_late: bool
    weighs_kg: float | None


@dataclass(frozen=True, slots=True)
class Life:
    """All of it, drawn beforehand, so that every way of training meets the same days."""

    plan: tuple[Weekday, ...]
    wall_days: tuple[Weekday, ...]
    minutes: int
    age: int | None
    states_start: bool
    start_part: float
    gap_from: date
    gap_days: int
    gap_told: bool
    clears_after: int
    days: tuple[Day, ...]

    @property
    def gap_ends(self) -> date:
        """The first day after the gap."""
        return self.gap_from + timedelta(days=self.gap_days)


def life_of(rng: Random, *, body_kg: float, weeks: int = WEEKS) -> Life:
    """One life, by chance."""
    plan, wall_days = rng.choice(PLANS), rng.choice(WALL_DAYS)
    gap_from = DAY_ONE + timedelta(days=rng.randint(56, 98))
    gap_days = rng.choice(LONG_GAPS) if rng.random() < 0.2 else 21
    drift = 0.0
    days = []
    for n in range(7 * weeks):
        day = DAY_ONE + timedelta(days=n)
        away = gap_from <= day < gap_from + timedelta(days=gap_days)
        name = DAY_NAMES[day.weekday()]
        evening = name in plan and not away
        wall = not away and (
            (name in wall_days and rng.random() < 0.8) or (evening and rng.random() < 0.05)
        )
        drift += rng.gauss(0, 0.4 / 28**0.5)
        hurts = evening and rng.random() < 0.015
        days.append(
            Day(
                day=day,
                evening=evening,
                wall=wall,
                missing=rng.random() < 0.15,
                minutes=rng.choice((20, 30, 40)) if rng.random() < 0.08 else None,
                asks_deload=evening and rng.random() < 0.01,
                pain=_pain(rng) if hurts else None,
                pain_late=rng.random() < 0.5,
                weighs_kg=round(body_kg + drift, 1) if n % 28 == 0 else None,
            )
        )
    return Life(
        plan=plan,
        wall_days=wall_days,
        minutes=rng.choice((45, 60, 75, 90)),
        age=rng.choice((14, 15, 16, 17)) if rng.random() < 0.04 else rng.choice((None, 24, 33, 41)),
        states_start=rng.random() < 0.4,
        start_part=rng.uniform(0.55, 0.80),
        gap_from=gap_from,
        gap_days=gap_days,
        gap_told=rng.random() < 0.5,
        clears_after=rng.randint(20, 40),
        days=tuple(days),
    )


def _pain(rng: Random) -> PainFelt:
    flags = (rng.choice(SIGNS),) if rng.random() < 1 / 15 else ()
    return PainFelt(rng.choice(SITES), None, rng.choice((1, 2, 2, 3, 4, 5)), flags)
