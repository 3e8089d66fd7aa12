"""What four weeks say: what was held, what moved, what was in the way, and one thing to do next."""

from dataclasses import dataclass
from datetime import date, timedelta

from core.athlete import Athlete
from core.review.adherence import Adherence, adherence
from core.review.change import ExerciseChange, changes
from core.review.diary import Diary
from core.review.limit import (
    easier_week_limits,
    evening_limits,
    kit_limits,
    level_limits,
    pain_limits,
)
from core.review.suggestion import Evidence, suggestion
from core.target import Reason

REVIEW_DAYS = 28
"""Days that a review looks at, the last one included. [d]"""


@dataclass(frozen=True, slots=True)
class Review:
    """What some weeks say.

    Attributes:
        since, until: The first and the last day looked at.
        kept: What became of the planned evenings.
        moved: What moved in each exercise trained, the most trained first.
        limits: What was in the way, each a reason of ``LIMITS``; empty where nothing was.
        suggestion: The one thing to do next, a reason of ``SUGGESTIONS``.
    """

    since: date
    until: date
    kept: Adherence
    moved: tuple[ExerciseChange, ...]
    limits: tuple[Reason, ...]
    suggestion: Reason


def review(athlete: Athlete, diary: Diary, *, today: date) -> Review:
    """The review of the four weeks up to today.

    Args:
        athlete: Whose.
        diary: Theirs, from the same record.
        today: The last day that counts, in the athlete's zone.
    """
    since = today - timedelta(days=REVIEW_DAYS - 1)
    kept = adherence(athlete, diary, since=since, today=today)
    moved = changes(athlete, since=since, today=today)
    pains = pain_limits(athlete, since=since, today=today)
    trained = sorted({*kept.held, *kept.extra})
    eased = easier_week_limits(athlete, trained)
    limits = (
        *pains,
        *evening_limits(kept),
        *kit_limits(moved),
        *level_limits(moved),
        *eased,
    )
    seen = Evidence(athlete, kept, moved, pains, bool(eased), today)
    return Review(since, today, kept, moved, limits, suggestion(seen))
