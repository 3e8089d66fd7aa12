"""What a reply means by what was spoken of before, and misreads that one tap puts right."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.conversation.step import hear
from bot.conversation.talk import talk_as_text
from bot.conversation.turn import Outcome
from bot.ports import Chat, Loaded
from core.facts import Logged

NOON = datetime(2026, 12, 1, 11, 0, tzinfo=UTC)
KIT = ("zone Europe/Oslo", "plates 2x10 2x5 2x2.5 4x1.25 2x0.5", "pin 1.25kg", "bw 71", "bar 120kg")


class Talk:
    """One athlete with a kit, a minute between replies."""

    def __init__(self) -> None:
        self.loaded = Loaded(1, Chat("terminal", 1), (), "")
        self.now = NOON
        self.last: Outcome | None = None
        for text in KIT:
            self(text)

    def __call__(self, text: str) -> str:
        """Type; all that was said to it."""
        return self._hear(text, pressed=False)

    def press(self, number: int = 0) -> str:
        """Press one of the buttons of the last answer."""
        return self._hear(self.buttons[number], pressed=True)

    def _hear(self, text: str, *, pressed: bool) -> str:
        self.now += timedelta(minutes=1)
        outcome = hear(self.loaded, text, pressed=pressed, now=self.now)
        entries = (*self.loaded.entries, *outcome.entries)
        self.loaded = Loaded(1, self.loaded.chat, entries, talk_as_text(outcome.talk))
        self.last = outcome
        return "\n".join(m.text for m in outcome.messages)

    @property
    def buttons(self) -> list[str]:
        assert self.last is not None
        return [b.send for m in self.last.messages for b in m.buttons]

    @property
    def logs(self) -> list[Logged]:
        assert self.last is not None
        return [dated.log for dated in self.last.athlete.logs]

    @property
    def loads(self) -> list[tuple[str, list[str]]]:
        """Each log's exercise, and the loads of its sets."""
        return [(log.exercise, [str(s.load_kg) for s in log.sets]) for log in self.logs]


@pytest.fixture
def talk() -> Talk:
    return Talk()


@pytest.mark.parametrize(
    ("first", "then", "loads"),
    [
        # Bare sets are of the exercise in hand, bare numbers by its dose.
        ("next crimp", "4x22 ok", ["22"] * 4),
        ("next crimp", "4x22,5 ok", ["22.5"] * 4),
        ("next crimp", "22,5 ok", ["22.5"]),
        ("next crimp", "4x22 ok ok hard fail", ["22"] * 4),
        ("crimp 1x20kg ok", "3x22 ok", ["22"] * 3),
    ],
)
def test_bare_sets_are_of_the_exercise_in_hand(
    talk: Talk, first: str, then: str, loads: list[str]
) -> None:
    talk(first)
    talk(then)
    assert talk.loads[-1] == ("half-crimp", loads)


def test_bare_sets_of_another_clause_are_of_the_exercise_named_last(talk: Talk) -> None:
    talk("crimp 2x22 ok; 2x23 hard; plank 2x20 ok; 15 fail")
    assert [log.exercise for log in talk.logs] == ["half-crimp"] * 2 + ["long-lever-plank"] * 2
    assert talk.loads[1][1] == ["23", "23"]
    assert [s.hold_s for s in talk.logs[3].sets] == [15]


def test_bare_sets_with_nothing_in_hand_are_asked_about(talk: Talk) -> None:
    assert "Which exercise was that?" in talk("4x22 ok")
    assert talk.logs == []


def test_same_repeats_the_last_log_and_asks_without_one(talk: Talk) -> None:
    assert "Nothing logged yet" in talk("same")
    talk("crimp L 2x22.5kg ok R 2x20kg hard")
    talk("same")
    assert talk.logs[0].sets == talk.logs[1].sets


def test_ok_counts_the_set_in_hand_as_asked_and_asks_without_one(talk: Talk) -> None:
    talk("ok")
    assert talk.logs == []
    talk("evenings tue thu 20:30 60 min")
    talk("start")
    talk("ok")
    (log,) = talk.logs
    assert [s.effort for s in log.sets] == ["ok"] * len(log.sets)


