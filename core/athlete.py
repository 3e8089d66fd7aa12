"""What an athlete's facts add up to: settings, kit, plan and the record of training."""

from collections.abc import Hashable
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Any

from core.facts import (
    BodyWeighed,
    CameBack,
    DeloadAsked,
    Entry,
    EveningDropped,
    EveningMoved,
    EveningsPlanned,
    EveningStarted,
    KitChanged,
    LogConfirmed,
    Logged,
    PainFelt,
    Paused,
    QuestionSkipped,
    SettingChanged,
    Skipped,
    StartLoadStated,
    Swapped,
    TimeLimited,
    Undone,
    WallDaysPlanned,
    WallDropped,
    WallVisited,
    Weekday,
    counting,
)
from core.kit.inventory import Inventory, inventory_after
from core.kit.trip import Trip, home_on, packed, trips_after
from core.programme import Programme, default_programme
from core.quantity import Unit

REMIND_MIN = 30
"""Minutes between reminder and evening until the athlete chooses. House rule."""

QUIET = ("22:00", "07:00")
"""Quiet hours, local, until the athlete chooses. House rule."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Planned evenings. ``at`` is local "HH:MM"."""

    days: tuple[Weekday, ...] = ()
    at: str | None = None
    minutes: int = 60
    wall_days: tuple[Weekday, ...] = ()


_NO_KIT = Inventory()
_NO_PLAN = Plan()


@dataclass(frozen=True, slots=True)
class DatedLog:
    """A log with the entry number and the training day it belongs to."""

    number: int
    day: date
    log: Logged


@dataclass(frozen=True, slots=True)
class DatedPain:
    """A pain report with its day, and the day on which its warning signs were cleared, if any.

    Signs are cleared by a "back" that was written after the report and ended no pause: coming
    home from a trip says nothing about a finger.
    """

    day: date
    pain: PainFelt
    cleared: date | None = None


@dataclass(frozen=True, slots=True)
class Illness:
    """A time of illness: its first day, and the first day after it; None until "back"."""

    since: date
    until: date | None


@dataclass(frozen=True, slots=True)
class Athlete:
    """One athlete as the engine sees them, all of it derived from facts.

    Attributes:
        units: How loads are typed and shown.
        zone: Name of the time zone; None until known.
        age: Years, or None if never said.
        quiet: Local "HH:MM" from and to.
        remind_min: Minutes from reminder to evening. [min]
        body_kg: Last body weight; None until said. [kg]
        weighed: (day, body weight) as it was said, oldest first. [kg]
        kit: What they own.
        plan: Their evenings and wall days.
        logs: Every counting log, oldest first.
        pains: Every pain report, oldest first.
        walls: Wall visits, oldest first.
        no_walls: Days on which the wall was planned and called off.
        starts: Stated start loads, oldest first.
        started, dropped: Days on which an evening was begun, or called off.
        moved: (day, local moment "YYYY-MM-DDTHH:MM") of moved evenings, oldest first.
        limited: (day, minutes, entry number) of short evenings, oldest first.
        skips: (day, slug) of exercises left out that day.
        swaps: (day, slug) of exercises exchanged that day.
        deloads: Days on which a deload was asked for.
        illnesses: Times of illness, oldest first.
        pause: The pause in force, with its first day, or None.
        trips: Times away, oldest first.
        trip: The trip whose kit stands in ``kit``; None where it is the one at home.
        shares_rests: Whether exercises may share their rests; None: as the programme has it.
        skipped_questions: Set-up questions answered with "skip".
        confirmed: Entry numbers of logs that looked like slips and were said to be right.
        programme: What their evenings are made of.
        named: Names of settings that were ever said ("units", "zone", …, "body weight", …).
    """

    units: Unit = "kg"
    zone: str | None = None
    age: int | None = None
    quiet: tuple[str, str] = QUIET
    remind_min: int = REMIND_MIN
    body_kg: Decimal | None = None
    kit: Inventory = _NO_KIT
    plan: Plan = _NO_PLAN
    logs: tuple[DatedLog, ...] = ()
    pains: tuple[DatedPain, ...] = ()
    walls: tuple[WallVisited, ...] = ()
    no_walls: tuple[date, ...] = ()
    starts: tuple[StartLoadStated, ...] = ()
    started: tuple[date, ...] = ()
    dropped: tuple[date, ...] = ()
    moved: tuple[tuple[date, str], ...] = ()
    limited: tuple[tuple[date, int, int], ...] = ()
    skips: tuple[tuple[date, str], ...] = ()
    swaps: tuple[tuple[date, str], ...] = ()
    deloads: tuple[date, ...] = ()
    illnesses: tuple[Illness, ...] = ()
    pause: tuple[date, Paused] | None = None
    trips: tuple[Trip, ...] = ()
    trip: Trip | None = None
    shares_rests: bool | None = None
    skipped_questions: tuple[str, ...] = ()
    weighed: tuple[tuple[date, Decimal], ...] = ()
    confirmed: frozenset[int] = frozenset()
    named: frozenset[str] = frozenset()
    programme: Programme = field(default_factory=default_programme)
    known: int = field(default=0, compare=False)
    """How many entries all this rests on."""
    memo: dict[Hashable, Any] = field(default_factory=dict, init=False, compare=False, repr=False)
    """What was derived from this very athlete; see ``core.derived.once``."""
    walks: dict[Hashable, Any] = field(default_factory=dict, compare=False, repr=False)
    """Walks over the record, shared with those this athlete came from and those to come; see
    ``core.derived.folded``."""


