"""Is it a gain, or noise: the trend of a line of progress, plateaus, and one hand beside the other.

The trend looks at what the sessions said, not at the running estimate, whose values depend on
each other. It is the median of the slopes between all pairs of sessions (Theil and Sen), which
a few odd evenings cannot bend.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import combinations
from math import exp, hypot, log, sqrt
from statistics import median
from typing import Literal

from core.athlete import Athlete
from core.errors import OutOfRange
from core.facts import Side
from core.history import Stream
from core.strength import Estimate
from core.strength.estimate import NINETY
from core.strength.fold import first_looked_at, fold
from core.strength.gate import FINDING

WINDOW_DAYS = 42
"""Six weeks, over which a trend is taken. [d]"""

NOISE_FRAC = 0.05
"""Changes and differences under this are inside test noise. [-]

House rule on finger_reliability_2025: two tests that vary by 2 to 3.4 % each differ by up to
about 5 to 6 % for no reason.
"""

LEAST_SESSIONS = 4
"""Fewer sessions have no trend. House rule."""

LEAST_DAYS = 14
"""Sessions over fewer days have no trend. [d] House rule."""

PLATEAU_SESSIONS = 8
"""Fewer sessions in six weeks are too few to speak of a plateau. House rule."""

PLATEAU_DAYS = 35
"""Sessions over fewer days are too few to speak of a plateau. [d] House rule."""

Direction = Literal["gain", "loss", "level"]


@dataclass(frozen=True, slots=True)
class Slope:
    """A slope with its interval, per unit of x."""

    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Trend:
    """How a line of progress changed.

    Attributes:
        since, until: Days of the first and the last session looked at.
        sessions: How many.
        change_frac: Change from the first to the last, part of the first. [-]
        low_frac, high_frac: The change is between them nine times in ten. [-]
        direction: level where the change is within test noise or may as well be none.
        is_plateau: Whether training was regular and a gain beyond test noise is ruled out.
    """

    since: date
    until: date
    sessions: int
    change_frac: float
    low_frac: float
    high_frac: float
    direction: Direction
    is_plateau: bool


@dataclass(frozen=True, slots=True)
class Difference:
    """One hand beside the other.

    Attributes:
        left_over_right_frac: How much stronger the left is, part of the right; negative where
            weaker. [-]
        low_frac, high_frac: The difference is between them nine times in ten. [-]
        stronger: level where it is within test noise or may as well be none.
    """

    left_over_right_frac: float
    low_frac: float
    high_frac: float
    stronger: Side | Literal["level"]


def theil_sen(points: tuple[tuple[float, float], ...], *, normal: float = NINETY) -> Slope:
    """The median slope between all pairs of points, with its interval.

    Args:
        points: (x, y), at least two different x.
        normal: Standard deviations of the interval on either side. [-], > 0

    Raises:
        OutOfRange: All points share their x.

    Validity: The interval needs about ten points to be close; with few it is the widest.
    Source: sen_1968, with his correction for ties.
    Ours: nothing.
    """
    ordered = sorted(points)
    slopes = sorted(
        (b[1] - a[1]) / (b[0] - a[0]) for a, b in combinations(ordered, 2) if b[0] > a[0]
    )
    if not slopes:
        raise OutOfRange("points", points, "at least two different x")
    n = len(points)
    ties = sum(_tied([x for x, _ in points])) + sum(_tied([y for _, y in points]))
    variance = (_pairs_weight(n) - ties) / 18
    reach = normal * sqrt(max(0.0, variance))
    upper = min(round((len(slopes) + reach) / 2), len(slopes) - 1)
    lower = max(round((len(slopes) - reach) / 2) - 1, 0)
    return Slope(median(slopes), slopes[lower], slopes[upper])


def _pairs_weight(n: int) -> int:
    return n * (n - 1) * (2 * n + 5)


def _tied(values: list[float]) -> list[int]:
    counts = {value: values.count(value) for value in values}
    return [_pairs_weight(count) for count in counts.values() if count > 1]


def trend_of(
    athlete: Athlete, stream: Stream, *, today: date, days: int = WINDOW_DAYS
) -> Trend | None:
    """How strength in a line of progress changed over the last weeks.

    Left out are the first ``FINDING`` sessions of all, which find the level and are no gain,
    sessions that say only "at least so much", and sets that look like slips.

    Args:
        athlete: Whose.
        stream: The line.
        today: The last day that counts.
        days: Days looked back on. [d], > 0

    Returns:
        None for too few sessions or days.
    """
    seen = fold(athlete, stream)
    since = today - timedelta(days=days)
    found = max(0, FINDING - first_looked_at(stream))
    pairs = zip(seen.sessions[found:], seen.seen[found:], strict=True)
    told = [
        (session.day, one.log_kg)
        for session, one in pairs
        if one is not None and not one.is_floor and since <= session.day <= today
    ]
    if len(told) < LEAST_SESSIONS:
        return None
    first, last = told[0][0], told[-1][0]
    span = (last - first).days
    if span < LEAST_DAYS:
        return None
    slope = theil_sen(tuple((float((day - first).days), log_kg) for day, log_kg in told))
    change, low, high = (exp(s * span) - 1 for s in (slope.middle, slope.low, slope.high))
    regular = len(told) >= PLATEAU_SESSIONS and span >= PLATEAU_DAYS
    return Trend(
        since=first,
        until=last,
        sessions=len(told),
        change_frac=change,
        low_frac=low,
        high_frac=high,
        direction=_direction(change, low, high),
        is_plateau=regular and high < NOISE_FRAC,
    )


def _direction(change: float, low: float, high: float) -> Direction:
    if abs(change) < NOISE_FRAC or low <= 0 <= high:
        return "level"
    return "gain" if change > 0 else "loss"


def difference_of(left: Estimate, right: Estimate) -> Difference:
    """How the hands differ.

    The published curve errs alike for both hands of one person, so its error falls out.

    Args:
        left: Of the left hand.
        right: Of the right hand, same exercise and edge.

    Raises:
        OutOfRange: They are of different exercises or edges.

    Validity: Where neither is a mere "at least".
    Source: The difference of two independent normal distributions.
    Ours: Calling it level within test noise.
    """
    if (left.exercise, left.edge_mm) != (right.exercise, right.edge_mm):
        raise OutOfRange("right", right.exercise, f"{left.exercise} on the same edge")
    apart = log(left.maximum_kg / right.maximum_kg)
    spread = NINETY * hypot(left.own_sd_log, right.own_sd_log)
    middle, low, high = (exp(x) - 1 for x in (apart, apart - spread, apart + spread))
    stronger: Side | Literal["level"] = "level"
    if not (left.is_floor or right.is_floor) and _direction(middle, low, high) != "level":
        stronger = "left" if apart > 0 else "right"
    return Difference(middle, low, high, stronger)