@pytest.mark.parametrize(
    ("typed", "loads"),
    [
        ("crimp 4x22kq ok", ["22"] * 4),
        ("crmp 4x22kg ok", ["22"] * 4),
        ("crimp 22x4", ["22"] * 4),
        ("crimp 4x22 okk", ["22"] * 4),
    ],
)
def test_a_tap_on_a_misread_logs_what_was_meant(talk: Talk, typed: str, loads: list[str]) -> None:
    assert "Not understood" in talk(typed)
    assert talk.logs == []
    talk.press()
    assert talk.loads == [("half-crimp", loads)]


def test_a_shared_name_is_a_button_for_each_exercise(talk: Talk) -> None:
    talk("pinch 4x18 ok")
    assert talk.buttons == ["wide pinch 4x18 ok", "narrow pinch 4x18 ok"]
    talk.press(1)
    assert talk.loads == [("narrow-pinch", ["18"] * 4)]


def test_a_reply_that_lacks_something_says_what(talk: Talk) -> None:
    assert "a time of day such as 20:30" in talk("move")
    assert "kg or lb" in talk("units")
    assert talk.buttons == ["units kg", "units lb"]


@pytest.mark.parametrize(
    "typed",
    [
        "crimp 2x22kg",
        "crimp 2x22kg # tired",
        "plank 2x20 ok; crimp 2x22kg",
        "crimp L 2x22kg R 2x20kg",
    ],
)
def test_the_effort_asked_for_is_that_of_the_log_and_nothing_else(talk: Talk, typed: str) -> None:
    assert "How was it" in talk(typed)
    before = len(talk.logs)
    talk.press(next(i for i, send in enumerate(talk.buttons) if "hard" in send))
    assert len(talk.logs) == before
    assert {s.effort for s in talk.logs[-1].sets} == {"hard"}
    assert talk.logs[-1].note == ("tired" if "#" in typed else None)


def test_a_correction_of_half_a_reply_says_only_the_other_half(talk: Talk) -> None:
    talk("crimp 4x22.5kg ok; wide pich 4x18")
    assert talk.loads == [("half-crimp", ["22.5"] * 4)]
    assert talk.buttons[-1] == "wide pinch 4x18"
    talk.press(-1)
    assert talk.loads == [("half-crimp", ["22.5"] * 4), ("wide-pinch", ["18"] * 4)]


def test_a_correction_leaves_out_what_was_done_in_between(talk: Talk) -> None:
    talk("crmp 4x20 # cold\nwide pinch 4x17.5kg ok\nopn hand 4x24 ok")
    assert [log.exercise for log in talk.logs] == ["wide-pinch"]
    assert talk.buttons[-1] == "crimp 4x20 # cold\nopen hand 4x24 ok"
    talk.press(-1)
    assert [log.exercise for log in talk.logs] == ["wide-pinch", "half-crimp", "open-hand"]


def test_a_log_by_a_tapped_correction_keeps_what_was_typed(talk: Talk) -> None:
    talk("crmp 4x22.5kg hard")
    talk.press()
    (log,) = talk.logs
    assert (log.said, log.typed) == ("crimp 4x22.5kg hard", "crmp 4x22.5kg hard")
    talk("crimp 4x22.5kg ok")
    assert talk.logs[-1].typed is None


def test_an_offer_is_forgotten_with_the_next_reply(talk: Talk) -> None:
    talk("crmp 4x22.5kg hard")
    talk("next")
    talk("crimp 4x22.5kg hard")
    assert talk.logs[-1].typed is None


def test_the_effort_of_a_side_that_said_none_is_asked_for(talk: Talk) -> None:
    assert "How was the left?" in talk("crimp L 4x22.5kg R 4x20kg ok")
    talk.press(talk.buttons.index("fix half crimp L 4x22.5kg 10s hard, R 4x20kg 10s ok"))
    (log,) = talk.logs
    assert [(s.side, s.effort) for s in log.sets] == [("left", "hard")] * 4 + [("right", "ok")] * 4
    assert "How was" not in talk("crimp L 4x22.5kg ok R 4x20kg ok")
