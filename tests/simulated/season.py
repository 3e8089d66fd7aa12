"""A season with the engine: facts in, targets out, sets done, facts in. Public doors only.

The engine is asked by ``athlete_from_facts`` and ``evening``; nothing else of it is used.
What was shown is kept beside the facts, for checks that come afterwards.
"""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from decimal import Decimal

from core.athlete import Athlete, athlete_from_facts
from core.facts import (
    Asked,
    BodyWeighed,
    CameBack,
    DeloadAsked,
    Entry,
    EveningsPlanned,
    Fact,
    Logged,
    Paused,
    SetDone,
    SettingChanged,
    StartLoadStated,
    TimeLimited,
    WallDaysPlanned,
    WallVisited,
)
from core.planning import Evening, evening
from core.target import Target
from tests.simulated.kits import Kit, body_loads_kg, floor_loads_kg
from tests.simulated.life import Day, Life
from tests.simulated.person import DAY_ONE, Person

RAMPS = frozenset({"ramp", "ramp-on", "ramp-help", "half-load", "find-level-again"})
"""Reasons by which a person is told to add a step per set while it feels easy."""

RAMP_STEP = Decimal("1.08")
"""Who looks for a level adds about a tenth a set, or what the plates make beyond this part."""

MOST_RAMP_SETS = 8
"""Nobody lifts more often than this to find a level. Assumption, no source."""

OTHER_HAND_S = 20


@dataclass(frozen=True, slots=True)
class Shown:
    """The evening as the athlete saw it, when the record had ``known`` entries."""

    known: int
    evening: Evening


@dataclass
class Season:
    """The record of one athlete and what stood behind it."""

    kit: Kit
    life: Life
    entries: list[Entry] = field(default_factory=list)
    shown: list[Shown] = field(default_factory=list)
    truth_kg: dict[tuple[date, str, str, int | None], float] = field(default_factory=dict)
    start_kg: dict[str, float] = field(default_factory=dict)
    end_kg: dict[str, float] = field(default_factory=dict)
    athlete: Athlete | None = None
    """As of the last look."""

    def note(self, day: date, *facts: Fact) -> None:
        """Write facts down, one reply."""
        at = datetime.combine(day, time(19), tzinfo=UTC)
        reply = len(self.entries) + 1
        for fact in facts:
            self.entries.append(Entry(len(self.entries) + 1, reply, at, day, fact))

    def look(self, day: date) -> Evening:
        """Ask the engine for tonight."""
        self.athlete = athlete_from_facts(tuple(self.entries), earlier=self.athlete)
        tonight = evening(self.athlete, today=day)
        self.shown.append(Shown(len(self.entries), tonight))
        return tonight


def lived(person: Person, life: Life, kit: Kit) -> Season:
    """The season of a person who does what the bot says."""
    season = Season(kit, life)
    _set_up(season, person)
    season.start_kg = _half_crimp_kg(person)
    flagged: date | None = None
    for today in life.days:
        person.wake()
        if today.weighs_kg is not None:
            person.body_kg = today.weighs_kg
            season.note(today.day, BodyWeighed(Decimal(str(today.weighs_kg))))
        if flagged is not None and (today.day - flagged).days >= life.clears_after:
            season.note(today.day, CameBack())
            flagged = None
        _gap(season, today.day, is_flagged=flagged is not None)
        if today.wall:
            person.visit_wall()
            season.note(today.day, WallVisited(today.day, 120, Decimal(7)))
        if today.evening and not today.missing:
            hurt = _evening(season, person, today)
            flagged = today.day if hurt else flagged
        person.sleep()
    season.end_kg = _half_crimp_kg(person)
    return season


def _half_crimp_kg(person: Person) -> dict[str, float]:
    return {side: person.lines["half-crimp", side].max_kg for side in ("left", "right")}


def _set_up(season: Season, person: Person) -> None:
    life = season.life
    facts: list[Fact] = [
        *season.kit.facts(),
        BodyWeighed(Decimal(str(person.body_kg))),
        EveningsPlanned(life.plan, "19:00", life.minutes),
        WallDaysPlanned(life.wall_days),
    ]
    if life.age is not None:
        facts.append(SettingChanged("age", str(life.age)))
    if life.states_start:
        weaker = min(_half_crimp_kg(person).values()) * life.start_part
        loads = [kg for kg in floor_loads_kg(season.kit) if float(kg) <= weaker]
        facts += [StartLoadStated("half-crimp", loads[-1], "both")] if loads else []
    season.note(DAY_ONE, *facts)


