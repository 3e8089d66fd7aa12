"""Two plain ways to train grips, to compare with: no engine, the same people, days and kits.

*Fixed*: 2.5 % more each session, in loads that the plates make. *Repeat*: the same again until
no set failed, then the next load the plates make. Both begin like the engine's athletes (the
stated start, or a quarter of body weight and a step per set while it feels easy), train the same
grips on every evening that is not missed, 4 x 10 s a hand, and leave fingers alone on days with
finger pain, at the wall, and after a warning sign until it is cleared. Both are ours.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from core.facts import SetDone
from core.target import Target, because
from tests.simulated.kits import Kit, floor_loads_kg
from tests.simulated.life import Life
from tests.simulated.person import ONE_HAND, Person
from tests.simulated.season import MOST_RAMP_SETS, OTHER_HAND_S, Hand

SETS, HOLD_S, REST_S = 4, 10, 120


@dataclass(slots=True)
class Level:
    """Where one line stands."""

    load_kg: Decimal
    found_kg: Decimal | None = None
    sessions: int = 0


@dataclass(frozen=True, slots=True)
class Tally:
    """What came of it: sets of grips, failed ones, and gain of the half crimp's maximum."""

    sets: int
    failed: int
    gain: float


def fixed(level: Level, failed: int, loads: tuple[Decimal, ...]) -> Decimal:
    """2.5 % more than the last wish, each session."""
    wanted = (level.found_kg or level.load_kg) * Decimal("1.025") ** level.sessions
    return max((kg for kg in loads if kg <= wanted), default=loads[0])


def repeat(level: Level, failed: int, loads: tuple[Decimal, ...]) -> Decimal:
    """The next load once no set failed."""
    above = [kg for kg in loads if kg > level.load_kg]
    return level.load_kg if failed or not above else above[0]


def trained(person: Person, life: Life, kit: Kit, way: Callable[..., Decimal]) -> Tally | None:
    """A season in that way; None without plates, or under age."""
    loads = floor_loads_kg(kit)
    if not loads or (life.age is not None and life.age < 18):
        return None
    before = _half_crimp(person)
    levels = _starts(person, life, kit, loads)
    sets = failed = 0
    flagged = None
    for today in life.days:
        person.wake()
        if flagged is not None and (today.day - flagged).days >= life.clears_after:
            flagged = None
        if today.wall:
            person.visit_wall()
        sore = today.pain is not None and "finger" in (today.pain.site or "")
        if sore and today.pain is not None and today.pain.flags:
            flagged = today.day
        if today.evening and not (today.missing or today.wall or sore or flagged):
            done = _evening(person, levels, loads, way)
            sets += len(done)
            failed += sum(d.effort == "fail" for d in done)
        person.sleep()
    return Tally(sets, failed, _half_crimp(person) / before - 1)


def _half_crimp(person: Person) -> float:
    return sum(person.lines["half-crimp", side].max_kg for side in ONE_HAND)


def _starts(
    person: Person, life: Life, kit: Kit, loads: tuple[Decimal, ...]
) -> dict[tuple[str, str], Level]:
    levels = {}
    weaker = min(person.lines["half-crimp", side].max_kg for side in ONE_HAND)
    for grip in kit.grips or ("half-crimp", "open-hand"):
        stated = grip == "half-crimp" and life.states_start
        wanted = weaker * life.start_part if stated else person.body_kg / 4
        start = max((kg for kg in loads if float(kg) <= wanted), default=loads[0])
        for side in ONE_HAND:
            levels[grip, side] = Level(start, start if stated else None)
    return levels


def _evening(
    person: Person,
    levels: dict[tuple[str, str], Level],
    loads: tuple[Decimal, ...],
    way: Callable[..., Decimal],
) -> list[SetDone]:
    sets: list[SetDone] = []
    for grip in dict.fromkeys(grip for grip, _ in levels):
        hands = {side: Hand(_target(grip, side, levels[grip, side]), loads) for side in ONE_HAND}
        done: dict[str, list[SetDone]] = {side: [] for side in ONE_HAND}
        for _ in range(MOST_RAMP_SETS):
            for side, hand in hands.items():
                if hand.goes_on:
                    said = person.do(hand.target, HOLD_S, hand.load_kg, body_kg=person.body_kg)
                    hand.heard(said)
                    done[side].append(said)
            person.rest(REST_S + OTHER_HAND_S)
        for side in ONE_HAND:
            _next(levels[grip, side], done[side], loads, way)
            sets += done[side]
    return sets


def _next(
    level: Level, done: list[SetDone], loads: tuple[Decimal, ...], way: Callable[..., Decimal]
) -> None:
    if level.found_kg is None:
        held = [d.load_kg for d in done if d.effort != "fail" and d.load_kg is not None]
        level.found_kg = max(held, default=level.load_kg)
        level.load_kg = level.found_kg
    level.sessions += 1
    level.load_kg = way(level, sum(d.effort == "fail" for d in done), loads)


def _target(grip: str, side: str, level: Level) -> Target:
    ramp = level.found_kg is None
    return Target(
        exercise=grip,
        side=side,  # type: ignore[arg-type]
        edge_mm=None if grip == "wide-pinch" else 20,
        sets=SETS,
        reps=None,
        hold_s=HOLD_S,
        by_set=(),
        load_kg=level.load_kg,
        plates_kg=(),
        pin_kg=Decimal(0),
        band=None,
        variation=None,
        rest_s=REST_S,
        change="first" if ramp else "same",
        reasons=(because("ramp" if ramp else "same"),),
    )
