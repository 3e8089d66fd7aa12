"""Ladders of variations: the rung reached is read off the record alone.

Logs do not say which variation was done, so the rung is a fold: it starts on the first
rung with the first aim, and every session in turn moves it by the rule of its dose kind.
The same record gives the same rung, and a new session never changes what earlier ones
meant. Sessions of a deload, and sessions asked for less than the rung's aim, move nothing.

A session **passes** when all sets were done as aimed and the hardest effort said was easy
or ok; it **misses** when a set failed or stayed under the aim.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from core.catalogue import Exercise
from core.facts import Effort, SetDone
from core.history import Session
from core.physiology.effort import hardest
from core.progression.case import INCREASES, Case, Proposal, explained
from core.progression.judgement import effort_in
from core.target import Change, Reason, Target, Value, because


@dataclass(frozen=True, slots=True)
class Rung:
    """Where a ladder stands.

    Attributes:
        index: Rung, from 0.
        aims: Reps or seconds, set by set.
        passed: Sessions running that passed on this rung at this aim.
        missed: Sessions running that missed.
        change: What the last session changed.
        reasons: Why.
    """

    index: int
    aims: tuple[int, ...]
    passed: int
    missed: int
    change: Change
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Climb:
    """One session against the rung it was done on.

    Attributes:
        done: Reps or seconds, set by set; a set whose number was not said counts as aimed.
        of: Sets asked for.
        passed, missed: As above; neither for the same again.
        effort: The hardest effort said; None if none was.
        facts: The session in the names that reasons use.
    """

    done: tuple[int, ...]
    of: int
    passed: bool
    missed: bool
    effort: Effort | None
    facts: tuple[tuple[str, Value], ...]

    @property
    def easy(self) -> bool:
        """Whether the hardest effort said was easy."""
        return self.effort == "easy"

    @property
    def rule(self) -> str:
        """The name of what the session was."""
        if self.missed:
            return "aim-missed"
        if len(self.done) < self.of:
            return "sets-missing"
        return "no-effort" if self.effort is None else f"all-sets-{self.effort}"


Rule = Callable[[Rung, Climb], Rung]
Measure = Callable[[SetDone], int | None]
Aimed = Callable[[Target, tuple[int, ...]], Target]


def climbed(
    case: Case, sessions: tuple[Session, ...], *, first: Rung, measure: Measure, rule: Rule
) -> Rung:
    """The rung after every session in turn."""
    rung = first
    for session in sessions:
        asked = session.asked
        asked_each = None if asked is None or asked.sets == 0 else (asked.hold_s or asked.reps)
        climb = _climb(session, rung, exercise=case.exercise, measure=measure)
        if asked_each is not None and asked_each < rung.aims[0]:
            rung = replace(rung, change="same", reasons=(_less(climb),))
        else:
            rung = rule(rung, climb)
    return rung


def stayed(rung: Rung, climb: Climb, *reasons: Reason, missed: bool | None = None) -> Rung:
    """The same rung and aims again; a miss or a pass is counted."""
    is_miss = climb.missed if missed is None else missed
    return replace(
        rung,
        passed=rung.passed + 1 if climb.passed else 0,
        missed=rung.missed + 1 if is_miss else 0,
        change="same",
        reasons=(because(climb.rule, **dict(climb.facts)), *reasons),
    )


def _less(climb: Climb) -> Reason:
    return because("asked-for-less", **dict(climb.facts))


def _climb(session: Session, rung: Rung, *, exercise: Exercise, measure: Measure) -> Climb:
    of = len(rung.aims)
    if session.asked is not None and session.asked.sets > 0:
        of = session.asked.sets
    said = [measure(s) for s in session.sets]
    aims = rung.aims + rung.aims[-1:] * max(0, len(said) - len(rung.aims))
    done = tuple(aims[i] if value is None else value for i, value in enumerate(said))
    effort = hardest(effort_in(s) for s in session.sets)
    complete = len(done) >= of
    missed = effort == "fail" or any(d < a for d, a in zip(done, aims, strict=False))
    facts: dict[str, Value] = {
        "day": session.day,
        "sets": len(done),
        "of": of,
        "done": ", ".join(str(d) for d in done),
    }
    if exercise.variations:
        facts["variation"] = exercise.variations[rung.index]
    if effort is not None:
        facts["effort"] = effort
    return Climb(
        done=done,
        of=of,
        passed=complete and not missed and effort in ("easy", "ok"),
        missed=missed,
        effort=effort,
        facts=tuple(facts.items()),
    )


def laddered(case: Case, *, first: Rung, measure: Measure, rule: Rule, aimed: Aimed) -> Proposal:
    """What the ladder calls for after the last session, and the rung as it was before it."""
    variations = case.exercise.variations

    def target(rung: Rung) -> Target:
        named = replace(case.base(), variation=variations[rung.index] if variations else None)
        return explained(aimed(named, rung.aims), rung.change, *rung.reasons)

    if not case.level:
        start = target(first)
        return Proposal(start, start)
    before = climbed(case, case.level[:-1], first=first, measure=measure, rule=rule)
    after = climbed(case, case.level[-1:], first=before, measure=measure, rule=rule)
    if after.change not in INCREASES:
        return Proposal(target(after), target(after))
    seen = _climb(case.level[-1], before, exercise=case.exercise, measure=measure)
    again = replace(before, change="same", reasons=(because("last-session", **dict(seen.facts)),))
    return Proposal(target(after), target(again))


def start_of(aims: tuple[int, ...]) -> Rung:
    """The foot of a ladder."""
    return Rung(0, aims, 0, 0, "first", (because("ladder-foot"),))


def moved(
    rung: Rung, climb: Climb, *, to: tuple[int, tuple[int, ...]], change: Change, rule: str
) -> Rung:
    """Another rung or other aims, with the session and the rule as reasons."""
    index, aims = to
    said = because(climb.rule, **dict(climb.facts))
    return Rung(index, aims, 0, 0, change, (said, because(rule, to=aims[0])))