def _gap(season: Season, day: date, *, is_flagged: bool) -> None:
    life = season.life
    # "back" after a warning sign would say that a professional has cleared it.
    if life.gap_told and not is_flagged:
        if day == life.gap_from:
            season.note(day, Paused(life.gap_ends, "away"))
        if day == life.gap_ends:
            season.note(day, CameBack())


def _evening(season: Season, person: Person, today: Day) -> bool:
    """One evening; True if a warning sign was felt."""
    if today.minutes is not None:
        season.note(today.day, TimeLimited(today.minutes))
    if today.asks_deload:
        season.note(today.day, DeloadAsked())
    pain = today.pain
    if pain is not None and not today.pain_late:
        season.note(today.day, pain)
    tonight = season.look(today.day)
    for n, slug in enumerate([i.exercise.slug for i in tonight.items]):
        item = tonight.find(slug)
        if item is None or item in tonight.stopped or not item.is_open:
            continue
        _train(season, person, item.targets, today.day)
        if n == 0 and pain is not None and today.pain_late:
            season.note(today.day, pain)
            tonight = season.look(today.day)
    return pain is not None and bool(pain.flags)


def _train(season: Season, person: Person, targets: tuple[Target, ...], day: date) -> None:
    """All sets of one exercise, hands in turn, and the log of them."""
    first = targets[0]
    loads = floor_loads_kg(season.kit) if first.pin_kg is not None else body_loads_kg(season.kit)
    sets: list[tuple[Target, SetDone]] = []
    for target in targets:
        key = (target.exercise, target.side)
        if key in person.lines:
            edge = target.edge_mm
            season.truth_kg[day, *key, edge] = person.max_kg(*key, edge)
    mine = {t.side: Hand(t, loads) for t in targets}
    for _ in range(MOST_RAMP_SETS):
        for target in targets:
            hand = mine[target.side]
            if hand.goes_on:
                aim = hand.aim
                done = person.do(target, aim, hand.load_kg, body_kg=person.body_kg)
                hand.heard(done)
                sets.append((target, done))
        person.rest(first.rest_s + OTHER_HAND_S * (len(targets) - 1))
    _write(season, targets, sets, day)


def _write(
    season: Season, targets: tuple[Target, ...], sets: list[tuple[Target, SetDone]], day: date
) -> None:
    """One log, or one for each edge or exercise where the hands are not at the same."""
    places = dict.fromkeys((t.exercise, t.edge_mm) for t in targets if t.sets)
    for exercise, edge_mm in places:
        here = [t for t in targets if (t.exercise, t.edge_mm) == (exercise, edge_mm)]
        asked = tuple(Asked(t.side, t.sets, t.reps, t.hold_s, t.load_kg) for t in here if t.sets)
        done = tuple(said for target, said in sets if target in here)
        if done:
            season.note(day, Logged(exercise, edge_mm, done, asked, None, ""))


class Hand:
    """One side's way through its sets, looking for a level where told to."""

    def __init__(self, target: Target, loads: tuple[Decimal, ...]) -> None:
        self.target, self.loads = target, loads
        self.load_kg = target.load_kg
        self.searching = any(r.rule in RAMPS for r in target.reasons)
        self.done = 0
        self.at_level = 0
        self.failed = 0

    @property
    def aim(self) -> int:
        """Seconds or reps of the next set."""
        target = self.target
        every = target.reps if target.hold_s is None else target.hold_s
        by_set = target.by_set or (every or 0,)
        return by_set[min(self.done, len(by_set) - 1)]

    @property
    def goes_on(self) -> bool:
        """Sets are left, and the last two did not both fail."""
        return self.target.sets > 0 and self.failed < 2 and (
            self.searching or self.done < self.target.sets
        )  # fmt: skip

    def heard(self, said: SetDone) -> None:
        """Go on after a set: a step more while it feels easy, else the rest at this load."""
        self.done += 1
        self.failed = self.failed + 1 if said.effort == "fail" else 0
        if not self.searching:
            return
        load = self.load_kg or Decimal(0)
        # On the body the next load there is; from the floor about a tenth more.
        wanted = load if self.target.pin_kg is None else load * RAMP_STEP
        above = [kg for kg in self.loads if kg >= wanted and kg > load]
        if _felt_easy(said) and above and self.load_kg is not None:
            self.load_kg = above[0]
        else:
            self.searching = False


def _felt_easy(said: SetDone) -> bool:
    if said.effort is not None:
        return said.effort == "easy"
    if said.rpe is not None:
        return said.rpe <= 7
    return said.left is not None and said.left >= 3
