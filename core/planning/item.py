"""One exercise of an evening: what is asked, what is done, what is left."""

from bisect import bisect_left, bisect_right
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from datetime import date

from core.athlete import Athlete, DatedLog
from core.catalogue import Exercise, get_exercise
from core.derived import once
from core.facts import Side
from core.history import edge_in_use, on_day, sides_of, stream_of
from core.progression import next_on, next_targets
from core.progression.short_of_time import in_less_time
from core.target import Target


@dataclass(frozen=True, slots=True)
class Item:
    """One exercise of the evening.

    Attributes:
        exercise: The catalogue's entry.
        targets: What is asked tonight, per side that has a target of its own; of one hand alone
            where the other is on another exercise.
        done: Sets logged tonight on each of those sides.
        whole: Sets that would be asked if time did not matter.
        skipped: Left out tonight by the athlete.
    """

    exercise: Exercise
    targets: tuple[Target, ...]
    done: tuple[int, ...]
    whole: int
    skipped: bool

    @property
    def left(self) -> tuple[int, ...]:
        """Sets still to do of each target."""
        return tuple(max(0, t.sets - n) for t, n in zip(self.targets, self.done, strict=True))

    @property
    def sets(self) -> int:
        """Sets asked tonight, of the side that has most."""
        return max(t.sets for t in self.targets)

    @property
    def is_open(self) -> bool:
        """True while sets are left to do."""
        return not self.skipped and any(self.left)

    @property
    def is_begun(self) -> bool:
        """True once a set of what is asked was logged tonight."""
        return any(n and t.sets for t, n in zip(self.targets, self.done, strict=True))


def before(athlete: Athlete, day: date) -> Athlete:
    """The athlete as they were when that training day began, by their logs.

    A log of the day changes the athlete, but not this one: what was derived from it holds
    all day.
    """

    def then() -> Athlete:
        logs = athlete.logs[: bisect_left(athlete.logs, day, key=_day)]
        past = replace(athlete, logs=logs)
        kept: Athlete | None = athlete.walks.get(_BEFORE)
        if kept is None or kept != past:
            athlete.walks[_BEFORE] = kept = past
        return kept

    return once(athlete, (_BEFORE, day), then)


_BEFORE = "before"


def _day(dated: DatedLog) -> date:
    return dated.day


def whole_item(athlete: Athlete, slug: str, *, today: date, edge_mm: int | None = None) -> Item:
    """The exercise as it would be asked tonight if time did not matter.

    Of hands that are on different exercises the one still on this; see ``whole_items``.
    """
    items = whole_items(athlete, slug, today=today, edge_mm=edge_mm)
    return next((item for item in items if item.exercise.slug == slug), items[0])


def whole_items(
    athlete: Athlete, slug: str, *, today: date, edge_mm: int | None = None
) -> tuple[Item, ...]:
    """The exercise as it would be asked tonight if time did not matter.

    One item, or two where one hand has moved on to a harder exercise and the other has not.

    Args:
        athlete: Whose.
        slug: Which exercise.
        today: The training day.
        edge_mm: An edge the athlete named; None for the one asked for, or used tonight. [mm]

    Raises:
        Unknown: The catalogue has no such slug.
    """
    athlete = on_day(athlete, today)
    past = before(athlete, today)
    targets = next_targets(past, slug, today=today)
    edge_mm = edge_mm if edge_mm is not None else _edge_tonight(athlete, slug, today)
    if edge_mm is not None and all(t.edge_mm != edge_mm for t in targets):
        lines = (stream_of(past, slug, side=s, edge_mm=edge_mm) for s in sides_of(slug))
        targets = tuple(t for line in lines for t in next_on(line, athlete=past, today=today))
    # A harder exercise may have taken this one's place, of one hand or of both.
    slugs = dict.fromkeys(target.exercise for target in targets)
    skipped = (today, slug) in athlete.skips
    return tuple(
        _item_of(
            athlete,
            tuple(t for t in targets if t.exercise == one),
            today,
            skipped=skipped or (len(slugs) > 1 and (today, one) in athlete.skips),
        )
        for one in slugs
    )


def _item_of(athlete: Athlete, targets: tuple[Target, ...], today: date, *, skipped: bool) -> Item:
    exercise = athlete.programme.exercise(targets[0].exercise)
    done = tuple(sets_done(athlete, t, today) for t in targets)
    return Item(exercise, targets, done, max(t.sets for t in targets), skipped)


def unasked_item(athlete: Athlete, slug: str, *, like: Item) -> Item:
    """An exercise that was done though another was asked for in its place."""
    edge_mm = edge_in_use(athlete, slug)
    own = tuple(
        replace(like.targets[0], exercise=slug, side=side, edge_mm=edge_mm, load_kg=None, sets=0)
        for side in sides_of(slug)
    )
    return Item(athlete.programme.exercise(slug), own, (0,) * len(own), whole=0, skipped=False)


def with_sets(item: Item, sets: int, *, minutes: int) -> Item:
    """The item with no more than so many sets, for want of time."""
    targets = tuple(in_less_time(t, sets, minutes=minutes) for t in item.targets)
    return replace(item, targets=targets)


def of_sides(item: Item, sides: AbstractSet[Side]) -> Item:
    """The item with the targets of those sides alone, of which it has one at least."""
    kept = [pair for pair in zip(item.targets, item.done, strict=True) if pair[0].side in sides]
    if len(kept) in (0, len(item.targets)):
        return item
    targets, done = zip(*kept, strict=True)
    return replace(item, targets=targets, done=done)


def sets_done(athlete: Athlete, target: Target, today: date, *, until: int | None = None) -> int:
    """Sets logged on that day on the target's exercise, side and edge.

    Args:
        athlete: Whose.
        target: Which line of progress.
        today: The training day.
        until: Number of the last entry that counts; None for all.
    """
    apart = get_exercise(target.exercise).sides == "apart"
    tonight = logs_on(athlete, today, until=until)
    mine = [d.log for d in tonight if d.log.exercise == target.exercise]
    if not mine:
        return 0
    in_use = edge_in_use(before(athlete, today), target.exercise, side=target.side)
    count = 0
    for log in mine:
        # As in a stream: a log without an edge was made on the edge named before it.
        in_use = log.edge_mm or in_use
        if in_use is None or in_use == target.edge_mm:
            count += sum(not apart or s.side in (target.side, "both") for s in log.sets)
    return count


def logs_on(athlete: Athlete, day: date, *, until: int | None = None) -> tuple[DatedLog, ...]:
    """The logs of that day up to that entry, oldest first."""
    logs = once(
        athlete,
        ("logs on", day),
        lambda: athlete.logs[
            bisect_left(athlete.logs, day, key=_day) : bisect_right(athlete.logs, day, key=_day)
        ],
    )
    return logs if until is None else tuple(d for d in logs if d.number <= until)


def _edge_tonight(athlete: Athlete, slug: str, today: date) -> int | None:
    """The edge last used for the exercise today, None if none was named. [mm]"""
    edges = [d.log.edge_mm for d in logs_on(athlete, today) if d.log.exercise == slug]
    return next((mm for mm in reversed(edges) if mm is not None), None)
