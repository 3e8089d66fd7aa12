"""Walks that go on where they stopped come to what they come to from the beginning."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from core.athlete import Athlete, athlete_from_facts
from core.catalogue import get_exercise
from core.derived import folded, once
from core.facts import (
    Asked,
    BodyWeighed,
    CameBack,
    DeloadAsked,
    Entry,
    Fact,
    KitChanged,
    Logged,
    PainFelt,
    Paused,
    PlateCount,
    SetDone,
    Undone,
    WallVisited,
)
from core.history import sides_of
from core.planning import evening
from core.progression import next_targets
from core.strength import strength_of

FIRST = date(2026, 1, 6)
SLUGS = ("half-crimp", "wide-pull-up", "long-lever-plank", "cossack-squat")


def added(state: tuple[int, ...], items: tuple[int, ...]) -> tuple[int, ...]:
    """The sums of all beginnings: each item counts, and so does the order."""
    sums = list(state)
    for item in items:
        sums.append((sums[-1] if sums else 0) * 2 + item)
    return tuple(sums)


@given(
    st.lists(
        st.tuples(st.lists(st.integers(0, 2), max_size=12), st.sampled_from("ab")), max_size=12
    )
)
def test_a_walk_is_the_same_whatever_was_walked_before(asked: list[tuple[list[int], str]]) -> None:
    athlete, nothing = Athlete(), ()
    for items, other in asked:
        walk = folded(
            athlete, "sums", tuple(items), lambda s, i: added(s, i), begin=nothing, given=other
        )
        assert walk == added((), tuple(items))


def test_a_walk_goes_on_where_the_one_before_stopped() -> None:
    seen: list[int] = []

    def more(count: int, items: tuple[str, ...]) -> int:
        seen.extend(len(item) for item in items)
        return count + len(items)

    athlete = Athlete()
    days = ("a", "bb", "ccc")
    assert folded(athlete, "count", days, more, begin=0) == 3
    # A later athlete of the same person shares the walks; one day more is all that is looked at.
    later = replace(athlete, body_kg=Decimal(70))
    assert folded(later, "count", (*days, "dddd"), more, begin=0) == 4
    # The last day went on, so it is looked at again, and nothing else is.
    assert folded(later, "count", (*days, "ddddd"), more, begin=0) == 4
    assert seen == [1, 2, 3, 4, 5]


def test_once_belongs_to_one_athlete() -> None:
    made: list[int] = []
    derive: Callable[[], int] = lambda: made.append(1) or len(made)  # type: ignore[func-returns-value]  # noqa: E731
    athlete = Athlete()
    assert (once(athlete, "n", derive), once(athlete, "n", derive)) == (1, 1)
    assert once(replace(athlete), "n", derive) == 2


def a_log(slug: str, load: int, effort: str, edge_mm: int | None) -> Logged:
    exercise = get_exercise(slug)
    held = slug in ("half-crimp", "long-lever-plank")
    load_kg = Decimal(load) if slug in ("half-crimp", "wide-pull-up") else None
    sets = tuple(
        SetDone(side, load_kg, reps=None if held else 6, hold_s=10 if held else None, effort=effort)  # type: ignore[arg-type]
        for side in sides_of(slug)
        for _ in range(exercise.dose.sets)
    )
    asked = tuple(
        Asked(s, exercise.dose.sets, None if held else 6, 10 if held else None, load_kg)
        for s in sides_of(slug)
    )
    return Logged(slug, edge_mm if exercise.edged else None, sets, asked, None, "")


LOGS = st.builds(
    a_log,
    st.sampled_from(SLUGS),
    st.sampled_from((10, 12, 14, 15, 150)),
    st.sampled_from(("easy", "ok", "ok", "hard", "fail")),
    st.sampled_from((None, 20, 15)),
)
OTHERS = st.sampled_from(
    (
        BodyWeighed(Decimal(71)),
        WallVisited(FIRST, 90, None),
        PainFelt("ring finger", "left", 3, ()),
        PainFelt("elbow", None, 2, ()),
        PainFelt("finger", "right", None, ("pop",)),
        DeloadAsked(),
        Paused(None, "sick"),
        CameBack(),
        KitChanged(plates=(PlateCount(Decimal(1), 4),), change="add"),
        "undo",
    )
)
HAPPENINGS = st.lists(
    st.tuples(st.integers(0, 12), st.one_of(LOGS, LOGS, LOGS, OTHERS)), max_size=20
)


@given(HAPPENINGS)
@settings(max_examples=60, deadline=None)
def test_a_record_that_grows_answers_as_one_read_anew(
    happenings: list[tuple[int, Fact | str]],
) -> None:
    entries: list[Entry] = []
    day = FIRST

    def note(fact: Fact) -> None:
        at = datetime(day.year, day.month, day.day, 18, tzinfo=UTC)
        entries.append(Entry(len(entries) + 1, len(entries) + 1, at, day, fact))

    note(
        KitChanged(
            plates=(PlateCount(Decimal(5), 4), PlateCount(Decimal(2), 4)),
            pin_kg=Decimal(1),
            edges_mm=(20, 15),
        )
    )
    growing = athlete_from_facts(tuple(entries))
    for days, happened in happenings:
        day += timedelta(days=days)
        if happened != "undo":
            note(happened)  # type: ignore[arg-type]
        elif len(entries) > 1:
            note(Undone((entries[-1].number,), "undo"))
        record = tuple(entries)
        growing = athlete_from_facts(record, earlier=growing)
        anew = athlete_from_facts(record)
        assert growing == anew
        assert evening(growing, today=day) == evening(anew, today=day)
        for slug in SLUGS:
            # What comes after tonight, with the walks of the evening taken further.
            assert next_targets(growing, slug, today=day) == next_targets(anew, slug, today=day)
        for side in ("left", "right"):
            found, again = (
                strength_of(a, "half-crimp", side=side, edge_mm=20, today=day)
                for a in (growing, anew)
            )
            assert found == again
