"""What happened: frozen records that everything else is derived from.

Facts are only ever added. An undo or a correction is another fact
(``Undone``), so nothing an athlete said is lost. ``core.athlete`` adds them up.
"""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Literal

Side = Literal["left", "right", "both"]
Effort = Literal["easy", "ok", "hard", "limit", "fail"]
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
PauseCause = Literal["rest", "sick", "away"]
SettingName = Literal["units", "zone", "age", "quiet", "remind_min", "rests"]

WEEKDAYS: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True, slots=True)
class SetDone:
    """One set as it was done, with what the reply left out filled in from what was asked.

    Attributes:
        side: Whose hand or leg; ``both`` for each side alike or for two at once.
        load_kg: Total lifted from the floor, or load added to the body (negative: help). [kg]
        band: Name of the helping band, whose help ``load_kg`` already counts.
        reps: Repetitions done. [-]
        hold_s: Time held. [s]
        effort: How it went; None when nobody said.
        rpe: Rating of perceived exertion, 1 to 10 in halves.
        left: Repetitions or seconds that were left.
    """

    side: Side
    load_kg: Decimal | None = None
    band: str | None = None
    reps: int | None = None
    hold_s: int | None = None
    effort: Effort | None = None
    rpe: Decimal | None = None
    left: int | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """What had been asked of one side when a set was logged. Units as in ``SetDone``."""

    side: Side
    sets: int
    reps: int | None
    hold_s: int | None
    load_kg: Decimal | None


@dataclass(frozen=True, slots=True)
class Logged:
    """Sets of one exercise, from one clause of one reply.

    Attributes:
        exercise: Slug.
        edge_mm: Depth of the edge, if one was used. [mm]
        sets: What was done.
        asked: What had been asked, per side.
        note: The athlete's own words beside it.
        said: The reply that was read.
        typed: What was typed before, where ``said`` is a correction that was offered for it.
    """

    exercise: str
    edge_mm: int | None
    sets: tuple[SetDone, ...]
    asked: tuple[Asked, ...]
    note: str | None
    said: str
    typed: str | None = None


@dataclass(frozen=True, slots=True)
class Skipped:
    """An exercise left out tonight."""

    exercise: str


@dataclass(frozen=True, slots=True)
class WallVisited:
    """A visit to the climbing wall. [min], RPE 1 to 10."""

    on: date
    minutes: int | None
    rpe: Decimal | None


@dataclass(frozen=True, slots=True)
class WallDropped:
    """Not at the wall on that day after all: neither as planned nor as told before."""

    on: date


@dataclass(frozen=True, slots=True)
class PainFelt:
    """Where it hurts, 0 to 10 if said, and warning signs in the athlete's words."""

    site: str | None
    side: Side | None
    score: int | None
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BodyWeighed:
    """Body weight. [kg], > 0"""

    kg: Decimal


@dataclass(frozen=True, slots=True)
class PlateCount:
    """So many plates of one mass. [kg], > 0"""

    kg: Decimal
    count: int


@dataclass(frozen=True, slots=True)
class BandOwned:
    """A band and how much body weight it takes away. [kg], > 0; measured by the athlete.

    Attributes:
        name: Its name, or that of two bands used together (``paired``).
        help_kg: What it takes away.
        bottom_kg: What it takes away at the bottom of the movement, where that was measured.
        top_kg: What it takes away at the top, where that was measured.
    """

    name: str
    help_kg: Decimal
    bottom_kg: Decimal | None = None
    top_kg: Decimal | None = None


PAIR = " + "
"""Between the names of two bands used together."""


def paired(one: str, other: str) -> str:
    """The name of two bands used together: the same whichever is named first."""
    return PAIR.join(sorted((one, other)))


EDGE_GRIP = "edge"
"""Stands for every grip held on an edge, where a mass is said of all of them."""


@dataclass(frozen=True, slots=True)
class GripMass:
    """A mass that belongs to one grip: a handle, a pin of its own, or a rating. [kg], > 0

    ``grip`` is a slug of the catalogue, or ``EDGE_GRIP``.
    """

    grip: str
    kg: Decimal


@dataclass(frozen=True, slots=True)
class PulleyOwned:
    """What a cord over a pulley takes off a body when so much hangs at its other end. [kg], > 0"""

    hung_kg: Decimal
    taken_kg: Decimal


