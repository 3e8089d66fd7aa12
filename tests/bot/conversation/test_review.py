"""What "progress" says of four weeks, and where the load of the week is told."""

from datetime import UTC, datetime, timedelta

from bot.conversation.step import hear
from bot.conversation.talk import talk_as_text
from bot.ports import Chat, Loaded

BEGIN = datetime(2026, 12, 1, 20, 0, tzinfo=UTC)
SET_UP = ("plates 2x10 2x5 2x2.5 4x1.25 2x0.5", "pin 1kg", "bw 70", "evenings tue thu 20:00 60 min")


def said_after(*replies: str, ask: str = "progress", days: int = 1) -> str:
    """The last answer, after the set-up, replies so many days apart and a question."""
    loaded, now, text = Loaded(1, Chat("terminal", 1), (), ""), BEGIN, ""
    for reply in (*SET_UP, *replies, ask):
        outcome = hear(loaded, reply, pressed=False, now=now)
        entries = (*loaded.entries, *outcome.entries)
        loaded = Loaded(1, loaded.chat, entries, talk_as_text(outcome.talk))
        text = "\n".join(m.text for m in outcome.messages)
        now += timedelta(days=0 if reply in SET_UP else days)
    return text


def test_progress_of_nothing_yet_says_how_to_begin() -> None:
    assert said_after() == "Nothing logged yet. For example: crimp 4x22kg ok"


def test_progress_of_nothing_named_is_the_review() -> None:
    text = said_after("crimp 4x20kg ok", "crimp 4x20.5kg ok")
    assert text.startswith("Four weeks to Thu 3 Dec:\n1 of 1 evening held, 1 more on other days.")
    assert "· half crimp 20 → 20.5 kg" in text
    assert "Too few sessions yet for a trend." in text
    assert "Next: go on as planned." in text


def test_progress_of_what_is_in_hand_stays_with_it() -> None:
    assert said_after("crimp 4x20kg ok", days=0).startswith("Half crimp, last logs:")


def test_only_the_most_trained_are_shown() -> None:
    names = ("crimp 4x20kg ok", "push-up 3x10 ok", "plank 3x15 ok", "l-sit 3x15 ok",
             "wide pull 3x6 ok", "lock-off 3x5s ok", "pancake 2x6 ok")  # fmt: skip
    text = said_after(*names)
    assert text.count("·") == 6
    assert "· and 2 more" in text


def test_load_is_told_with_the_review_and_after_two_weeks_with_the_week() -> None:
    # By hand: 120 min x 7 = 840, and 60 planned minutes x 8 = 480.
    replies = ("wall 2h rpe 7", "crimp 4x20kg ok")
    assert "Load (RPE × min): 1320 in 7 days" in said_after(*replies)
    assert "Load" not in said_after(*replies, ask="week")
    later = said_after(*replies, ask="week", days=7)
    # The question comes on the 15th, so the visit of the 1st lies 15 days back.
    assert "Load: 0 in 7 days, 480 in the 7 before." in later


def test_a_visit_that_cannot_count_is_said_to_be_left_out() -> None:
    replies = ("wall 2h rpe 7", "wall", "crimp 4x20kg ok")
    assert "Left out: 1 wall visit without minutes or RPE." in said_after(*replies)
    assert "; 1 wall visit not counted." in said_after(*replies, ask="week", days=5)


def test_load_is_not_told_where_nothing_counts() -> None:
    assert "Load" not in said_after("wall 2h", ask="week", days=14)
    assert "Load" not in said_after("crimp 4x20kg")


def test_the_review_points_to_a_professional_when_it_hurts() -> None:
    text = said_after("crimp 4x20kg ok", "pain left ring finger 3", "pain left ring finger 2")
    assert "In the way: pain left ring finger on 2 days" in text
    assert "doctor or physiotherapist" in text


def test_a_gain_is_told_with_its_interval() -> None:
    # Four sessions find the level; then half a kilogram more every other day.
    loads = [20.0] * 4 + [20 + 0.5 * n for n in range(10)]
    text = said_after(*(f"crimp 4x{kg}kg ok" for kg in loads), days=2)
    line = next(line for line in text.split("\n") if line.startswith("· half crimp"))
    # By hand: from 20 to 24.5 kg, 22.5 %.
    assert line.startswith("· half crimp 20 → 24.5 kg, up 2")
    assert "Too few sessions" not in text


def test_a_plateau_is_named_and_leads_to_an_easier_week() -> None:
    # Every third evening, so on other days than planned too, which is no loss.
    text = said_after(*["crimp 4x22kg hard"] * 19, days=3)
    assert "· half crimp 4 × 10 s at 22 kg as before, level" in text
    # By hand: 19 sessions less four that find the level span 42 days.
    assert "half crimp level for 6 weeks" in text
    assert "Next: half crimp has been level for 6 weeks" in text


def test_a_ladder_names_the_variation() -> None:
    text = said_after(*(f"l-sit 3x{held} ok" for held in (15, 20, 25, 30, 15, 20)))
    assert "· L-sit on to: one leg straight" in text


def test_a_slip_is_not_in_the_review() -> None:
    text = said_after("crimp 4x20kg ok", "crimp 4x20.5kg ok", "crimp 4x205kg ok")
    assert "· half crimp 20 → 20.5 kg" in text
