"""One walk over a line of progress: what each session said, what is believed, what is doubted."""

from copy import copy
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from core.athlete import Athlete
from core.catalogue import Exercise, get_exercise
from core.derived import folded, once
from core.facts import SetDone
from core.history import Session, Stream
from core.kit.inventory import Inventory
from core.strength.filter import Belief, Filter
from core.strength.gate import (
    NEVER_STRAY,
    Doubted,
    Why,
    agree,
    beyond_plates,
    is_as_asked,
    stray,
)
from core.strength.net_mass import body_kg_on
from core.strength.observation import Observation, best_of, shown

Told = tuple[Observation | None, Observation | None]
"""What a set says, and what it shows at least."""

RECENT = 40
"""Least number of sessions that are looked at, where there are more. House rule: what is older
weighs less than a thousandth at three sessions a week, and an answer takes no longer after
years."""

STRIDE = 20
"""Sessions by which the beginning moves on, so that most walks go on from the last one."""

_NOTHING = float("-inf")
"""What a set without a load speaks for. [log kg]"""


@dataclass(frozen=True, slots=True)
class Fold:
    """All that a line of progress says.

    Attributes:
        sessions: The recent ones, oldest first, with their believed sets only; none without any.
        seen: What each of them said; None where no effort was.
        doubted: Sets that look like slips, oldest first.
        belief: After the last session; None before the first observation.
    """

    sessions: tuple[Session, ...]
    seen: tuple[Observation | None, ...]
    doubted: tuple[Doubted, ...]
    belief: Belief | None


def first_looked_at(stream: Stream) -> int:
    """The index of the first session of a line that is looked at."""
    return max(0, len(stream.sessions) - RECENT) // STRIDE * STRIDE


def fold(athlete: Athlete, stream: Stream) -> Fold:
    """Walk over the recent sessions of a line, oldest first; remembered.

    Args:
        athlete: Whose; gives body weight, plates, and which logs were confirmed.
        stream: The line.
    """
    # The line is kept beside the answer, so its identity stays its own.
    kept: tuple[Stream, Fold] = once(
        athlete, ("fold", id(stream)), lambda: (stream, _walked(athlete, stream))
    )
    return kept[1]


def _walked(athlete: Athlete, stream: Stream) -> Fold:
    def more(walk: _Walk, sessions: tuple[Session, ...]) -> _Walk:
        further = walk.copied()
        for session in sessions:
            further.go_on(session)
        return further

    known = _Known(athlete.body_kg, athlete.weighed, athlete.kit, athlete.confirmed)
    walk = folded(
        athlete,
        ("fold", stream.exercise, stream.side, stream.edge_mm),
        stream.sessions[first_looked_at(stream) :],
        more,
        begin=_Walk(known, get_exercise(stream.exercise)),
        given=known,
    )
    return Fold(tuple(walk.sessions), tuple(walk.seen), tuple(walk.doubted), walk.filter.belief)


class _Known(NamedTuple):
    """What of an athlete a walk looks at."""

    body_kg: Decimal | None
    weighed: tuple[tuple[date, Decimal], ...]
    kit: Inventory
    confirmed: frozenset[int]


@dataclass(slots=True)
class _Sorted:
    """The sets of one session by whether they are believed.

    ``top`` is the believed set that speaks for most, ``top_log_kg`` what it speaks for.
    """

    kept: list[int] = field(default_factory=list)
    seen: list[Observation] = field(default_factory=list)
    doubted: list[Doubted] = field(default_factory=list)
    low: list[Observation] = field(default_factory=list)
    top: SetDone | None = None
    top_log_kg: float = _NOTHING
    is_new_level: bool = False

    def keep(self, at: int, done: SetDone, told: Told) -> None:
        """Believe a set."""
        seen, least = told
        self.kept.append(at)
        if seen is not None:
            self.seen.append(seen)
        log_kg = _NOTHING if least is None else least.log_kg
        if self.top is None or log_kg > self.top_log_kg:
            self.top, self.top_log_kg = done, log_kg


