"""Which sessions show the level: those that were meant to be easier do not."""

from datetime import date

from core.athlete import Athlete
from core.derived import folded
from core.history import Session, Stream
from core.progression.deload import eased_days
from core.progression.illness import easy_days


def level_of(athlete: Athlete, stream: Stream) -> tuple[Session, ...]:
    """The sessions of the line without those of an easier week or the easy ones after illness.

    On the day on which an easier week was asked for, a session counts if it was asked for
    in full. Where nothing else is there, the easy sessions are all that is known.
    """
    exercise = athlete.programme.exercise(stream.exercise)
    sets = exercise.dose.sets
    eased = eased_days(athlete)
    maybe: frozenset[date] = frozenset(athlete.deloads) | easy_days(athlete, exercise)

    def is_easier(s: Session) -> bool:
        return s.day in eased or (s.day in maybe and _fewer(s, sets))

    none: tuple[Session, ...] = ()
    shown = folded(
        athlete,
        ("level", stream.exercise, stream.side, stream.edge_mm),
        stream.sessions,
        lambda shown, more: (*shown, *[s for s in more if not is_easier(s)]),
        begin=none,
        given=(eased, maybe, sets),
    )
    return shown or stream.sessions


def _fewer(session: Session, sets: int) -> bool:
    return session.asked is not None and session.asked.sets < sets
