"""Days in replies that are about one evening or one day at the wall, said on other weekdays."""

from datetime import UTC, datetime

import pytest

from core.replies import read
from core.replies.act import ReplyContext
from core.replies.contract import reading_as_json

# Noon in UTC of Friday 4 and Sunday 6 December 2026.
FRIDAY = datetime(2026, 12, 4, 12, tzinfo=UTC)
SUNDAY = datetime(2026, 12, 6, 12, tzinfo=UTC)


def said(text: str, at: datetime) -> dict[str, object]:
    reading = read(text, ReplyContext(units="kg", at=at, zone="UTC"))
    assert reading.misread is None, reading.misread
    (act,) = reading_as_json(reading)["acts"]
    return act


@pytest.mark.parametrize(
    ("text", "evening", "to"),
    [
        # The next Thursday is the 10th; the nearest Friday to it that is not over the 11th.
        ("move thu to fri", "2026-12-10", "2026-12-11"),
        # The nearest Wednesday to Thursday the 10th is the day before.
        ("move thu to wed", "2026-12-10", "2026-12-09"),
        ("move thu to mon 19:00", "2026-12-10", "2026-12-07T19:00"),
        ("move fri to sat", "2026-12-04", "2026-12-05"),
        # The nearest Thursday to today's evening is over.
        ("move fri to thu", "2026-12-04", "2026-12-10"),
        ("move today to 21:15", "2026-12-04", "2026-12-04T21:15"),
    ],
)
def test_move_goes_to_the_nearest_such_day_that_is_not_over(
    text: str, evening: str, to: str
) -> None:
    assert said(text, FRIDAY) == {"act": "move", "to": to, "evening": evening}


def test_move_to_a_time_that_is_over_is_a_misread() -> None:
    reading = read("move fri to 11:00", ReplyContext(units="kg", at=FRIDAY, zone="UTC"))
    assert reading.misread is not None
    assert "a time still to come" in reading.misread.expected


@pytest.mark.parametrize(
    ("text", "when"),
    [
        # On a Sunday "sat" is the day before; every other weekday lies ahead.
        ("not at the wall sat", "2026-12-05"),
        ("no wall sun", "2026-12-06"),
        ("no wall mon", "2026-12-07"),
        ("no wall fri", "2026-12-11"),
    ],
)
def test_no_wall_on_the_weekday_of_yesterday_means_yesterday(text: str, when: str) -> None:
    assert said(text, SUNDAY) == {"act": "no_wall", "when": when}


def test_away_without_a_kit_says_nothing_of_one() -> None:
    away = {"act": "pause", "until": "2026-12-11", "cause": "away"}
    assert said("away until fri", SUNDAY) == away
    packed = {"bands": ["green"], "edges_mm": [20], "bar": True}
    text = "away until fri with green band, a bar and edge 20"
    assert said(text, SUNDAY) == {**away, "with": packed}
