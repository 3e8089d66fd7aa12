"""Rests that are shared: two exercises take turns, set by set, in a guided evening."""

from datetime import timedelta

import pytest

PLAN = ("zone Europe/Oslo", "evenings tue thu 20:30 60 min", "bar 120kg", "plates 2x5", "age 15")


@pytest.fixture
def says(talker):
    """An evening of a fifteen-year-old: no finger lifts, so that the first pair comes at once."""
    says = talker(*PLAN, "share rests")
    assert "wide pull-up with long-lever plank" in says("start", "tonight")
    return says


def test_share_rests_says_what_it_means_and_how_to_end_it(talker) -> None:
    says = talker(*PLAN)
    assert "In turn" not in says("tonight")
    answer = says("share rests")
    assert "No rest gets shorter" in answer
    assert "full rests" in answer
    assert "In turn, set by set" in says("tonight")
    assert says("full rests") == "Full rests: one exercise after the other."
    assert "In turn" not in says("tonight")


def test_after_a_set_of_the_one_the_other_is_called(says) -> None:
    answer = says("ok")
    assert "Now long-lever plank, set 1 of 3:" in answer
    assert says.rest_until is None
    # The pull-up was logged a minute ago and rests 2:30: 1:30 are left.
    answer = says("ok")
    assert "Then wide pull-up: 1:30 until it has rested, I call you." in answer
    assert says.rest_until == says.now + timedelta(seconds=90)


def test_a_bare_reply_is_for_the_exercise_called_last(says) -> None:
    says("ok", "20s ok")
    last = says.athlete.logs[-1].log
    assert (last.exercise, last.sets[0].hold_s) == ("long-lever-plank", 20)
    says("ok", minutes=3)
    assert says.athlete.logs[-1].log.exercise == "wide-pull-up"


def test_next_names_the_exercise_called_last(says) -> None:
    says("ok")
    answer = says("next")
    assert answer.startswith("Long-lever plank")
    assert "in turn with wide pull-up, set by set" in answer


def test_no_rest_is_shorter_than_it_would_be_alone(says) -> None:
    rests = {"wide-pull-up": 150, "long-lever-plank": 60}
    done = {}
    for _ in range(6):
        if says.rest_until is not None:
            says.now = says.rest_until - timedelta(minutes=1)
        says("ok")
        slug = says.athlete.logs[-1].log.exercise
        if slug in done:
            assert (says.now - done[slug]).total_seconds() >= rests[slug]
        done[slug] = says.now
    assert [log.log.exercise for log in says.athlete.logs] == [
        "wide-pull-up",
        "long-lever-plank",
    ] * 3


def test_when_one_is_done_the_other_goes_on(says) -> None:
    # All pull-ups in one reply after a plank set: the plank has two sets left.
    says("ok", "ok", "wide pull 2x6 ok", minutes=3)
    answer = says("tonight")
    assert "done: wide pull-up" in answer
    assert says("next").startswith("Long-lever plank")
