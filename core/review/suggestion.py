"""The one thing to do next, by a stated order of importance.

Pain comes before evenings, evenings before kit, kit before a plateau, a plateau before a
difference between the hands: each is worth more than what follows, and cures part of it. House
rules.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from core.athlete import Athlete
from core.review.adherence import Adherence
from core.review.change import ExerciseChange
from core.review.limit import EASED, kit_limits, level_limits, place_of
from core.review.next_purchase import next_purchase
from core.target import Reason, Value, because

AGAIN_DAYS = 2
"""A place that hurt on so many days of the weeks looked at is worth a look. House rule."""

ENOUGH_FRAC = 0.75
"""Of the planned evenings; with so many trained nothing needs to change. [-] House rule."""

LEAST_MISSED = 2
"""Fewer missed evenings are no pattern. House rule."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a suggestion is made from.

    Attributes:
        athlete: Whose review it is.
        kept: What became of the planned evenings.
        moved: What moved in each exercise.
        pains: The places that hurt (``pain_limits``).
        was_eased: Whether an easier week lay in these weeks.
        today: The last day that counts.
    """

    athlete: Athlete
    kept: Adherence
    moved: tuple[ExerciseChange, ...]
    pains: tuple[Reason, ...]
    was_eased: bool
    today: date


def open_sign(seen: Evidence) -> Reason | None:
    """A warning sign that nobody has cleared, however long ago."""
    for dated in reversed(seen.athlete.pains):
        if dated.pain.flags and dated.cleared is None:
            return because("see-professional", place=place_of(dated))
    return None


def pain_again(seen: Evidence) -> Reason | None:
    """A place that hurt on several days."""
    worst = next(iter(seen.pains), None)
    days = worst.get("days") if worst is not None else None
    if worst is None or not isinstance(days, int) or days < AGAIN_DAYS:
        return None
    return because("pain-again", **dict(worst.facts))


def still_sore(seen: Evidence) -> Reason | None:
    """A pain that still eases or stops a target."""
    for one in seen.moved:
        eased = one.find(EASED)
        if eased is not None:
            told = [p for p in seen.athlete.pains if p.day == eased.get("day")]
            names = (place_of(p) for p in told if eased.get("site") in (p.pain.site, place_of(p)))
            return because("stay-light", place=next(names, ""))
    return None


def evenings(seen: Evidence) -> Reason | None:
    """Evenings that are missed too often: on one day while the others do, or on any.

    Those trained on another day than planned are no loss.
    """
    kept = seen.kept
    trained = len(kept.held) + len(kept.extra)
    if len(kept.missed) < LEAST_MISSED or trained >= ENOUGH_FRAC * kept.planned:
        return None
    name = kept.worst_day
    missed, of = kept.on(name)
    others, others_held = kept.planned - of, len(kept.held) - (of - missed)
    if others and missed >= LEAST_MISSED and others_held >= ENOUGH_FRAC * others:
        return because("other-day", weekday=name, missed=missed, of=of)
    return because("fewer-evenings", held=len(kept.held), planned=kept.planned)


def kit(seen: Evidence) -> Reason | None:
    """What to tell of the kit, or to add to it.

    What costs nothing first; then the one purchase that helps most, and where none is worth
    it, what the most trained exercise lacks.
    """
    first = next(iter(kit_limits(seen.moved)), None)
    if first is None:
        return None
    if first.rule == "kit-unknown":
        return Reason("tell-kit", first.facts)
    bought = next_purchase(seen.athlete, today=seen.today)
    if bought is None:
        rule = "smaller-steps" if first.rule == "steps-too-big" else "heavier-plates"
        return Reason(rule, first.facts)
    facts: dict[str, Value] = {"exercise": bought.exercise}
    if bought.step_kg is not None and bought.next_step_kg is not None:
        facts |= {"step_kg": bought.step_kg, "next_step_kg": bought.next_step_kg}
    if bought.plate_kg is not None:
        return because("buy-plates", plate_kg=bought.plate_kg, **facts)
    return because("buy-band", help_kg=bought.help_kg or 0, **facts)


def plateau(seen: Evidence) -> Reason | None:
    """An easier week on a plateau, or another exercise where one was had already."""
    first = next(iter(level_limits(seen.moved)), None)
    if first is None:
        return None
    return Reason("other-exercise" if seen.was_eased else "ease-a-week", first.facts)


def hands(seen: Evidence) -> Reason | None:
    """The hand to begin with, where the other is surely stronger; the largest difference."""
    apart = [
        (one, one.hands)
        for one in seen.moved
        if one.hands is not None and one.hands.stronger != "level"
    ]
    if not apart:
        return None
    one, most = max(apart, key=lambda pair: abs(pair[1].left_over_right_frac))
    over = most.left_over_right_frac
    weaker = "right" if over > 0 else "left"
    percent = round(100 * (over if over > 0 else 1 / (1 + over) - 1))
    return because("weaker-first", exercise=one.exercise, weaker=weaker, percent=percent)


ORDER: tuple[Callable[[Evidence], Reason | None], ...] = (
    open_sign,
    pain_again,
    still_sore,
    evenings,
    kit,
    plateau,
    hands,
)
"""What is asked first. The first that has an answer is the suggestion."""


def suggestion(seen: Evidence) -> Reason:
    """The one thing to do next."""
    found = next((reason for ask in ORDER if (reason := ask(seen)) is not None), None)
    return found or because("go-on" if seen.moved else "begin")
