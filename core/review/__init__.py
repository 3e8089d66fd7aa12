"""What the last weeks say: whether there is a gain, a plateau, a difference between the hands."""

from core.review.trend import Difference, Trend, difference_of, trend_of

__all__ = ["Difference", "Trend", "difference_of", "trend_of"]
