"""Which exercises of the programme tonight chooses from: by blocks, kit, habit and whose turn."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from core.athlete import Athlete
from core.catalogue import Block, Exercise
from core.history import kit_of, logs_by_exercise
from core.kit.inventory import MODEST_GRIPS
from core.programme import Listed, ProgrammeBlock


@dataclass(frozen=True, slots=True)
class Candidate:
    """An exercise that tonight may hold.

    Attributes:
        exercise: Which, with its dose.
        block: Its block in the programme.
        place: 0 for the one of its block that matters most tonight, then 1, 2 …
        last: The last day before tonight on which it was logged, None when never.
    """

    exercise: Exercise
    block: ProgrammeBlock
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
    known = logs_by_exercise(athlete)
    past = {
        slug: next((d.day for d in reversed(logs) if d.day < today), None)
        for slug, logs in known.items()
    }
    last = {slug: day for slug, day in past.items() if day is not None}
    chosen: list[Candidate] = []
    for block in athlete.programme.blocks:
        if block.name not in blocks:
            continue
        able = [
            one
            for one in block.listed
            if one.exercise.slug not in swapped
            and _can_do(athlete, one.exercise, is_known=one.exercise.slug in known)
            and _is_usual(athlete, one, today=today)
        ]
        places = {slug: place for place, slug in enumerate(_ranked(block, able, last))}
        chosen += [
            Candidate(one.exercise, block, places[slug], last.get(slug))
            for one in able
            if (slug := one.exercise.slug) in places
        ]
    return tuple(chosen)


def _ranked(block: ProgrammeBlock, able: list[Listed], last: Mapping[str, date]) -> list[str]:
    """The slugs that come tonight, the one that matters most first."""
    ranked = sorted(able, key=lambda one: one.priority)
    if block.every_evening is not None:
        # Some come every evening; the others take turns, longest unused first.
        ranked[block.every_evening :] = sorted(
            ranked[block.every_evening :],
            key=lambda one: (last.get(one.exercise.slug, date.min), one.priority),
        )
    return [one.exercise.slug for one in ranked[: block.most]]


def has_bar(athlete: Athlete) -> bool:
    """A doorway bar is assumed until the athlete says that there is none (a rating of zero)."""
    return athlete.kit.bar_limit_kg != 0


def _can_do(athlete: Athlete, exercise: Exercise, *, is_known: bool) -> bool:
    kit = athlete.kit
    if athlete.trip is not None:
        # What was done at home says nothing of the kit on a trip.
        is_known = False
    if "pin" in exercise.needs:
        owned = exercise.slug in (kit.grips if kit.grips is not None else MODEST_GRIPS)
        begun = is_known or (athlete.trip is None and _is_started(athlete, exercise.slug))
        return begun or (bool(kit.plates) and owned)
    if "bar" in exercise.needs and not has_bar(athlete):
        return False
    if "band" in exercise.needs and not kit.bands:
        return False
    return "edge" not in exercise.needs or is_known or bool(kit.edges_mm)


def _is_started(athlete: Athlete, slug: str) -> bool:
    return any(s.exercise == slug for s in athlete.starts)


HANGING = "dead-hang"


def _is_usual(athlete: Athlete, one: Listed, *, today: date) -> bool:
    slug = one.exercise.slug
    if athlete.trip is not None and not athlete.kit.plates and one.exercise.slug == HANGING:
        # With an edge and a bar alone there is no other finger work.
        return True
    if not one.is_optional or slug in (athlete.kit.grips or ()) or _is_started(athlete, slug):
        return True
    since = today - timedelta(days=athlete.programme.optional_days)
    lately = (d for d in logs_by_exercise(athlete).get(slug, ()) if since <= d.day < today)
    # What was done with another kit is no habit here.
    return any(kit_of(athlete.trips, dated) == athlete.trip for dated in lately)
