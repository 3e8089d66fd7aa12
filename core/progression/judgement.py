"""What one session of loaded holds says, set by set, before any rule decides.

Mixed sets. The hardest effort said counts for all. Where loads differ, the session speaks
for the heaviest load at which no set was hard or worse (else for the lightest one used):
that is the level it found. Failures above that load are no failures at it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from core.catalogue import LoadedHold
from core.facts import Effort, SetDone
from core.history import Session
from core.physiology.effort import effort_word, hardest
from core.target import Value

LATE_FRAC = Decimal("0.8")
"""A failure from this part of the asked time on is late. [-] House rule."""


@dataclass(frozen=True, slots=True)
class HoldVerdict:
    """A session of loaded holds.

    Attributes:
        day: Training day.
        sets: Sets held to the end.
        of: Sets asked for.
        sets_at_load: Those of ``sets`` held at ``load_kg``.
        load_kg: The load it speaks for. [kg]
        top_kg: The heaviest load used. [kg]
        hold_s: Seconds that were to be held. [s]
        effort: The hardest effort said at that load, failures apart; None if none was.
        failed: Sets that failed.
        early: Whether a failure came early.
        short: Whether a set was ended early without failing.
    """

    day: date
    sets: int
    of: int
    sets_at_load: int
    load_kg: Decimal
    top_kg: Decimal
    hold_s: int
    effort: Effort | None
    failed: int
    early: bool
    short: bool

    @property
    def mixed(self) -> bool:
        """Whether some sets were held at another load than the one it speaks for."""
        return self.sets_at_load < self.sets

    def facts(self) -> dict[str, Value]:
        """The session in the names that reasons use."""
        said: dict[str, Value] = {
            "day": self.day,
            "sets": self.sets,
            "of": self.of,
            "load_kg": self.load_kg,
            "hold_s": self.hold_s,
        }
        return said if self.effort is None else {**said, "effort": self.effort}


def falls(verdict: HoldVerdict, before: HoldVerdict | None) -> str | None:
    """The name of the rule by which a session calls for less load, None where it does not.

    Several failed sets, or an early one; a late one only if the session before had one too.
    """
    if not verdict.failed:
        return None
    if verdict.failed > 1:
        return "sets-failed"
    if verdict.early:
        return "early-fail"
    late_before = before is not None and before.failed == 1 and not before.early
    return "late-fail-again" if late_before else None


def effort_in(done: SetDone) -> Effort | None:
    """How a set went, by whichever way it was said."""
    if done.rpe is None and done.left is None:
        return done.effort
    return effort_word(done.effort, rpe=done.rpe, left=done.left)


def hold_verdict(session: Session, dose: LoadedHold) -> HoldVerdict:
    """The verdict on a session of which at least one set has a load."""
    asked = session.asked if session.asked is not None and session.asked.sets > 0 else None
    loaded = [s for s in session.sets if s.load_kg is not None]
    load_kg = _speaks_for(loaded)
    mine = [s for s in loaded if s.load_kg is not None and s.load_kg <= load_kg]
    at_load = [s for s in mine if s.load_kg == load_kg]
    failed = [s for s in mine if s.effort == "fail"]
    done = [s for s in session.sets if s.effort != "fail"]
    hold_s = _hold_s(asked.hold_s if asked is not None else None, done, dose)
    return HoldVerdict(
        day=session.day,
        sets=len(done),
        of=asked.sets if asked is not None else dose.sets,
        sets_at_load=sum(1 for s in at_load if s.effort != "fail"),
        load_kg=load_kg,
        top_kg=max(s.load_kg for s in loaded if s.load_kg is not None),
        hold_s=hold_s,
        effort=hardest(effort_in(s) for s in at_load if s.effort != "fail"),
        failed=len(failed),
        early=any(_part_held(s, hold_s, dose) < LATE_FRAC for s in failed),
        short=any(_part_held(s, hold_s, dose) < 1 for s in at_load if s.effort != "fail"),
    )


def _speaks_for(sets: Sequence[SetDone]) -> Decimal:
    loads = sorted({s.load_kg for s in sets if s.load_kg is not None})
    fine = [
        load
        for load in loads
        if hardest(effort_in(s) for s in sets if s.load_kg == load) in (None, "easy", "ok")
    ]
    return max(fine, default=loads[0])


def _hold_s(asked_s: int | None, done: Sequence[SetDone], dose: LoadedHold) -> int:
    """What was asked; where nothing was, the shortest hold that was done, else the dose's."""
    if asked_s is not None:
        return asked_s
    return min((s.hold_s for s in done if s.hold_s is not None), default=dose.hold_s)


def _part_held(done: SetDone, hold_s: int, dose: LoadedHold) -> Decimal:
    """Which part of a set was done; all of it where nothing else was said."""
    if dose.lifts > 1 and done.reps is not None:
        return Decimal(done.reps) / dose.lifts
    return Decimal(1) if done.hold_s is None else Decimal(done.hold_s) / hold_s
