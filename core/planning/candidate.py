"""Which exercises an evening chooses from: by blocks, kit, habit and whose turn it is."""

from dataclasses import dataclass
from datetime import date, timedelta

from core.athlete import Athlete
from core.catalogue import Block, Exercise, logged_exercises
from core.kit.inventory import MODEST_GRIPS

ORDER: tuple[Block, ...] = ("fingers", "pull", "trunk", "balance", "hips")
"""Order of an evening: fingers while fresh, hips last. Common practice, no source."""

MOST: dict[Block, int] = {"fingers": 3, "pull": 2, "trunk": 3, "hips": 3, "balance": 3}
"""Most exercises of a block in one evening. House rule."""

USUAL_PRIORITY: dict[Block, int] = {"fingers": 3, "pull": 3, "trunk": 9, "hips": 9, "balance": 9}
"""Exercises up to this priority belong to the default evening; others join once logged."""

RECENT = timedelta(days=28)
"""For how long an exercise outside the default evening stays in it after a log. House rule."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """An exercise that tonight may hold.

    Attributes:
        exercise: Which.
        place: 0 for the one of its block that matters most tonight, then 1, 2 …
        last: The last day before tonight on which it was logged, None when never.
    """

    exercise: Exercise
    place: int
    last: date | None


def candidates(athlete: Athlete, *, today: date, blocks: frozenset[Block]) -> tuple[Candidate, ...]:
    """The exercises to choose from tonight, in the order of an evening.

    Args:
        athlete: Whose.
        today: The training day.
        blocks: Blocks that are allowed today.
    """
    swapped = {slug for day, slug in athlete.swaps if day == today}
    # Oldest first, so the last word on each exercise stays.
    last = {d.log.exercise: d.day for d in athlete.logs if d.day < today}
    known = last.keys() | {d.log.exercise for d in athlete.logs}
    by_block: dict[Block, list[Exercise]] = {block: [] for block in ORDER if block in blocks}
    for exercise in logged_exercises():
        if (
            exercise.block in by_block
            and exercise.slug not in swapped
            and _can_do(athlete, exercise, is_known=exercise.slug in known)
            and _is_usual(athlete, exercise, last=last.get(exercise.slug), today=today)
        ):
            by_block[exercise.block].append(exercise)
    chosen: list[Candidate] = []
    for block, exercises in by_block.items():
        ranked = sorted(exercises, key=lambda e: e.priority)
        if block == "fingers":
            # The first grip comes every evening; the others take turns, longest unused first.
            ranked[1:] = sorted(ranked[1:], key=lambda e: (last.get(e.slug, date.min), e.priority))
        places = {e.slug: place for place, e in enumerate(ranked[: MOST[block]])}
        chosen += [
            Candidate(e, places[e.slug], last.get(e.slug)) for e in exercises if e.slug in places
        ]
    return tuple(chosen)


def has_bar(athlete: Athlete) -> bool:
    """A doorway bar is assumed until the athlete says that there is none (a rating of zero)."""
    return athlete.kit.bar_limit_kg != 0


def _can_do(athlete: Athlete, exercise: Exercise, *, is_known: bool) -> bool:
    kit = athlete.kit
    if "pin" in exercise.needs:
        owned = exercise.slug in (kit.grips if kit.grips is not None else MODEST_GRIPS)
        return is_known or (bool(kit.plates) and owned) or _is_started(athlete, exercise.slug)
    if "bar" in exercise.needs and not has_bar(athlete):
        return False
    if "band" in exercise.needs and not kit.bands:
        return False
    return "edge" not in exercise.needs or is_known or bool(kit.edges_mm)


def _is_started(athlete: Athlete, slug: str) -> bool:
    return any(s.exercise == slug for s in athlete.starts)


def _is_usual(athlete: Athlete, exercise: Exercise, *, last: date | None, today: date) -> bool:
    if exercise.priority <= USUAL_PRIORITY[exercise.block]:
        return True
    if exercise.slug in (athlete.kit.grips or ()) or _is_started(athlete, exercise.slug):
        return True
    return last is not None and last >= today - RECENT
