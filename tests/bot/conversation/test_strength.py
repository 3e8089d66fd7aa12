"""What "progress" says of strength: with its uncertainty, and no gain where there is only noise."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from bot.conversation.step import hear
from bot.conversation.talk import talk_as_text
from bot.ports import Chat, Loaded

BEGIN = datetime(2026, 12, 1, 20, 0, tzinfo=UTC)


def said_after(*replies: str, ask: str = "progress crimp", days: int = 4) -> str:
    """The last answer, after replies so many days apart and a question."""
    loaded, now, text = Loaded(1, Chat("terminal", 1), (), ""), BEGIN, ""
    for reply in ("plates 2x20 4x5 4x1.25 2x0.5", "pin 1kg", "bw 70", *replies, ask):
        outcome = hear(loaded, reply, pressed=False, now=now)
        entries = (*loaded.entries, *outcome.entries)
        loaded = Loaded(1, loaded.chat, entries, talk_as_text(outcome.talk))
        text = "\n".join(m.text for m in outcome.messages)
        now += timedelta(days=days)
    return text


def crimps(left: Sequence[float], right: Sequence[float]) -> list[str]:
    pairs = zip(left, right, strict=True)
    return [f"crimp L 4x{one}kg ok R 4x{other}kg ok" for one, other in pairs]


def test_one_session_is_an_estimate_with_its_interval() -> None:
    text = said_after("crimp 4x20kg ok", days=0)
    # By hand: 20 kg with 12 s to failure, 91.9 %: 21.76 kg; 1.645 x 0.066 in the logarithm
    # either way: times 0.897 and 1.115.
    assert "left: about 21.8 kg (19.5 to 24.3)" in text
    assert "Left and right are level." in text
    assert "weeks" not in text


def test_a_gain_and_a_plateau_beside_each_other() -> None:
    # Four sessions find the level; in the ten after them the left hand rises.
    steady = [22.0] * 4 + [22 + 0.5 * n for n in range(10)]
    text = said_after(*crimps(steady, [18.0] * 14))
    assert "right: about 19.6 kg" in text
    assert "level over 5 weeks, a plateau" in text
    # By hand: 26.5 / 22 is 20 % up.
    assert "up 20 % (" in text
    assert "The left hand is " in text


def test_noise_is_no_gain() -> None:
    text = said_after(*crimps([21.0] * 4 + [20, 22, 20, 22, 21, 22, 21, 22], [21.0] * 12))
    assert "up" not in text
    assert text.count("level over 4 weeks") == 2


def test_easy_sets_say_at_least() -> None:
    text = said_after("crimp 4x20kg easy", days=1)
    # By hand: 13 s to failure at least, 90.5 %: 22.1 kg.
    assert "left: at least 22.1 kg" in text
    assert "Left and right" not in text


def test_on_the_body_its_weight_is_said_to_be_included() -> None:
    text = said_after("wide pull 3x6 ok", ask="progress wide pull", days=1)
    # By hand: 70 x (1 + 8/30) = 88.7 kg.
    assert "about 89 kg (" in text
    assert "body weight included" in text


def test_nothing_is_claimed_without_effort_or_load() -> None:
    assert "Maximum" not in said_after("crimp 4x22kg", days=1)
    assert "Maximum" not in said_after("l-sit 3x15 ok", ask="progress l-sit", days=1)


def test_pounds_for_those_who_think_in_pounds() -> None:
    # By hand: 50 lb / 0.919 = 54.4 lb.
    assert "left: about 54 lb (" in said_after("units lb", "crimp 4x50 ok", days=0)