def athlete_from_facts(
    entries: tuple[Entry, ...],
    programme: Programme | None = None,
    *,
    earlier: Athlete | None = None,
) -> Athlete:
    """The athlete that these entries add up to. Undone entries do not count.

    Args:
        entries: Everything that was noted of them.
        programme: What their evenings are made of; None for the default one.
        earlier: The athlete that a beginning of these entries added up to, if at hand, with
            the same programme: the answer is the same, and comes sooner.
    """
    programme = programme or default_programme()
    added = entries if earlier is None else entries[earlier.known :]
    if earlier is not None and not added:
        return earlier
    same: dict[int, DatedLog] = {}
    if earlier is None or any(isinstance(entry.fact, Undone) for entry in added):
        athlete = Athlete(programme=programme, plan=Plan(minutes=programme.minutes))
        if earlier is not None:
            athlete = replace(athlete, walks=earlier.walks)
            # The same objects, so that what was walked over is seen to be the same at once.
            same = {dated.number: dated for dated in earlier.logs}
        added = counting(entries)
    else:
        athlete = earlier
    fresh: list[DatedLog] = []
    for entry in added:
        if isinstance(entry.fact, Logged):
            dated = same.get(entry.number)
            if dated is None or dated.log is not entry.fact:
                dated = DatedLog(entry.number, entry.day, entry.fact)
            fresh.append(dated)
        else:
            athlete = _after(athlete, entry)
    return replace(athlete, logs=_in_order(athlete.logs, fresh), known=len(entries))


def _in_order(logs: tuple[DatedLog, ...], fresh: list[DatedLog]) -> tuple[DatedLog, ...]:
    """All logs by day. A log corrected later is written later but belongs to its own day."""
    # Numbers rise, and sorting leaves equals as they stand.
    fresh.sort(key=_day)
    if not logs or not fresh or logs[-1].day <= fresh[0].day:
        return (*logs, *fresh)
    return tuple(sorted((*logs, *fresh), key=_day))


def _day(dated: DatedLog) -> date:
    return dated.day


