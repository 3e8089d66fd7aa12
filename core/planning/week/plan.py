"""The coming days: what each is, which blocks it allows, and whether fingers are trained hard."""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Literal

from core.athlete import Athlete
from core.calendar import weekday
from core.catalogue import Block
from core.derived import once
from core.facts import Paused
from core.history import on_day
from core.planning.week.body import (
    back_since,
    can_load_fingers,
    finger_days,
    fingers_eased,
    fingers_stopped,
    hurt_days,
)
from core.planning.week.schedule import (
    HomeEvening,
    home_evenings,
    usual_begin_on,
    wall_clock,
)
from core.planning.week.search import Slot, finger_evenings
from core.planning.week.spacing import Strain, first_near
from core.planning.week.usual import usual_finger_days
from core.progression.illness import HARD_BLOCKS, illness_on
from core.target import Reason, because

DayKind = Literal["home", "wall", "away", "rest"]
Fingers = Literal["hard", "light", "none"]

WALL_REPLACES: frozenset[Block] = frozenset({"fingers", "pull"})
"""Blocks that a visit to the wall takes the place of. House rule."""

SPACING: frozenset[str] = frozenset(
    {
        "wall-same-day",
        "wall-next-day",
        "wall-day-before",
        "wall-day-passed",
        "fingers-before",
        "fingers-after",
        "week-is-full",
    }
)
"""Reasons of the week, not of the body, for an evening without fingers."""

WEEKS = 3
"""Calendar weeks planned at once, the running one included, so that two are shown in full."""

LOOK_BACK = timedelta(days=2)
"""Days before the running week whose finger work still counts: the rest of 48 hours."""


@dataclass(frozen=True, slots=True)
class DayPlan:
    """What one training day is.

    Attributes:
        day: Training day.
        kind: ``home`` for a planned evening at home, ``wall``, ``away`` for a day on a trip,
            ``rest`` for every other day.
        evening: The planned evening held on that day, on wall and trip days too; or None.
        minutes: Time there is. [min]
        blocks: Blocks of the programme that may be trained that day; on a day without a planned
            evening, what may be trained without taking anything from a planned one.
        fingers: ``hard``, ``light`` or ``none``.
        reasons: Why the day is what it is, then why its fingers are what they are.
    """

    day: date
    kind: DayKind
    evening: HomeEvening | None
    minutes: int
    blocks: tuple[Block, ...]
    fingers: Fingers
    reasons: tuple[Reason, ...]


def day_plan(athlete: Athlete, day: date, *, today: date) -> DayPlan:
    """What one day is, as it stands today.

    Args:
        athlete: Whose. Their record may hold what was logged on ``day`` already.
        day: The training day asked about, today or later.
        today: The training day from which the week is planned.
    """
    until = _end_of(today, (day - today).days + 1)
    week = once(athlete, ("week", today, until), lambda: _Week(athlete, today, until=until))
    return week.day(day)


def days_ahead(athlete: Athlete, *, today: date, days: int = 14) -> tuple[DayPlan, ...]:
    """The coming days, today first, none left out."""
    until = _end_of(today, days)
    week = once(athlete, ("week", today, until), lambda: _Week(athlete, today, until=until))
    return tuple(week.day(today + timedelta(days=ahead)) for ahead in range(days))


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _end_of(today: date, days: int) -> date:
    """Sunday of the last week that is planned."""
    last = max(_monday(today) + timedelta(weeks=WEEKS), today + timedelta(days=days))
    return _monday(last) + timedelta(days=-1 if last == _monday(last) else 6)


