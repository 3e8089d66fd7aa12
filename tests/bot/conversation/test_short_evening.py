""" "Only so many minutes", before and in the middle of an evening."""

from datetime import UTC, datetime

import pytest

from tests.bot.conversation.test_dialogue import Talker

EVENING = datetime(2026, 12, 1, 19, 30, tzinfo=UTC)


@pytest.fixture
def says() -> Talker:
    talker = Talker()
    talker(
        "zone Europe/Oslo",
        "plates 2x10 2x5 2x2.5 4x1.25 2x0.5",
        "pin 1.25kg",
        "bw 71",
        "age 34",
        "edges 20",
        "start load crimp 20kg",
        "evenings tue thu 20:30 60 min",
    )
    talker.now = EVENING
    return talker


def test_minutes_before_the_evening_say_what_fits_and_what_does_not(says: Talker) -> None:
    said = says("20 min")
    assert "half crimp" in said
    assert "Left out to fit 20 min" in said
    assert "about 20 min in all" in said or "about 19 min in all" in said


def test_minutes_in_the_middle_keep_what_is_begun_and_count_from_now(says: Talker) -> None:
    said = says("start", "ok", "ok", "12 min")
    assert "more min" in said
    assert "half crimp" in said
    assert "pulse raiser" not in said


def test_an_exercise_in_hand_that_finds_no_room_gives_way_to_the_next(says: Talker) -> None:
    # 9 min: the warm-up of a finger lift alone takes 410 s, two sets of crimps 310 s more.
    said = says("start", "9 min")
    assert "half crimp" not in said.split("Left out")[0]
    assert "Long-lever plank" in said
    assert "Long-lever plank: 1 × 15 s ok" in says("ok")


def test_minutes_that_hold_nothing_are_said_to_be_too_few(says: Talker) -> None:
    assert "3 min is too short" in says("3 min")
    assert "3 min is too short" in says("start")


def test_undo_gives_the_whole_evening_back(says: Talker) -> None:
    whole = says("tonight")
    assert says("20 min") != whole
    says("undo")
    assert says("tonight") == whole
