"""What is tonight: which exercises, in which order, with which targets, and how long it takes.

The default evening: fingers first while fresh, then pull, trunk and hips, balance
if there is time. When the minutes are short the exercises with the highest
``priority`` number go first. Choosing the best use of the minutes, spacing over the
week and planned deloads are a subject of their own and not decided here.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from core.athlete import Athlete
from core.catalogue import Block, Exercise, catalogue, get_exercise
from core.history import edge_in_use, sides_of, stream_of
from core.kit.inventory import MODEST_GRIPS
from core.kit.loads import loads_from_floor
from core.planning.duration import exercise_s, warm_up_s
from core.progression import next_on, next_targets
from core.target import Target

MOST: dict[Block, int] = {"fingers": 3, "pull": 2, "trunk": 3, "hips": 3, "balance": 3}
"""Most exercises of a block in one evening. House rule."""

WALL_REPLACES: frozenset[Block] = frozenset({"fingers", "pull"})
"""Blocks that a visit to the wall takes the place of. House rule."""

USUAL_PRIORITY: dict[Block, int] = {"fingers": 3, "pull": 3, "trunk": 9, "hips": 9, "balance": 9}
"""Exercises up to this priority belong to the default evening; others join once logged."""

RECENT = timedelta(days=28)
"""For how long an exercise outside the default evening stays in it after a log. House rule."""


RAMP: tuple[Decimal, ...] = (Decimal("0.4"), Decimal("0.6"), Decimal("0.8"))
"""Ramp lifts of the warm-up, as parts of tonight's top load. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Item:
    """One exercise of the evening.

    Attributes:
        exercise: The catalogue's entry.
        targets: What was asked tonight, per side that has a target of its own.
        left: Sets still to do of each target.
        skipped: Left out tonight by the athlete.
    """

    exercise: Exercise
    targets: tuple[Target, ...]
    left: tuple[int, ...]
    skipped: bool

    @property
    def is_open(self) -> bool:
        """True while sets are left to do."""
        return not self.skipped and any(self.left)

    @property
    def is_begun(self) -> bool:
        """True once a set was logged tonight."""
        return any(left < target.sets for left, target in zip(self.left, self.targets, strict=True))


@dataclass(frozen=True, slots=True)
class Evening:
    """Tonight.

    Attributes:
        day: Training day.
        minutes: Time there is. [min]
        seconds: Time the whole evening takes, warm-up included. [s]
        warm_up: Warm-up exercises, in order.
        items: The exercises, in order.
        cut: Exercises left out for lack of time.
        stopped: Exercises that are not to be loaded tonight, with targets that say why.
        at_wall: True when the wall takes the place of fingers and pull.
    """

    day: date
    minutes: int
    seconds: int
    warm_up: tuple[Exercise, ...]
    items: tuple[Item, ...]
    cut: tuple[Exercise, ...]
    stopped: tuple[Item, ...]
    at_wall: bool

    def find(self, slug: str) -> Item | None:
        """The item of that exercise, open or not, or None."""
        return next((i for i in (*self.items, *self.stopped) if i.exercise.slug == slug), None)

    @property
    def current(self) -> Item | None:
        """The item to go on with: one already begun, else the first that is open."""
        still = [i for i in self.items if i.is_open]
        return next((i for i in still if i.is_begun), still[0] if still else None)


def before(athlete: Athlete, day: date) -> Athlete:
    """The athlete as they were when that training day began, by their logs."""
    return replace(athlete, logs=tuple(d for d in athlete.logs if d.day < day))


def item_tonight(athlete: Athlete, slug: str, *, today: date, edge_mm: int | None = None) -> Item:
    """One exercise as it stands tonight, whether it belongs to the evening or not.

    Args:
        athlete: Whose.
        slug: Which exercise.
        today: The training day.
        edge_mm: An edge the athlete named; None for the one asked for, or used tonight. [mm]

    Raises:
        Unknown: The catalogue has no such slug.
    """
    past = before(athlete, today)
    targets = next_targets(past, slug, today=today)
    edge_mm = edge_mm if edge_mm is not None else _edge_tonight(athlete, slug, today)
    if edge_mm is not None and all(t.edge_mm != edge_mm for t in targets):
        lines = (stream_of(past, slug, side=s, edge_mm=edge_mm) for s in sides_of(slug))
        targets = tuple(t for line in lines for t in next_on(line, athlete=past, today=today))
    left = tuple(max(0, t.sets - _sets_done(athlete, t, today)) for t in targets)
    # A harder exercise may have taken this one's place.
    exercise = get_exercise(targets[0].exercise)
    return Item(exercise, targets, left, (today, slug) in athlete.skips)


