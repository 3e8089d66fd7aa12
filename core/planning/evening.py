"""What is tonight: which exercises, in which order, with which targets, and how long it takes.

``allowance`` says what the evening may hold, ``candidate`` which exercises stand for choice,
``fit`` how many sets of each make the most of the minutes. Fingers come first while fresh,
hips last.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from core.athlete import Athlete
from core.catalogue import Exercise, get_exercise
from core.derived import once
from core.history import on_day
from core.kit.loads import loads_from_floor
from core.kit.trip import NOTHING
from core.planning.allowance import Allowance, allowance
from core.planning.candidate import candidates, has_bar
from core.planning.fit import Entrant, best_fit
from core.planning.item import (
    Item,
    before,
    logs_on,
    of_sides,
    sets_done,
    unasked_item,
    whole_item,
    whole_items,
    with_sets,
)
from core.planning.warm_up import warm_up
from core.planning.week import DayPlan, home_evenings
from core.progression import next_targets
from core.progression.soreness import open_sign
from core.progression.tissue import FINGERS
from core.target import Target


@dataclass(frozen=True, slots=True)
class Evening:
    """Tonight.

    Attributes:
        day: Training day.
        minutes: Time there is. [min]
        seconds: Time it takes, warm-up included; from when the minutes were said, if they were
            said tonight. [s]
        is_under_way: True when sets were done before the minutes began to count.
        warm_up: Warm-up exercises still needed, in order.
        items: The exercises, in order.
        cut: Exercises left out for lack of time.
        stopped: Exercises that are not to be loaded tonight, with targets that say why.
        at_wall: True when the wall takes the place of fingers and pull.
        alternating: Slugs of exercises whose sets take turns, the first one begins.
        plan: What the week makes of the day; None where nobody asked it.
    """

    day: date
    minutes: int
    seconds: int
    is_under_way: bool
    warm_up: tuple[Exercise, ...]
    items: tuple[Item, ...]
    cut: tuple[Exercise, ...]
    stopped: tuple[Item, ...]
    at_wall: bool
    alternating: tuple[tuple[str, str], ...]
    plan: DayPlan | None

    def find(self, slug: str) -> Item | None:
        """The item of that exercise, open or not, or None."""
        return next((i for i in (*self.items, *self.stopped) if i.exercise.slug == slug), None)

    @property
    def current(self) -> Item | None:
        """The item to go on with: one already begun, else the first that is open."""
        still = [i for i in self.items if i.is_open]
        return next((i for i in still if i.is_begun), still[0] if still else None)


def evening(athlete: Athlete, *, today: date, allowed: Allowance | None = None) -> Evening:
    """Tonight's evening for the athlete, with what is already done counted off.

    Logging what the evening asks for never changes the rest of it.

    Args:
        athlete: Whose.
        today: The training day.
        allowed: What the evening may hold; None for what plan, wall and today's words allow.
    """
    allowed = allowed or allowance(athlete, today)
    athlete = on_day(athlete, today)
    return once(athlete, ("evening", today, allowed), lambda: _evening(athlete, today, allowed))


def _evening(athlete: Athlete, today: date, allowed: Allowance) -> Evening:
    if allowed.plan is not None and allowed.plan.kind == "away" and athlete.trip is None:
        athlete = replace(athlete, kit=NOTHING)
    early = logs_on(athlete, today, until=allowed.after)
    entrants, stopped = _entrants(athlete, today, allowed)
    # A warning sign of the fingers keeps them off the bar, in the warm-up too.
    may_hang = has_bar(athlete) and open_sign(athlete, FINGERS, today) is None
    parts = warm_up(athlete.programme, has_bar=may_hang)
    logged = tuple(get_exercise(d.log.exercise) for d in early)
    begun = _begun(athlete, today, allowed) if early and today in athlete.started else ()
    warm = parts.warm((*logged, *begun))
    fit = best_fit(entrants, allowed=allowed, parts=parts, warm=warm, today=today)
    items = [e.item for e in entrants]
    order = _in_order(len(items), fit.pairs)
    return Evening(
        day=today,
        minutes=allowed.minutes,
        seconds=fit.seconds,
        is_under_way=bool(early),
        warm_up=parts.chosen(fit.warm_up),
        items=tuple(
            with_sets(items[at], fit.sets[at], minutes=allowed.minutes)
            for at in order
            if fit.sets[at]
        ),
        cut=tuple(i.exercise for i, sets in zip(items, fit.sets, strict=True) if not sets),
        stopped=stopped,
        at_wall=allowed.at_wall,
        alternating=tuple(
            (items[one].exercise.slug, items[other].exercise.slug) for one, other in fit.pairs
        ),
        plan=allowed.plan,
    )


def _entrants(
    athlete: Athlete, today: date, allowed: Allowance
) -> tuple[tuple[Entrant, ...], tuple[Item, ...]]:
    """The exercises in the running for tonight, and those that are stopped."""
    entrants: list[Entrant] = []
    stopped: list[Item] = []
    asked: set[tuple[str, str]] = set()
    for candidate in candidates(athlete, today=today, blocks=allowed.blocks):
        items = whole_items(athlete, candidate.exercise.slug, today=today)
        lines = {(target.exercise, target.side) for item in items for target in item.targets}
        if lines & asked:
            # One hand, or both, moved on to this from an easier exercise that asks for it already.
            continue
        asked |= lines
        for item in items:
            if all(t.change == "stopped" for t in item.targets):
                stopped.append(item)
                continue
            counts = (sets_done(athlete, t, today, until=allowed.after) for t in item.targets)
            entrants.append(Entrant(candidate, item, max(counts)))
    return tuple(entrants), tuple(stopped)


def _begun(athlete: Athlete, today: date, allowed: Allowance) -> tuple[Exercise, ...]:
    """The exercises of the evening as it was when its warm-up was shown."""
    then = replace(athlete, logs=tuple(d for d in athlete.logs if d.number <= allowed.after))
    whole = replace(allowed, minutes=allowed.instead_of, after=0)
    return tuple(i.exercise for i in evening(then, today=today, allowed=whole).items)


def _in_order(count: int, pairs: Sequence[tuple[int, int]]) -> list[int]:
    """Every place once, the second of a pair right behind the first."""
    partner = dict(pairs)
    behind = set(partner.values())
    return [
        at
        for first in range(count)
        if first not in behind
        for at in (first, *([partner[first]] if first in partner else []))
    ]


def item_tonight(athlete: Athlete, slug: str, *, today: date, edge_mm: int | None = None) -> Item:
    """One exercise as it stands tonight, whether it belongs to the evening or not.

    Where the evening has fewer sets of it for want of time, so has this.

    Args:
        athlete: Whose.
        slug: Which exercise.
        today: The training day.
        edge_mm: An edge the athlete named; None for the one asked for, or used tonight. [mm]

    Raises:
        Unknown: The catalogue has no such slug.
    """
    item = whole_item(athlete, slug, today=today, edge_mm=edge_mm)
    tonight = evening(athlete, today=today)
    planned = tonight.find(item.exercise.slug)
    if planned is None:
        return item
    if edge_mm is None or all(target.edge_mm == edge_mm for target in planned.targets):
        # An easier exercise may have led to it, with another load than its own record calls for.
        return planned
    item = of_sides(item, {target.side for target in planned.targets})
    return with_sets(item, planned.sets, minutes=tonight.minutes)


def named_item(athlete: Athlete, slug: str, *, today: date, edge_mm: int | None = None) -> Item:
    """The exercise that was named, even where a harder one is asked for in its place.

    Raises:
        Unknown: The catalogue has no such slug.
    """
    item = item_tonight(athlete, slug, today=today, edge_mm=edge_mm)
    return item if item.exercise.slug == slug else unasked_item(athlete, slug, like=item)


LOOK_AHEAD = timedelta(days=14)
"""How far ahead the evening of "next time" is looked for. House rule."""


def standing_targets(athlete: Athlete, slug: str, *, today: date) -> tuple[Target, ...]:
    """What stands for that exercise now.

    Before tonight's first set the next target. Then tonight's target with the sets that are
    left. After its last set the next target as the next planned evening will ask for it: an
    easier week may begin in between.

    Raises:
        Unknown: The catalogue has no such slug.
    """
    item = item_tonight(athlete, slug, today=today)
    if item.is_begun and any(item.left):
        pairs = zip(item.targets, item.left, strict=True)
        return tuple(replace(t, sets=left) for t, left in pairs)
    if not item.is_begun and all(t.change == "harder-variation" for t in item.targets):
        return item.targets
    day = _next_evening(athlete, today) if item.is_begun else today
    return next_targets(on_day(athlete, day), slug, today=day)


def _next_evening(athlete: Athlete, today: date) -> date:
    """The day of the next planned evening after today; today where none is planned."""
    coming = home_evenings(athlete, since=today + timedelta(days=1), until=today + LOOK_AHEAD)
    return coming[0].day if coming else today


def ramp_kg(athlete: Athlete, tonight: Evening) -> tuple[Decimal, ...]:
    """Loads of the ramp lifts before tonight's first finger lift, all makeable, no load twice. [kg]

    Source: common practice, no source: about 40, 60 and 80 % of the top load.
    """
    floor = (i for i in tonight.items if i.exercise.from_floor and not i.skipped)
    lifts = [t for i in floor for t in i.targets]
    first = [t.load_kg for t in lifts if t.exercise == lifts[0].exercise and t.load_kg]
    if not first:
        return ()
    loads = loads_from_floor(on_day(athlete, tonight.day).kit, lifts[0].exercise)
    steps = (loads.at_most(part * max(first)) for part in athlete.programme.ramp)
    return tuple(dict.fromkeys(s for s in steps if s is not None and s > 0))


__all__ = [
    "Evening",
    "Item",
    "before",
    "evening",
    "item_tonight",
    "named_item",
    "ramp_kg",
    "standing_targets",
]
