"""Words for the coming days: short, complete, and one line a day on a phone."""

from datetime import UTC, date, datetime

import pytest

from bot.wording.week import WORDED, change_lines, clause, day_line, pause_line, tonight_lines
from core.planning.week import DAY_RULES, SPACING, DayPlan, HomeEvening, WeekChange
from core.target import Reason, because

THURSDAY = date(2026, 12, 3)
COLUMNS = 40
LIGHT = {"easier-week", "fingers-sore", "easy-after-illness"}
KINDS = {"wall-visit", "wall-day", "sick", "away", "away-with-kit", "paused"}


def reason(rule: str, *, may: bool = False) -> Reason:
    names = (*DAY_RULES[rule].facts, *(DAY_RULES[rule].may if may else ()))
    words = {"age": 15, "cause": "asked", "site": "ring finger", "score": 3, "signs": "pop"}
    return because(rule, **{n: words.get(n, date(2026, 12, 4)) for n in names})  # type: ignore[arg-type]


def evening(why: Reason | None, fingers: str) -> DayPlan:
    held = HomeEvening(THURSDAY, THURSDAY, datetime(2026, 12, 3, 19, 30, tzinfo=UTC), False)
    blocks = ("pull", "trunk", "balance", "hips")
    return DayPlan(THURSDAY, "home", held, 60, blocks, fingers, () if why is None else (why,))  # type: ignore[arg-type]


def test_every_rule_has_words_and_no_words_lack_a_rule() -> None:
    assert set(DAY_RULES) == WORDED
    assert len(DAY_RULES) > 15


@pytest.mark.parametrize("rule", sorted(set(DAY_RULES) - KINDS))
def test_an_evening_is_one_line_of_a_phone(rule: str) -> None:
    line = day_line(
        evening(reason(rule), "light" if rule in LIGHT else "none"), None, is_done=False
    )
    assert line.startswith("· Thu 3 Dec: ")
    assert len(line) <= COLUMNS
    assert "{" not in line


@pytest.mark.parametrize("rule", sorted(set(DAY_RULES) - LIGHT))
def test_a_reason_is_part_of_a_sentence(rule: str) -> None:
    words = clause(reason(rule), THURSDAY)
    assert words[0].islower() or words.startswith("I ")
    assert "{" not in words
    assert not words.endswith(".")


def test_a_day_says_what_it_is() -> None:
    at = datetime(2026, 12, 3, 18, 0, tzinfo=UTC)
    assert day_line(evening(None, "hard"), None, is_done=False) == "· Thu 3 Dec: fingers"
    assert day_line(evening(None, "hard"), at, is_done=False) == "· Thu 3 Dec 18:00: fingers"
    assert day_line(evening(None, "hard"), None, is_done=True) == "· Thu 3 Dec: done"


@pytest.mark.parametrize("rule", ["sick", "away", "paused"])
@pytest.mark.parametrize("has_end", [True, False])
def test_a_pause_says_when_it_ends(rule: str, has_end: bool) -> None:
    plan = evening(reason(rule, may=has_end), "none")
    assert ("Fri 4 Dec" in pause_line(plan)) == has_end
    assert ("back" in pause_line(plan)) != has_end
    assert len(pause_line(plan)) <= COLUMNS + 5


def test_changes_name_days_as_people_do() -> None:
    wall = because("wall-next-day", day=date(2026, 12, 4))
    tuesday, wednesday = date(2026, 12, 1), date(2026, 12, 2)
    assert change_lines((WeekChange(THURSDAY, wednesday, wall),), tuesday) == [
        "Thursday: fingers moved to Wednesday, you climb on Friday."
    ]
    assert change_lines((WeekChange(THURSDAY, tuesday, wall),), tuesday) == [
        "Thursday: fingers moved to tonight, you climb on Friday."
    ]
    assert change_lines((WeekChange(THURSDAY, None, wall),), THURSDAY) == [
        "Tonight: no fingers, you climb on Friday."
    ]
    assert change_lines((WeekChange(None, THURSDAY, None),), tuesday) == [
        "Thursday: fingers after all."
    ]


def test_a_change_says_at_most_four_lines() -> None:
    days = [date(2026, 12, d) for d in range(1, 7)]
    assert len(change_lines(tuple(WeekChange(d, None, None) for d in days), days[0])) == 4


def test_tonight_says_what_the_week_takes_out_and_nothing_else() -> None:
    for rule in SPACING:
        assert tonight_lines(evening(reason(rule), "none"))[0].startswith("No fingers tonight: ")
    assert tonight_lines(evening(reason("pain-today"), "none")) == []
    assert tonight_lines(evening(reason("easier-week"), "light")) == []
    assert tonight_lines(evening(None, "hard")) == []