def named_item(athlete: Athlete, slug: str, *, today: date, edge_mm: int | None = None) -> Item:
    """The exercise that was named, even where a harder one is asked for in its place.

    Raises:
        Unknown: The catalogue has no such slug.
    """
    item = item_tonight(athlete, slug, today=today, edge_mm=edge_mm)
    if item.exercise.slug == slug:
        return item
    edge_mm = edge_in_use(athlete, slug)
    own = tuple(
        replace(item.targets[0], exercise=slug, side=side, edge_mm=edge_mm, load_kg=None, sets=0)
        for side in sides_of(slug)
    )
    return Item(get_exercise(slug), own, (0,) * len(own), skipped=False)


def _edge_tonight(athlete: Athlete, slug: str, today: date) -> int | None:
    """The edge last used for the exercise today, None if none was named. [mm]"""
    edges = [d.log.edge_mm for d in athlete.logs if d.day == today and d.log.exercise == slug]
    return next((mm for mm in reversed(edges) if mm is not None), None)


def evening(athlete: Athlete, *, today: date) -> Evening:
    """Tonight's evening for the athlete, with what is already done counted off."""
    minutes = next((m for d, m in reversed(athlete.limited) if d == today), athlete.plan.minutes)
    at_wall = any(w.on == today for w in athlete.walls)
    chosen = [item_tonight(athlete, e.slug, today=today) for e in _chosen(athlete, today, at_wall)]
    stopped = tuple(i for i in chosen if all(t.change == "stopped" for t in i.targets))
    items = [i for i in chosen if i not in stopped]
    warm_up = tuple(
        e
        for e in catalogue().exercises
        if e.block == "warm-up" and ("bar" not in e.needs or _has_bar(athlete))
    )
    kept, cut = _fitted(items, minutes * 60 - _warm_up_s(warm_up, items))
    return Evening(
        day=today,
        minutes=minutes,
        seconds=_warm_up_s(warm_up, kept) + sum(_whole_s(i) for i in kept),
        warm_up=warm_up,
        items=tuple(kept),
        cut=tuple(i.exercise for i in cut),
        stopped=stopped,
        at_wall=at_wall,
    )


def _chosen(athlete: Athlete, today: date, at_wall: bool) -> list[Exercise]:
    swapped = {slug for day, slug in athlete.swaps if day == today}
    by_block: dict[Block, list[Exercise]] = {}
    for exercise in catalogue().exercises:
        if (
            exercise.logged
            and exercise.slug not in swapped
            and not (at_wall and exercise.block in WALL_REPLACES)
            and _can_do(athlete, exercise)
            and _is_usual(athlete, exercise, today)
        ):
            by_block.setdefault(exercise.block, []).append(exercise)
    chosen: set[str] = set()
    for block, exercises in by_block.items():
        ranked = sorted(exercises, key=lambda e: e.priority)
        if block == "fingers":
            # The first grip comes every evening; the others take turns, longest unused first.
            ranked = ranked[:1] + sorted(
                ranked[1:], key=lambda e: (_last_day(athlete, e.slug, today), e.priority)
            )
        chosen.update(e.slug for e in ranked[: MOST[block]])
    return [e for e in catalogue().exercises if e.slug in chosen]


def _can_do(athlete: Athlete, exercise: Exercise) -> bool:
    kit = athlete.kit
    known = any(d.log.exercise == exercise.slug for d in athlete.logs)
    if "pin" in exercise.needs:
        owned = exercise.slug in (kit.grips if kit.grips is not None else MODEST_GRIPS)
        return known or (bool(kit.plates) and owned) or _is_started(athlete, exercise.slug)
    if "bar" in exercise.needs and not _has_bar(athlete):
        return False
    if "band" in exercise.needs and not kit.bands:
        return False
    return "edge" not in exercise.needs or known or bool(kit.edges_mm)


