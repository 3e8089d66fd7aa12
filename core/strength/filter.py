"""What is believed of the maximum from day to day: a scalar Kalman filter on its logarithm.

Belief is a normal distribution. It widens with every day and faster after long time off;
each session's observation draws it and narrows it.
"""

from dataclasses import dataclass
from datetime import date

from core.strength.observation import Observation

WANDER_PER_DAY = 0.03**2 / 7
"""Variance by which the maximum may move in a day. [log^2]

House rule: a standard deviation of 3 % in a week, 6 % in four. Training can do as much:
finger_extensors_2023, 8.4 % in four weeks.
"""

OFF_DAYS = 21
"""Days without a session up to which strength is kept. [d]

mcmaster_2013 (from memory): about three weeks; ogasawara_2011: -2 to +1 % after three weeks.
"""

OFF_WANDER = 4.0
"""After ``OFF_DAYS`` the variance grows so many times as fast. House rule.

The centre does not move: the sources agree that strength falls, not by how much (about 10 %
in four weeks in one, nothing in three in another), and none is about fingers.
"""

LEAST_FLOOR_VARIANCE = 0.15**2
"""Least variance while all that is known is "at least so much". [log^2] House rule."""


@dataclass(frozen=True, slots=True)
class Belief:
    """What is believed of the maximum after a session.

    Attributes:
        log_kg: Centre. [log kg]
        variance: Of the logarithm, the curve's error left out. [log^2], > 0
        day: Day of that session.
        sessions: Sessions that were counted.
        is_floor: True while every session said only "at least".
    """

    log_kg: float
    variance: float
    day: date
    sessions: int
    is_floor: bool

    def variance_on(self, day: date) -> float:
        """The variance on that day or a later one. [log^2]"""
        return self.variance + widening((day - self.day).days)


def widening(days: int) -> float:
    """The variance that so many days without a session add. [log^2], >= 0

    Args:
        days: Days since the last session. [d], >= 0

    Validity: Any number of days.
    Source: mcmaster_2013, ogasawara_2011 for the first three weeks; bosquet_2013 for more
        loss the longer it lasts.
    Ours: The rates, and that the centre stays.
    """
    return WANDER_PER_DAY * (days + (OFF_WANDER - 1) * max(0, days - OFF_DAYS))


class Filter:
    """The belief while a record is walked through, session by session.

    Attributes:
        log_kg: Centre; without meaning before the first session. [log kg]
        sessions: Sessions that were counted.
        is_floor: True while every session said only "at least".
    """

    __slots__ = ("_day", "_is_new", "_variance", "is_floor", "log_kg", "sessions")

    def __init__(self) -> None:
        self.log_kg = 0.0
        self.sessions = 0
        self.is_floor = True
        self._variance = 0.0
        self._day = date.min
        self._is_new = True

    def take(self, seen: Observation, day: date) -> None:
        """Draw the belief to what a session says; a floor below it says nothing.

        Args:
            seen: The session's observation.
            day: Its day, not before the last one's.

        Source: The scalar Kalman update of a random walk that is seen with noise.
        Ours: What a floor does.
        """
        noise = seen.sd_log * seen.sd_log
        self.sessions += 1
        if self._is_new:
            self._is_new = False
            self.log_kg, self._variance, self.is_floor = seen.log_kg, noise, seen.is_floor
        else:
            self._variance += widening((day - self._day).days)
            self.is_floor = self.is_floor and seen.is_floor
            if not seen.is_floor or seen.log_kg > self.log_kg:
                gain = self._variance / (self._variance + noise)
                self.log_kg += gain * (seen.log_kg - self.log_kg)
                self._variance *= 1 - gain
        self._day = day
        if self.is_floor and self._variance < LEAST_FLOOR_VARIANCE:
            self._variance = LEAST_FLOOR_VARIANCE

    def begin_anew(self) -> None:
        """Let the next session set the level, whatever was believed."""
        self._is_new = True

    @property
    def belief(self) -> Belief | None:
        """What is believed now; None before the first session."""
        if not self.sessions:
            return None
        return Belief(self.log_kg, self._variance, self._day, self.sessions, self.is_floor)
