"""Illness: nothing hard until the athlete is back, then at least one easy session."""

from datetime import date

from core.athlete import Athlete, Illness
from core.catalogue import Block, Exercise
from core.progression.tissue import loaded_days, trained_days

HARD_BLOCKS: frozenset[Block] = frozenset({"fingers", "pull", "trunk"})
"""What rests while one is ill; hips and balance may stay, without more than before. House rule."""

SHORT_DAYS = 21
"""After no more days off than this, the easy session says nothing of the level. House rule."""


def illness_on(athlete: Athlete, day: date) -> Illness | None:
    """The illness that the day lies in, None in health."""
    return next(
        (
            i
            for i in reversed(athlete.illnesses)
            if i.since <= day and (i.until is None or day < i.until)
        ),
        None,
    )


def easy_after_illness(athlete: Athlete, day: date) -> date | None:
    """The day back from the last illness, if nothing was trained at home from it to before ``day``.

    So it is given on the first evening back, and not on the next.
    """
    until = _last_until(athlete, day)
    if until is None or any(until <= dated.day < day for dated in athlete.logs):
        return None
    return until


def back_from_illness(athlete: Athlete, exercise: Exercise, day: date) -> date | None:
    """The day back from the last illness, if the tissue was not trained since; else None."""
    until = _last_until(athlete, day)
    trained = trained_days(athlete, exercise)
    return None if until is None or any(d >= until for d in trained) else until


def _last_until(athlete: Athlete, day: date) -> date | None:
    past = (i.until for i in athlete.illnesses if i.until is not None and i.until <= day)
    return max(past, default=None)


def easy_days(athlete: Athlete, exercise: Exercise) -> frozenset[date]:
    """The first training days of the tissue after illnesses with a short time off."""
    if not athlete.illnesses:
        return frozenset()
    trained, loaded = trained_days(athlete, exercise), loaded_days(athlete, exercise)
    found = set()
    for illness in athlete.illnesses:
        first = next((d for d in trained if illness.until is not None and d >= illness.until), None)
        before = [d for d in loaded if first is not None and d < first]
        if first is not None and before and (first - before[-1]).days <= SHORT_DAYS:
            found.add(first)
    return frozenset(found)
