"""What the last weeks say: gains, plateaus, the hands, evenings held, training load.

``review`` joins what four weeks say, with one suggestion; ``training_load`` describes how much
it was. Both need the ``diary_of`` a record. ``trend_of`` is about one line of progress.
"""

from core.review.adherence import Adherence
from core.review.change import ExerciseChange, LineChange
from core.review.diary import Diary, diary_of
from core.review.review import Review, review
from core.review.rules import LIMITS, SUGGESTIONS
from core.review.training_load import TrainingLoad, training_load
from core.review.trend import Difference, Trend, difference_of, trend_of

__all__ = [
    "Adherence",
    "Diary",
    "Difference",
    "ExerciseChange",
    "LIMITS",
    "LineChange",
    "Review",
    "SUGGESTIONS",
    "TrainingLoad",
    "Trend",
    "diary_of",
    "difference_of",
    "review",
    "training_load",
    "trend_of",
]
