"""What words, ratings and counts say about what was left."""

from decimal import Decimal

import pytest

from core.errors import OutOfRange
from core.physiology.effort import HARDNESS, effort_word, hardest, reserve


@pytest.mark.parametrize(
    ("word", "left"), [("easy", 3), ("ok", 2), ("hard", 1), ("limit", 0), ("fail", 0)]
)
def test_each_word_leaves_what_the_design_says(word, left) -> None:
    assert reserve(word) == left


@pytest.mark.parametrize(
    ("rpe", "word"),
    [("10", "limit"), ("9.5", "limit"), ("9", "hard"), ("8.5", "hard"), ("8", "ok"),
     ("7.5", "ok"), ("7", "easy"), ("4", "easy")],
)  # fmt: skip
def test_a_rating_becomes_the_word_of_its_reserve_and_halves_the_harder_word(rpe, word) -> None:
    assert effort_word(None, rpe=Decimal(rpe)) == word


@pytest.mark.parametrize(("left", "word"), [(0, "limit"), (1, "hard"), (2, "ok"), (3, "easy")])
def test_a_count_becomes_the_word_of_its_reserve(left, word) -> None:
    assert effort_word(None, left=left) == word


def test_a_reported_reserve_above_five_counts_as_five() -> None:
    assert reserve(None, left=9) == 5
    assert reserve(None, rpe=Decimal(2)) == 5


def test_of_several_sayings_the_hardest_counts() -> None:
    assert reserve("easy", rpe=Decimal(9), left=2) == 1
    assert effort_word("easy", rpe=Decimal(9)) == "hard"


def test_a_failed_set_stays_failed_whatever_else_was_said() -> None:
    assert effort_word("fail", left=4) == "fail"


def test_nothing_said_is_nothing_known() -> None:
    assert reserve(None) is None
    assert effort_word(None) is None
    assert hardest([None, None]) is None


def test_hardest_ranks_the_words() -> None:
    assert hardest(["ok", None, "hard", "easy"]) == "hard"
    assert hardest(HARDNESS) == "fail"


def test_ratings_and_counts_outside_their_interval_are_refused() -> None:
    with pytest.raises(OutOfRange):
        reserve(None, rpe=Decimal("10.5"))
    with pytest.raises(OutOfRange):
        reserve(None, left=-1)