def _after(athlete: Athlete, entry: Entry) -> Athlete:
    day = entry.day
    match entry.fact:
        case KitChanged(for_trip=True) as change:
            return replace(athlete, trips=packed(athlete.trips, change))
        case KitChanged() as change:
            said = {
                part
                for part in ("plates", "pin_kg", "bar_limit_kg", "edges_mm", "grips", "band")
                if getattr(change, part) is not None
            }
            kit = inventory_after(athlete.kit, change)
            return replace(athlete, kit=kit, named=athlete.named | said)
        case SettingChanged() as setting:
            return replace(_with_setting(athlete, setting), named=athlete.named | {setting.name})
        case EveningsPlanned() as planned:
            plan = plan_after(athlete.plan, planned)
            return replace(athlete, plan=plan, named=athlete.named | {"evenings"})
        case WallDaysPlanned() as planned:
            plan = plan_after(athlete.plan, planned)
            return replace(athlete, plan=plan, named=athlete.named | {"wall_days"})
        case BodyWeighed(kg):
            weighed = (*athlete.weighed, (day, kg))
            return replace(athlete, body_kg=kg, weighed=weighed, named=athlete.named | {"body"})
        case PainFelt() as pain:
            return replace(athlete, pains=(*athlete.pains, DatedPain(day, pain)))
        case WallVisited() as wall:
            # "At the wall" and, later, how long: one visit.
            others = (w for w in athlete.walls if w.on != wall.on or w.minutes is not None)
            return replace(athlete, walls=(*others, wall))
        case WallDropped(on):
            walls = tuple(w for w in athlete.walls if w.on != on)
            return replace(athlete, walls=walls, no_walls=(*athlete.no_walls, on))
        case StartLoadStated() as start:
            return replace(athlete, starts=(*athlete.starts, start))
        case EveningStarted():
            return replace(athlete, started=(*athlete.started, day))
        case EveningDropped(on):
            return replace(athlete, dropped=(*athlete.dropped, on))
        case EveningMoved(on, to):
            return replace(athlete, moved=(*athlete.moved, (on, to)))
        case TimeLimited(minutes):
            return replace(athlete, limited=(*athlete.limited, (day, minutes, entry.number)))
        case Skipped(exercise):
            return replace(athlete, skips=(*athlete.skips, (day, exercise)))
        case Swapped(exercise):
            return replace(athlete, swaps=(*athlete.swaps, (day, exercise)))
        case DeloadAsked():
            return replace(athlete, deloads=(*athlete.deloads, day))
        case Paused() as pause:
            return _paused(athlete, pause, entry)
        case CameBack():
            return _back(athlete, entry)
        case LogConfirmed(number):
            return replace(athlete, confirmed=athlete.confirmed | {number})
        case QuestionSkipped(question):
            return replace(athlete, skipped_questions=(*athlete.skipped_questions, question))
        case _:
            return athlete


def plan_after(plan: Plan, change: EveningsPlanned | WallDaysPlanned) -> Plan:
    """The plan once that change of it was said."""
    if isinstance(change, WallDaysPlanned):
        return replace(plan, wall_days=change.days)
    return replace(
        plan,
        days=plan.days if change.days is None else change.days,
        at=plan.at if change.at is None else change.at,
        minutes=plan.minutes if change.minutes is None else change.minutes,
    )


def _paused(athlete: Athlete, pause: Paused, entry: Entry) -> Athlete:
    day, illnesses = entry.day, athlete.illnesses
    trips = trips_after(athlete.trips, pause, day, number=entry.number)
    if pause.cause == "sick":
        illnesses = (*illnesses, Illness(day, pause.until))
    return replace(athlete, pause=(day, pause), illnesses=illnesses, trips=trips)


def _back(athlete: Athlete, entry: Entry) -> Athlete:
    """Back from a pause; where there is none, cleared of every warning sign told before."""
    day = entry.day
    illnesses = tuple(
        replace(i, until=day) if i.until is None or i.until > day else i for i in athlete.illnesses
    )
    trips = home_on(athlete.trips, day, number=entry.number)
    well = replace(athlete, pause=None, illnesses=illnesses, trips=trips)
    if athlete.pause is not None:
        return well
    pains = tuple(
        replace(p, cleared=day) if p.pain.flags and p.cleared is None else p for p in athlete.pains
    )
    return replace(well, pains=pains)


def _with_setting(athlete: Athlete, setting: SettingChanged) -> Athlete:
    match setting.name:
        case "units":
            return replace(athlete, units="lb" if setting.value == "lb" else "kg")
        case "zone":
            return replace(athlete, zone=setting.value)
        case "age":
            return replace(athlete, age=int(setting.value))
        case "quiet":
            start, _, end = setting.value.partition("-")
            return replace(athlete, quiet=(start, end))
        case "remind_min":
            return replace(athlete, remind_min=int(setting.value))
        case "rests":
            return replace(athlete, shares_rests=setting.value == "shared")