class _Walk:
    """What is known so far while walking."""

    def __init__(self, known: _Known, exercise: Exercise) -> None:
        self.known = known
        self.exercise = exercise
        self.filter = Filter()
        self.sessions: list[Session] = []
        self.seen: list[Observation | None] = []
        self.doubted: list[Doubted] = []
        self._top: SetDone | None = None
        """The set that spoke for most in the session before."""
        self._low: tuple[Session, Observation] | None = None
        """The session before, if all it said is far below the record."""
        self._body_kg = known.body_kg

    def copied(self) -> "_Walk":
        """A walk of its own that goes on from here."""
        other = copy(self)
        other.filter = copy(self.filter)
        other.sessions, other.seen = self.sessions[:], self.seen[:]
        other.doubted = self.doubted[:]
        return other

    def go_on(self, session: Session) -> None:
        """Take the next session in."""
        if self.known.weighed:
            self._body_kg = body_kg_on(self.known, session.day)
        if not self._is_plain(session):
            self._weigh(session)

    def _is_plain(self, session: Session) -> bool:
        """Count a session if all its sets are near the belief, as nearly all are; whether so."""
        told: list[Observation] = []
        top, top_log_kg, alike = session.sets[0], _NOTHING, None
        for done in session.sets:
            if done == alike:
                continue
            alike = done
            seen, least = shown(self.exercise, done, body_kg=self._body_kg)
            if least is not None:
                if not self._is_near(least):
                    return False
                if least.log_kg > top_log_kg:
                    top, top_log_kg = done, least.log_kg
            if seen is not None:
                told.append(seen)
        self._low = None
        self._count(session, told[0] if len(told) == 1 else best_of(told), top)
        return True

    def _is_near(self, least: Observation) -> bool:
        """Whether a set is so near to the belief that it need not be looked at closely."""
        known = self.filter.sessions > 0
        return known and -NEVER_STRAY <= least.log_kg - self.filter.log_kg <= NEVER_STRAY

    def _count(self, session: Session, seen: Observation | None, top: SetDone) -> None:
        """Let a session count."""
        self.sessions.append(session)
        self.seen.append(seen)
        self._top = top
        if seen is not None:
            self.filter.take(seen, session.day)

    def _weigh(self, session: Session) -> None:
        """Take a session in that has to be looked at set by set."""
        found = self._sorted(session)
        before, self._low = self._low, None
        low = best_of(found.low) if found.low and not found.seen else None
        if low is not None:
            self._low = (session, low)
            if before is not None and agree(before[1], low):
                self._take_level(before[0])
                found = self._all_of(session)
        self.doubted += found.doubted
        if found.top is not None:
            if found.is_new_level and found.seen:
                self.filter.begin_anew()
            self._count(_only(session, found.kept), best_of(found.seen), found.top)

    def _take_level(self, low: Session) -> None:
        """Believe the session before after all, and begin anew from it: the next one agrees."""
        self.doubted = [d for d in self.doubted if d.day != low.day]
        if self.sessions and self.sessions[-1].day == low.day:
            del self.sessions[-1], self.seen[-1]
        found = self._all_of(low)
        self.filter.begin_anew()
        self._count(low, best_of(found.seen), found.top or low.sets[0])

    def _all_of(self, session: Session) -> _Sorted:
        """Every set of a session believed."""
        found = _Sorted()
        for at, done in enumerate(session.sets):
            found.keep(at, done, shown(self.exercise, done, body_kg=self._body_kg))
        return found

    def _sorted(self, session: Session) -> _Sorted:
        found = _Sorted()
        for at, done in enumerate(session.sets):
            told = shown(self.exercise, done, body_kg=self._body_kg)
            least, doubt = told[1], None
            if least is not None and not self._is_near(least):
                doubt = self._doubt(session, at, least, found)
            if doubt is None or doubt.log in self.known.confirmed:
                found.is_new_level |= doubt is not None
                found.keep(at, done, told)
                continue
            found.doubted.append(doubt)
            if doubt.why == "lower" and told[0] is not None:
                found.low.append(told[0])
        return found

    def _doubt(
        self, session: Session, at: int, least: Observation, found: _Sorted
    ) -> Doubted | None:
        """What speaks against a set, None if nothing does."""
        done, belief = session.sets[at], self.filter.belief
        if belief is None and found.seen:
            # In the first session the best set so far stands for a record.
            so_far = Filter()
            so_far.take(max(found.seen, key=lambda s: s.log_kg), session.day)
            belief = so_far.belief
        why: Why | None
        if belief is None:
            expected = beyond_plates(self.exercise, done, self.known.kit)
            why = None if expected is None else "plates"
        else:
            expected = belief.log_kg
            why = stray(least, belief, day=session.day)
        if why is None or expected is None or self._was_asked(session, done, least):
            return None
        last = None if found.top is None else (session.day, found.top)
        if self.sessions and self._top is not None:
            last = (self.sessions[-1].day, self._top)
        number = session.logs[at] if session.logs else 0
        return Doubted(number, session.day, done, why, least.log_kg, expected, last)

    def _was_asked(self, session: Session, done: SetDone, least: Observation) -> bool:
        return is_as_asked(self.exercise, done, least, asked=session.asked, body_kg=self._body_kg)


def _only(session: Session, kept: list[int]) -> Session:
    """The session with some of its sets."""
    if len(kept) == len(session.sets):
        return session
    return replace(
        session,
        sets=tuple(session.sets[at] for at in kept),
        logs=tuple(session.logs[at] for at in kept) if session.logs else (),
    )
