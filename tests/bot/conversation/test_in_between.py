"""Replies that mean what they look like in the middle of an evening."""

import pytest

KIT = ("zone Europe/Oslo", "plates 2x10 2x5 2x2.5 4x1.25", "pin 1.25kg", "edges 20")
PLAN = ("evenings tue thu 20:30 60 min", "start crimp 20kg")


@pytest.fixture
def says(talker):
    """A begun evening while a set-up question is still open."""
    return talker(*KIT, *PLAN, "start")


def test_a_greeting_is_answered_with_the_first_question(talker) -> None:
    says = talker()
    answer = says("hi")
    assert "Not understood" not in answer
    assert [m.kind for m in says.sent] == ["answer", "answer", "question"]


def test_a_first_reply_that_says_something_is_heard(talker) -> None:
    says = talker("plates 2x10")
    assert says.athlete.kit.plates


def test_skip_in_an_evening_skips_the_exercise_not_the_open_question(says) -> None:
    assert says("skip").startswith("Skipped half crimp.")
    assert says.athlete.skipped_questions == ()


def test_skip_before_an_evening_skips_the_question(talker) -> None:
    says = talker(*KIT, *PLAN)
    says("skip")
    assert len(says.athlete.skipped_questions) == 1


def test_an_effort_after_the_question_how_it_was_is_the_answer(says) -> None:
    assert "How was it?" in says("crimp 4x20kg")
    assert says("ok").startswith("Fixed. Half crimp: 4 × 20 kg × 10 s a hand ok")
    (log,) = says.athlete.logs
    assert {s.effort for s in log.log.sets} == {"ok"}


def test_an_effort_two_replies_later_is_a_set_again(says) -> None:
    says("crimp 4x20kg", "tonight", "ok")
    assert [d.log.exercise for d in says.athlete.logs] == ["half-crimp", "open-hand"]


def test_an_effort_answers_for_the_hand_that_was_left_out(says) -> None:
    says("crimp L 4x20kg ok R 4x20kg")
    says("hard")
    (log,) = says.athlete.logs
    efforts = {(s.side, s.effort) for s in log.log.sets}
    assert efforts == {("left", "ok"), ("right", "hard")}


def test_fix_without_a_name_is_about_the_last_log(says) -> None:
    # The evening has gone on to the next exercise.
    says("4x20kg ok")
    assert says("fix 4x19.75kg ok").startswith("Fixed. Half crimp: 4 × 19.75 kg")


def test_the_button_under_how_was_it_fixes_the_log_it_is_about(says) -> None:
    says("4x20kg")
    text = next(b.send for m in says.sent for b in m.buttons if b.label == "hard")
    assert says(text).startswith("Fixed. Half crimp: 4 × 20 kg × 10 s a hand hard")


def test_progress_after_asking_for_an_exercise_nobody_did_looks_back(talker) -> None:
    says = talker(*KIT, *PLAN, "next roller")
    assert "Nothing logged yet for" not in says("progress")