class _Week:
    """The evenings of some weeks, with those on which fingers are trained.

    Attributes:
        evenings: By training day, from the Monday of the running week.
        strain: What loads fingers besides.
        chosen: Evenings to come on which fingers are trained, with their beginnings.
    """

    def __init__(self, athlete: Athlete, today: date, *, until: date) -> None:
        self.athlete = athlete
        self.today = today
        since = _monday(today)
        self.evenings = {e.day: e for e in home_evenings(athlete, since=since, until=until)}
        self._begins = {d: wall_clock(athlete, e.begins) for d, e in self.evenings.items()}
        self.strain = self._strain(since - LOOK_BACK, until + timedelta(days=1))
        coming = [e for e in self.evenings.values() if e.day >= today]
        slots = [self._slot(e) for e in coming if self._is_held(e.day)]
        picked = finger_evenings(slots, firsts=self._firsts(until))
        self.chosen = tuple((e.day, self._began(e.day)) for e in coming if e.planned in picked)
        self.easy = self._easy_day()
        self._days: dict[date, DayPlan] = {}

    def _is_held(self, day: date) -> bool:
        """True where an evening may be held: not in a pause, on a trip with a kit only."""
        return not is_off(self.athlete, day) or on_day(self.athlete, day).trip is not None

    def _strain(self, since: date, until: date) -> Strain:
        athlete = self.athlete
        done = (day for day in finger_days(athlete) if day >= since)
        loaded = {*done, *hurt_days(athlete, since=since, today=self.today)}
        visited = frozenset(w.on for w in athlete.walls if w.on >= since)
        days = (since + timedelta(days=n) for n in range((until - since).days + 1))
        planned = frozenset(
            day
            for day in days
            if weekday(day) in athlete.plan.wall_days
            and day not in athlete.dropped
            and day not in athlete.no_walls
            and not is_off(self.athlete, day)
        )
        trained = tuple((day, self._began(day)) for day in sorted(loaded))
        return Strain(trained, visited, planned)

    def _began(self, day: date) -> datetime:
        """When finger work of that day begins or began, as far as is known. Local."""
        begins = self._begins.get(day)
        return begins or wall_clock(self.athlete, usual_begin_on(self.athlete, day))

    def _easy_day(self) -> date | None:
        """The first finger evening to come after an illness."""
        first = next((day for day, _ in self.chosen), None)
        return first if first and back_since(self.athlete, first) is not None else None

    def _slot(self, evening: HomeEvening) -> Slot:
        begins = self._began(evening.day)
        return Slot(
            planned=evening.planned,
            begins=begins,
            week=_monday(evening.day),
            is_free=self._forbidden(evening.day, begins) is None,
            is_usual=self._is_usual(evening.planned),
        )

    def _is_usual(self, planned: date) -> bool:
        return weekday(planned) in usual_finger_days(self.athlete.plan)

    def _firsts(self, until: date) -> dict[date, datetime]:
        """The first finger evening of each week, done, or let pass by the athlete."""
        since = _monday(self.today)
        days = [day for day, _ in self.strain.trained if since <= day]
        called_off = (day for day in self.athlete.dropped if since <= day <= until)
        days += [day for day in called_off if self._is_usual(day)]
        days += [e.day for e in self.evenings.values() if self._was_missed(e)]
        return {_monday(day): self._began(day) for day in sorted(days, reverse=True)}

    def _was_missed(self, evening: HomeEvening) -> bool:
        """True for a usual finger evening that passed though nothing stood against it."""
        if evening.day >= self.today or evening.is_moved or not self._is_usual(evening.planned):
            return False
        return self._forbidden(evening.day, self._began(evening.day)) is None

    def _forbidden(self, day: date, begins: datetime) -> Reason | None:
        """What forbids hard fingers on a day, whatever the other evenings to come hold."""
        stopped = fingers_stopped(self.athlete, day)
        if stopped is not None:
            return stopped
        if self.athlete.programme.block("fingers") is None:
            return because("no-finger-block")
        if not can_load_fingers(on_day(self.athlete, day)):
            return because("no-finger-kit")
        wall = self.strain.wall_beside(day)
        if wall is not None:
            return because(self._wall_rule(wall, day), day=wall)
        near = self.strain.trained_near(day, begins)
        return None if near is None else because("fingers-before", day=near)

    def _wall_rule(self, wall: date, day: date) -> str:
        if wall < min(day, self.today) and wall not in self.strain.visited:
            return "wall-day-passed"
        return _WALL_RULES[(wall - day).days]

    def day(self, day: date) -> DayPlan:
        """The plan of one day from today on."""
        if day not in self._days:
            self._days[day] = self._planned(day)
        return self._days[day]

    def _planned(self, day: date) -> DayPlan:
        kind, why = self._kind(day)
        fingers, reasons = self._fingers(day, kind)
        # What the body or the kit forbids stays among the blocks: its targets say why.
        spaced = bool(reasons) and reasons[-1].rule in SPACING
        left_out: set[Block] = {"fingers"} if spaced else set()
        if kind == "wall" or (kind == "away" and not self._is_held(day)):
            left_out |= WALL_REPLACES
        if illness_on(self.athlete, day) is not None:
            left_out |= HARD_BLOCKS
        limited = (said for d, said, *_ in reversed(self.athlete.limited) if d == day)
        return DayPlan(
            day=day,
            kind=kind,
            evening=self.evenings.get(day),
            minutes=next(limited, self.athlete.plan.minutes),
            blocks=tuple(
                block.name for block in self.athlete.programme.blocks if block.name not in left_out
            ),
            fingers=fingers,
            reasons=(*why, *reasons),
        )

    def _kind(self, day: date) -> tuple[DayKind, tuple[Reason, ...]]:
        if day in self.strain.visited:
            return "wall", (because("wall-visit", day=day),)
        ill = illness_on(self.athlete, day)
        if ill is not None:
            return "rest", (_until(because("sick", since=ill.since), ill.until),)
        pause = _paused_on(self.athlete, day)
        if pause is not None:
            since, said = pause
            if said.cause != "away":
                return "rest", (_until(because("paused", since=since), said.until),)
            rule = "away-with-kit" if self._is_held(day) else "away"
            return "away", (_until(because(rule, since=since), said.until),)
        if day in self.strain.planned:
            return "wall", (because("wall-day", day=day),)
        return ("home" if day in self.evenings else "rest"), ()

    def _fingers(self, day: date, kind: DayKind) -> tuple[Fingers, tuple[Reason, ...]]:
        is_off_fingers = kind == "wall" or (kind == "away" and not self._is_held(day))
        if is_off_fingers or illness_on(self.athlete, day) is not None:
            return "none", ()
        begins = self._began(day)
        why = self._forbidden(day, begins) or self._not_chosen(day, begins)
        if why is not None:
            return "none", (why,)
        eased = fingers_eased(self.athlete, day)
        if day == self.easy:
            eased = because("easy-after-illness")
        return ("hard", ()) if eased is None else ("light", (eased,))

    def _not_chosen(self, day: date, begins: datetime) -> Reason | None:
        """Why an evening that might train fingers does not: another one does."""
        if any(d == day for d, _ in (*self.chosen, *self.strain.trained)):
            return None
        near = first_near(self.chosen, begins)
        if near is not None:
            return because("fingers-before" if near < day else "fingers-after", day=near)
        return because("week-is-full") if day in self.evenings else None


_WALL_RULES = {0: "wall-same-day", 1: "wall-next-day", -1: "wall-day-before"}


def _until(reason: Reason, until: date | None) -> Reason:
    return reason if until is None else replace(reason, facts=(*reason.facts, ("until", until)))


def is_off(athlete: Athlete, day: date) -> bool:
    """True on a day inside a pause, a trip or an illness: no evening is held then."""
    return _paused_on(athlete, day) is not None or illness_on(athlete, day) is not None


def _paused_on(athlete: Athlete, day: date) -> tuple[date, Paused] | None:
    """The pause in force on that day, illness left out, with its first day."""
    if athlete.pause is None or athlete.pause[1].cause == "sick":
        return None
    since, said = athlete.pause
    return athlete.pause if since <= day and (said.until is None or day < said.until) else None
