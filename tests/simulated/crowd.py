"""Many athletes: one season each with the engine and with both plain ways, on both processors."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from multiprocessing import get_context
from random import Random

from tests.simulated.figures import (
    LineFigures,
    Return,
    grip_sets,
    half_crimp_figures,
    returns,
    starts,
)
from tests.simulated.kits import KITS
from tests.simulated.life import WEEKS, Life, life_of
from tests.simulated.person import Person
from tests.simulated.plain_ways import Tally, fixed, repeat, trained
from tests.simulated.rulebook.book import read
from tests.simulated.rulebook.breach import Breach
from tests.simulated.season import Season, lived

SEED = 4
"""Any number; this one was taken once and kept."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one athlete's season came to."""

    number: int
    kit: str
    gap_days: int
    evenings: int
    targets: int
    breaches: tuple[Breach, ...]
    hands: tuple[LineFigures, ...]
    starts: tuple[float, ...]
    returns: tuple[Return, ...]
    engine: Tally | None
    fixed: Tally | None
    repeat: Tally | None


def born(number: int, seed: int = SEED, weeks: int = WEEKS) -> tuple[Person, Life]:
    """The same person with the same days, however often it is asked."""
    person = Person(Random(f"{seed}/{number}/person"))
    life = life_of(Random(f"{seed}/{number}/life"), body_kg=person.body_kg, weeks=weeks)
    return person, life


def season_of(number: int, *, seed: int = SEED, weeks: int = WEEKS) -> Season:
    """The season of one athlete with the engine. Kits take turns."""
    person, life = born(number, seed, weeks)
    return lived(person, life, KITS[number % len(KITS)])


def outcome_of(number: int, *, seed: int = SEED, weeks: int = WEEKS) -> Outcome:
    """Everything about one athlete."""
    person, life = born(number, seed, weeks)
    season = lived(person, life, KITS[number % len(KITS)])
    found, record = read(season)
    kit = season.kit
    sets, failed = grip_sets(season)
    gain = sum(season.end_kg.values()) / sum(season.start_kg.values()) - 1
    ways = [trained(born(number, seed, weeks)[0], life, kit, way) for way in (fixed, repeat)]
    return Outcome(
        number=number,
        kit=kit.name,
        gap_days=season.life.gap_days,
        evenings=len(season.shown),
        targets=sum(len(i.targets) for s in season.shown for i in s.evening.items),
        breaches=tuple(found),
        hands=half_crimp_figures(season, record, k=person.k),
        starts=starts(season, record),
        returns=returns(season, record),
        engine=Tally(sets, failed, gain) if ways[0] is not None else None,
        fixed=ways[0],
        repeat=ways[1],
    )


def _asked(words: tuple[int, int, int]) -> Outcome:
    number, seed, weeks = words
    return outcome_of(number, seed=seed, weeks=weeks)


def outcomes(
    numbers: Iterable[int], *, seed: int = SEED, weeks: int = WEEKS, processes: int = 1
) -> Iterator[Outcome]:
    """Those athletes, each as soon as it is finished."""
    asked = ((n, seed, weeks) for n in numbers)
    if processes == 1:
        yield from map(_asked, asked)
        return
    with get_context("spawn").Pool(processes) as pool:
        yield from pool.imap_unordered(_asked, asked)
