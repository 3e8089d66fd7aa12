"""What a reply means: the acts, frozen. The reader makes them, the conversation answers them."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from core.facts import (
    Effort,
    GripMass,
    PauseCause,
    PlateCount,
    PulleyOwned,
    SettingName,
    Side,
    Weekday,
)
from core.quantity import Unit


@dataclass(frozen=True, slots=True)
class SetSaid:
    """One set as it was typed. What was not said is None.

    ``value`` is a bare number whose meaning only the conversation knows: it is
    set when neither the exercise nor a unit was named. Other fields as in
    ``core.facts.SetDone``; a help load is negative.
    """

    side: Side
    load_kg: Decimal | None = None
    band: str | None = None
    reps: int | None = None
    hold_s: int | None = None
    effort: Effort | None = None
    rpe: Decimal | None = None
    left: int | None = None
    value: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Log:
    """Sets done. ``exercise`` is None where the reply names none."""

    exercise: str | None
    sets: tuple[SetSaid, ...]
    edge_mm: int | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """The set in hand, or the whole session, done as asked."""

    scope: Literal["set", "session"]
    effort: Effort | None


@dataclass(frozen=True, slots=True)
class Ask:
    """A question or a plain word without details.

    ``exercise`` is used by next, why, skip, progress and swap only.
    """

    about: Literal[
        "next",
        "why",
        "skip",
        "progress",
        "swap",
        "tonight",
        "week",
        "kit",
        "help",
        "undo",
        "start",
        "back",
        "deload",
        "same",
    ]
    exercise: str | None = None


@dataclass(frozen=True, slots=True)
class Fix:
    """The last log of the exercise was wrong; this is right."""

    log: Log


@dataclass(frozen=True, slots=True)
class Minutes:
    """Only so much time tonight. [min]"""

    minutes: int


@dataclass(frozen=True, slots=True)
class Wall:
    """At the wall. ``when`` is None where no day was said; a date may lie ahead or behind."""

    when: date | None
    minutes: int | None
    rpe: Decimal | None


@dataclass(frozen=True, slots=True)
class NoWall:
    """Not at the wall that day after all; None where no day was said."""

    when: date | None


@dataclass(frozen=True, slots=True)
class Move:
    """An evening goes to another day, or to a local moment (naive on purpose: wall-clock time).

    ``evening`` is the day on which it is to be held so far; None for the next one.
    """

    to: date | datetime
    evening: date | None = None


@dataclass(frozen=True, slots=True)
class Later:
    """Remind again after so long. [min]"""

    minutes: int


@dataclass(frozen=True, slots=True)
class Packed:
    """What is taken on a trip, or is there. A bar is one of unknown rating. [mm]"""

    bands: tuple[str, ...] = ()
    edges_mm: tuple[int, ...] = ()
    bar: bool = False


@dataclass(frozen=True, slots=True)
class Pause:
    """Nothing planned until then (None: until "back"); of a trip, the kit where it was said."""

    until: date | None
    cause: PauseCause
    packed: Packed | None = None


@dataclass(frozen=True, slots=True)
class BodyWeight:
    """Body weight. [kg]"""

    kg: Decimal


@dataclass(frozen=True, slots=True)
class Pain:
    """Where it hurts, how much (0 to 10), and warning signs: pop, swelling, numb, stuck, night."""

    site: str | None
    side: Side | None
    score: int | None
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BandSaid:
    """A band, or two together under the name of both (``core.facts.paired``).

    Attributes:
        name: Its name.
        help_kg: What it takes off. [kg]
        bottom_kg: What it takes off at the bottom of the movement; None if not said. [kg]
        top_kg: What it takes off at the top; None if not said. [kg]
    """

    name: str
    help_kg: Decimal
    bottom_kg: Decimal | None = None
    top_kg: Decimal | None = None


@dataclass(frozen=True, slots=True)
class BandScaled:
    """A band, and what a scale shows of the athlete with a foot in it. [kg]"""

    name: str
    scale_kg: Decimal


@dataclass(frozen=True, slots=True)
class Kit:
    """What the athlete owns: one part of it per clause; parts as in ``core.facts.KitChanged``."""

    plates: tuple[PlateCount, ...] | None = None
    change: Literal["set", "add", "remove"] = "set"
    pin_kg: Decimal | None = None
    pin_limit_kg: Decimal | None = None
    bar_limit_kg: Decimal | None = None
    edges_mm: tuple[int, ...] | None = None
    grips: tuple[str, ...] | None = None
    band: BandSaid | BandScaled | None = None
    drop_band: str | None = None
    pin: GripMass | None = None
    handle: GripMass | None = None
    own_pin_limit: GripMass | None = None
    handle_limit: GripMass | None = None
    belt_kg: Decimal | None = None
    pulley: PulleyOwned | None = None
    drop_pulley: bool = False


@dataclass(frozen=True, slots=True)
class Evenings:
    """Planned evenings; None where a part was not said. ``at`` is local "HH:MM"."""

    days: tuple[Weekday, ...] | None
    at: str | None
    minutes: int | None


@dataclass(frozen=True, slots=True)
class WallDays:
    """The days usually spent at the wall."""

    days: tuple[Weekday, ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting, as typed: units, zone, age, quiet, remind_min or rests.

    ``zone`` is a name, a city or "HH:MM", ``quiet`` "HH:MM-HH:MM", ``rests`` "shared" or "full".
    """

    name: SettingName
    value: str


@dataclass(frozen=True, slots=True)
class StartLoad:
    """The load to begin an exercise with. [kg]"""

    exercise: str
    load_kg: Decimal
    side: Side


Act = (
    Log
    | Done
    | Ask
    | Fix
    | Minutes
    | Wall
    | NoWall
    | Move
    | Later
    | Pause
    | BodyWeight
    | Pain
    | Kit
    | Evenings
    | WallDays
    | Setting
    | StartLoad
)


@dataclass(frozen=True, slots=True)
class Misread:
    """The first clause that was not understood.

    Attributes:
        clause: Its number, from 1.
        at: Column in the reply's text, from 0.
        saw: The text that did not fit there ("" at the end of the reply).
        expected: What would have been understood there, in plain words.
        try_: Up to three complete replies that would have been understood, nearest first.
    """

    clause: int
    at: int
    saw: str
    expected: tuple[str, ...]
    try_: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reading:
    """A reply read: the acts of its good clauses in order, and the first misread if any."""

    text: str
    acts: tuple[Act, ...]
    misread: Misread | None


@dataclass(frozen=True, slots=True)
class ReplyContext:
    """What the reader is told besides the text.

    Attributes:
        units: What a bare load means.
        at: The moment of the reply. Aware.
        zone: Name of the athlete's time zone, for relative dates.
        bands: Names of the athlete's bands, lower case; empty means any one word is a name.
        aliases: The athlete's own names for exercises: (name, slug).
    """

    units: Unit
    at: datetime
    zone: str
    bands: tuple[str, ...] = ()
    aliases: tuple[tuple[str, str], ...] = ()
