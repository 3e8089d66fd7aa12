"""What a change moved, by example. Day 0 is Monday 30 November 2026."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from core.facts import (
    EveningDropped,
    EveningMoved,
    EveningsPlanned,
    KitChanged,
    PainFelt,
    Paused,
    WallDaysPlanned,
    WallVisited,
)
from core.planning.week import week_changes

Begin = Callable[..., Any]
MONDAY = date(2026, 11, 30)


def on(day: int) -> date:
    return MONDAY + timedelta(days=day)


def moved(someone: Any, today: int, *facts: Any) -> list[tuple[int | None, int | None, str | None]]:
    before = someone.days(today, 8)
    after = someone.on(today, *facts).days(today, 8)
    return [
        (
            None if c.lost is None else (c.lost - MONDAY).days,
            None if c.gained is None else (c.gained - MONDAY).days,
            None if c.why is None else c.why.rule,
        )
        for c in week_changes(before, after)
    ]


def test_the_wall_on_friday_moves_thursdays_fingers_to_wednesday(life: Begin) -> None:
    week = life("mon wed thu").crimped(0)
    assert moved(week, 1, WallVisited(on(4), None, None)) == [(3, 2, "wall-next-day")]


def test_wall_days_say_which_evenings_lose_their_fingers(life: Begin) -> None:
    assert moved(life("tue thu"), 0, WallDaysPlanned(("fri",))) == [(3, None, "wall-next-day")]
    assert moved(life("tue thu"), 0, WallDaysPlanned(("thu",))) == [(3, None, "wall-day")]


def test_a_visit_that_takes_only_its_own_evening_is_no_news(life: Begin) -> None:
    assert moved(life("tue thu"), 1, WallVisited(on(1), None, None)) == []


def test_an_evening_called_off_hands_its_fingers_on_where_it_can(life: Begin) -> None:
    assert moved(life("mon tue thu"), 0, EveningDropped(on(0))) == [(0, 1, None)]
    assert moved(life("tue thu"), 1, EveningDropped(on(1))) == []


def test_an_evening_moved_with_its_fingers_is_no_news(life: Begin) -> None:
    assert moved(life("tue thu"), 0, EveningMoved(on(3), "2026-12-04T20:30")) == []


def test_an_evening_moved_before_a_wall_day_loses_them(life: Begin) -> None:
    fact = EveningMoved(on(3), "2026-12-04T20:30")
    assert moved(life("tue thu", "sat"), 0, fact) == [(4, None, "wall-next-day")]


def test_pauses_new_evenings_and_pain_speak_for_themselves(life: Begin) -> None:
    assert moved(life("tue thu"), 0, Paused(on(7), "away")) == []
    assert moved(life("tue thu"), 0, Paused(None, "sick")) == []
    assert moved(life("tue thu"), 0, EveningsPlanned(("mon", "wed"), None, None)) == []
    assert moved(life("tue thu"), 1, PainFelt("finger", "left", 5, ())) == []


def test_plates_that_make_finger_work_possible_are_no_move(life: Begin) -> None:
    week = life("tue thu")
    plates = next(e.fact for e in week.entries if isinstance(e.fact, KitChanged))
    week.entries = [e for e in week.entries if not isinstance(e.fact, KitChanged)]
    assert moved(week, 0, plates) == []


def test_fingers_trained_on_a_free_day_cost_the_next_evening(life: Begin) -> None:
    week = life("tue thu").crimped(1)
    before = week.days(2, 8)
    changes = week_changes(before, week.crimped(2).days(2, 8))
    assert [(c.lost, c.gained) for c in changes] == [(on(3), None)]
