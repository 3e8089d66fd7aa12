"""Ladders of variations: the rung reached is read off the record alone.

Logs do not say which variation was done, so the rung is a fold: it starts on the first
rung with the first aim, and every session in turn moves it by the rule of its dose kind.
The same record gives the same rung, and a new session never changes what earlier ones
meant. A session that was asked for less is judged by what was asked. On a day on which
pain or time off held an increase back, the rung done was the one before it. (Named tuples
here: a year is folded for each answer, and they are made in a third of the time.)

A session **passes** when all sets were done as aimed and the hardest effort said was easy
or ok; it **misses** when a set failed or stayed under the aim.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache
from operator import lt
from typing import Any, NamedTuple

from core.derived import folded
from core.facts import Effort, SetDone
from core.history import Session
from core.physiology.effort import hardest
from core.progression.case import Case, Proposal
from core.progression.held_back import held_back_days
from core.progression.judgement import effort_in
from core.progression.reshape import INCREASES, explained
from core.target import Change, Reason, Target, Value, because


class Rung(NamedTuple):
    """Where a ladder stands.

    Attributes:
        rank: Which rung, from 0.
        aims: Reps or seconds, set by set.
        passed: Sessions running that passed on this rung at this aim.
        missed: Sessions running that missed.
        change: What the last session changed.
        climb: That session; None at the start.
        then: What was made of it.
    """

    rank: int
    aims: tuple[int, ...]
    passed: int
    missed: int
    change: Change
    climb: "Climb | None"
    then: tuple[Reason, ...]

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """Why: the session, and what was made of it."""
        return self.then if self.climb is None else (self.climb.said, *self.then)


class Climb(NamedTuple):
    """One session against the rung it was done on.

    Attributes:
        day: Training day.
        variation: The rung's variation, None where the exercise has none.
        done: Reps or seconds, set by set; a set whose number was not said counts as aimed.
        of: Sets asked for.
        passed, missed: As above; neither for the same again.
        effort: The hardest effort said; None if none was.
    """

    day: date
    variation: str | None
    done: tuple[int, ...]
    of: int
    passed: bool
    missed: bool
    effort: Effort | None

    @property
    def easy(self) -> bool:
        """Whether the hardest effort said was easy."""
        return self.effort == "easy"

    @property
    def said(self) -> Reason:
        """What the session was, as a reason."""
        if self.missed:
            return self.named("aim-missed")
        if len(self.done) < self.of:
            return self.named("sets-missing")
        return self.named("no-effort" if self.effort is None else f"all-sets-{self.effort}")

    def named(self, rule: str) -> Reason:
        """The session's facts under that rule."""
        facts: dict[str, Value] = {
            "day": self.day,
            "sets": len(self.done),
            "of": self.of,
            "done": ", ".join(str(d) for d in self.done),
        }
        if self.variation is not None:
            facts["variation"] = self.variation
        if self.effort is not None:
            facts["effort"] = self.effort
        return because(rule, **facts)


Rule = Callable[[Rung, Climb], Rung]
Measure = Callable[[SetDone], Any]
Aimed = Callable[[Target, tuple[int, ...]], Target]


def climbed(case: Case, *, first: Rung, measure: Measure, rule: Rule) -> tuple[Rung, Rung]:
    """The rung after every session in turn, and the one the last session was done on."""
    held_back = held_back_days(case)
    variations = case.exercise.variations

    def more(at: tuple[Rung, Rung], sessions: tuple[Session, ...]) -> tuple[Rung, Rung]:
        rung, last = at
        for session in sessions:
            on = last if rung.change in INCREASES and session.day in held_back else rung
            asked = session.asked
            aim = None if asked is None or not asked.sets else asked.hold_s or asked.reps
            if aim is not None and aim < on.aims[0]:
                on = on._replace(aims=(aim,) * len(on.aims))
            climb = _climb(
                session, on, variation=variations[on.rank] if variations else None, measure=measure
            )
            rung, last = rule(on, climb), on
        return rung, last

    stream = case.stream
    return folded(
        case.athlete,
        ("climbed", stream.exercise, stream.side, stream.edge_mm),
        case.level,
        more,
        begin=(first, first),
        given=(held_back, case.exercise),
    )


def stayed(rung: Rung, climb: Climb, *then: Reason, missed: bool | None = None) -> Rung:
    """The same rung and aims again; a miss or a pass is counted."""
    is_miss = climb.missed if missed is None else missed
    passed = rung.passed + 1 if climb.passed else 0
    failed = rung.missed + 1 if is_miss else 0
    return Rung(rung.rank, rung.aims, passed, failed, "same", climb, then)


def _climb(session: Session, rung: Rung, *, variation: str | None, measure: Measure) -> Climb:
    asked = session.asked
    of = asked.sets if asked is not None and asked.sets > 0 else len(rung.aims)
    aims, sets = rung.aims, session.sets
    if len(sets) > len(aims):
        aims += aims[-1:] * (len(sets) - len(aims))
    said = [measure(s) for s in sets]
    if None in said:
        said = [aim if n is None else n for n, aim in zip(said, aims, strict=False)]
    done = tuple(said)
    efforts = [s.effort if s.rpe is None and s.left is None else effort_in(s) for s in sets]
    alike = efforts.count(efforts[0]) == len(efforts)
    effort = efforts[0] if alike else hardest(efforts)
    missed = effort == "fail" or any(map(lt, done, aims))
    passed = not missed and effort in ("easy", "ok") and len(done) >= of
    return Climb(session.day, variation, done, of, passed, missed, effort)


def laddered(case: Case, *, first: Rung, measure: Measure, rule: Rule, aimed: Aimed) -> Proposal:
    """What the ladder calls for after the last session, and the rung as it was before it."""
    variations = case.exercise.variations

    def target(rung: Rung) -> Target:
        named = replace(case.base(), variation=variations[rung.rank] if variations else None)
        return explained(aimed(named, rung.aims), rung.change, *rung.reasons)

    if not case.level:
        start = target(first)
        return Proposal(start, start)
    after, on = climbed(case, first=first, measure=measure, rule=rule)
    if after.change not in INCREASES or after.climb is None:
        return Proposal(target(after), target(after))
    again = on._replace(change="same", climb=None, then=(after.climb.named("last-session"),))
    return Proposal(target(after), target(again))


def start_of(aims: tuple[int, ...]) -> Rung:
    """The foot of a ladder."""
    return Rung(0, aims, 0, 0, "first", None, (because("ladder-foot"),))


def moved(climb: Climb, *, to: tuple[int, tuple[int, ...]], change: Change, rule: str) -> Rung:
    """Another rung or other aims, with the session and the rule as reasons."""
    rank, aims = to
    return Rung(rank, aims, 0, 0, change, climb, (_goes_to(rule, aims[0]),))


@cache
def _goes_to(rule: str, aim: int) -> Reason:
    return because(rule, to=aim)