@dataclass(frozen=True, slots=True)
class KitChanged:
    """A change of what the athlete owns. None leaves a part as it was.

    ``pin_kg`` is the pin used with every grip that has none of its own (``pin``); a
    ``handle`` comes on top of the pin of its grip. ``bar`` is one of unknown rating.
    With ``for_trip`` it is about the kit of the trip that is on, not the one at home.
    """

    plates: tuple[PlateCount, ...] | None = None
    change: Literal["set", "add", "remove"] = "set"
    pin_kg: Decimal | None = None
    pin_limit_kg: Decimal | None = None
    bar_limit_kg: Decimal | None = None
    edges_mm: tuple[int, ...] | None = None
    grips: tuple[str, ...] | None = None
    band: BandOwned | None = None
    drop_band: str | None = None
    pin: GripMass | None = None
    handle: GripMass | None = None
    own_pin_limit: GripMass | None = None
    handle_limit: GripMass | None = None
    belt_kg: Decimal | None = None
    pulley: PulleyOwned | None = None
    drop_pulley: bool = False
    bar: bool = False
    for_trip: bool = False


@dataclass(frozen=True, slots=True)
class EveningsPlanned:
    """Which evenings, when (local "HH:MM") and for how long. None leaves a part as it was."""

    days: tuple[Weekday, ...] | None
    at: str | None
    minutes: int | None


@dataclass(frozen=True, slots=True)
class WallDaysPlanned:
    """The days usually spent at the wall."""

    days: tuple[Weekday, ...]


@dataclass(frozen=True, slots=True)
class SettingChanged:
    """One setting, numbers written out. ``quiet``: "HH:MM-HH:MM"; ``rests``: "shared" or "full"."""

    name: SettingName
    value: str


@dataclass(frozen=True, slots=True)
class StartLoadStated:
    """The load an athlete wants to begin an exercise with. [kg]"""

    exercise: str
    load_kg: Decimal
    side: Side


@dataclass(frozen=True, slots=True)
class EveningStarted:
    """The athlete began the evening of this entry's day."""


@dataclass(frozen=True, slots=True)
class EveningDropped:
    """No evening on that day."""

    on: date


@dataclass(frozen=True, slots=True)
class EveningMoved:
    """The evening of one day is held at another local moment ("YYYY-MM-DDTHH:MM")."""

    on: date
    to: str


@dataclass(frozen=True, slots=True)
class TimeLimited:
    """Only so many minutes on this entry's day. [min]"""

    minutes: int


@dataclass(frozen=True, slots=True)
class Paused:
    """Nothing planned until that day (None: until "back")."""

    until: date | None
    cause: PauseCause


@dataclass(frozen=True, slots=True)
class CameBack:
    """The pause is over."""


@dataclass(frozen=True, slots=True)
class DeloadAsked:
    """An easier week, from this entry's day on."""


@dataclass(frozen=True, slots=True)
class Swapped:
    """An exercise exchanged tonight for another of its block."""

    exercise: str


@dataclass(frozen=True, slots=True)
class QuestionSkipped:
    """A set-up question answered with "skip": its stated default holds."""

    question: str


@dataclass(frozen=True, slots=True)
class LogConfirmed:
    """The athlete said that the log of this entry, which looked like a slip, is right."""

    entry: int


@dataclass(frozen=True, slots=True)
class Undone:
    """Earlier entries, by number, that no longer count."""

    entries: tuple[int, ...]
    by: Literal["undo", "fix"]


Fact = (
    Logged
    | Skipped
    | WallVisited
    | WallDropped
    | PainFelt
    | BodyWeighed
    | KitChanged
    | EveningsPlanned
    | WallDaysPlanned
    | SettingChanged
    | StartLoadStated
    | EveningStarted
    | EveningDropped
    | EveningMoved
    | TimeLimited
    | Paused
    | CameBack
    | DeloadAsked
    | Swapped
    | QuestionSkipped
    | LogConfirmed
    | Undone
)


@dataclass(frozen=True, slots=True)
class Entry:
    """A fact in its place in one athlete's record.

    Attributes:
        number: 1, 2, 3 … within the athlete, in the order of writing.
        reply: The reply that made it; entries of one reply are undone together.
        at: The moment it was written. Aware, UTC.
        day: The training day it belongs to, in the athlete's zone.
        fact: What happened.
    """

    number: int
    reply: int
    at: datetime
    day: date
    fact: Fact


def counting(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """The entries that still count, in order, undone ones and the undoings left out.

    An ``Undone`` that was itself undone has no effect, so undoing a correction
    brings the corrected log back.
    """
    gone: set[int] = set()
    kept: list[Entry] = []
    for entry in reversed(entries):
        if entry.number in gone:
            continue
        if isinstance(entry.fact, Undone):
            gone.update(entry.fact.entries)
        else:
            kept.append(entry)
    return tuple(reversed(kept))