def _has_bar(athlete: Athlete) -> bool:
    """A doorway bar is assumed until the athlete says that there is none (a rating of zero)."""
    return athlete.kit.bar_limit_kg != 0


def _is_started(athlete: Athlete, slug: str) -> bool:
    return any(s.exercise == slug for s in athlete.starts)


def _is_usual(athlete: Athlete, exercise: Exercise, today: date) -> bool:
    if exercise.priority <= USUAL_PRIORITY[exercise.block]:
        return True
    if exercise.slug in (athlete.kit.grips or ()) or _is_started(athlete, exercise.slug):
        return True
    return _last_day(athlete, exercise.slug, today) >= today - RECENT


def _last_day(athlete: Athlete, slug: str, today: date) -> date:
    """The last day before today on which it was logged; the earliest date there is when never."""
    days = [d.day for d in athlete.logs if d.log.exercise == slug and d.day < today]
    return max(days, default=date.min)


def _sets_done(athlete: Athlete, target: Target, today: date) -> int:
    stream = stream_of(athlete, target.exercise, side=target.side, edge_mm=target.edge_mm)
    return sum(len(s.sets) for s in stream.sessions if s.day == today)


def _whole_s(item: Item) -> int:
    return exercise_s(item.exercise, item.targets, tuple(t.sets for t in item.targets))


def _warm_up_s(warm_up: tuple[Exercise, ...], items: list[Item]) -> int:
    loaded = any(i.exercise.from_floor for i in items)
    return warm_up_s(warm_up, ramp_lifts=len(RAMP) if loaded else 0)


def _dispensable(item: Item, items: list[Item]) -> int:
    """How early an exercise is cut; a second and a third grip matter less than a first pull."""
    block = [i.exercise.slug for i in items if i.exercise.block == item.exercise.block]
    if item.exercise.block != "fingers":
        return item.exercise.priority
    return max(item.exercise.priority, 2 * block.index(item.exercise.slug) + 1)


def _fitted(items: list[Item], room_s: int) -> tuple[list[Item], list[Item]]:
    """The items that fit, and those cut: highest priority number first, later in the evening first.

    What is already begun is never cut.
    """
    kept = list(items)
    cut: list[Item] = []
    while sum(_whole_s(i) for i in kept) > room_s:
        loose = [i for i in kept if not i.is_begun]
        if len(loose) < 2:
            break
        last = max(range(len(loose)), key=lambda n: (_dispensable(loose[n], items), n))
        cut.append(loose[last])
        kept.remove(loose[last])
    # What was cut first mattered least; what was cut last may still fit into what is left.
    for item in reversed(tuple(cut)):
        if sum(_whole_s(i) for i in (*kept, item)) <= room_s:
            cut.remove(item)
            kept.append(item)
    return [i for i in items if i in kept], [i for i in items if i in cut]


def standing_targets(athlete: Athlete, slug: str, *, today: date) -> tuple[Target, ...]:
    """What stands for that exercise now.

    Before tonight's first set and after its last: the next target. In between: tonight's
    target with the sets that are left.

    Raises:
        Unknown: The catalogue has no such slug.
    """
    item = item_tonight(athlete, slug, today=today)
    if item.is_begun and any(item.left):
        pairs = zip(item.targets, item.left, strict=True)
        return tuple(replace(t, sets=left) for t, left in pairs)
    return next_targets(athlete, slug, today=today)


def ramp_kg(athlete: Athlete, tonight: Evening) -> tuple[Decimal, ...]:
    """Loads of the ramp lifts before tonight's first finger lift, all makeable, no load twice. [kg]

    Source: common practice, no source: about 40, 60 and 80 % of the top load.
    """
    lifts = [t for i in tonight.items if i.exercise.from_floor for t in i.targets]
    first = [t.load_kg for t in lifts if t.exercise == lifts[0].exercise and t.load_kg]
    if not first:
        return ()
    loads = loads_from_floor(athlete.kit)
    steps = (loads.at_most(part * max(first)) for part in RAMP)
    return tuple(dict.fromkeys(s for s in steps if s is not None and s > 0))
