"""The week as it is asked for, and what a reply moves in it. Tuesday 1 December 2026, noon."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from bot.conversation.step import hear
from bot.conversation.talk import talk_as_text
from bot.ports import Chat, Loaded
from core.facts import EveningDropped

NOON = datetime(2026, 12, 1, 11, 0, tzinfo=UTC)
COLUMNS = 42
Says = Callable[..., str]


class Talker:
    """One athlete in one chat; a minute between replies, or days on."""

    def __init__(self) -> None:
        self.loaded = Loaded(1, Chat("terminal", 1), (), "")
        self.now = NOON

    def __call__(self, *texts: str, days: int = 0) -> str:
        self.now += timedelta(days=days)
        said = ""
        for text in texts:
            self.now += timedelta(minutes=1)
            outcome = hear(self.loaded, text, pressed=False, now=self.now)
            entries = (*self.loaded.entries, *outcome.entries)
            self.loaded = Loaded(1, self.loaded.chat, entries, talk_as_text(outcome.talk))
            said = "\n".join(m.text for m in outcome.messages if m.kind == "answer")
        return said


@pytest.fixture
def says() -> Talker:
    talker = Talker()
    talker("zone Europe/Oslo", "plates 2x10 2x5 2x2.5 2x1.25", "pin 1.25kg", "bw 71", "age 34")
    talker("edges 20", "evenings tue thu 20:30 60 min")
    return talker


def test_week_shows_each_day_that_is_something(says: Talker) -> None:
    says("wall days sat", "wall fri")
    assert says("week").splitlines() == [
        "Evenings: Tue and Thu at 20:30, 60 min.",
        "· Tue 1 Dec: fingers",
        "· Thu 3 Dec: no fingers, wall on Fri",
        "· Fri 4 Dec: wall",
        "· Sat 5 Dec: wall",
        "· Tue 8 Dec: fingers",
    ]


def test_week_says_when_an_evening_is_held_at_another_time(says: Talker) -> None:
    says("move today 21:15")
    assert "· Tue 1 Dec 21:15: fingers" in says("week")
    # Thursday 20:30 is 47:15 h after that.
    assert "· Thu 3 Dec: no fingers, they are on Tue" in says("week")


def test_week_tells_what_is_done(says: Talker) -> None:
    says("start", "crimp 4x20 ok", "all done")
    assert "· Tue 1 Dec: done" in says("week")


def test_week_goes_on_to_the_first_evening_after_a_pause(says: Talker) -> None:
    says("pause until 10 dec")
    week = says("week").splitlines()
    assert week[1:] == ["· a pause until Thu 10 Dec", "· Thu 10 Dec: fingers"]


def test_week_of_an_illness_promises_nothing_until_back(says: Talker) -> None:
    says("sick")
    assert says("week").splitlines()[1:] == ['· ill, nothing hard until you type "back"']
    assert "no fingers" not in says("back", days=1)
    assert "· Thu 3 Dec: light fingers, easy start" in says("week")


def test_every_line_of_a_week_fits_a_phone(says: Talker) -> None:
    says("evenings mon tue wed thu fri 20:30 60 min", "wall days sun", "away until 3 dec")
    assert all(len(line) <= COLUMNS for line in says("week").splitlines()[1:])


def test_without_evenings_week_says_how_to_plan_them() -> None:
    talker = Talker()
    talker("zone Europe/Oslo")
    assert "evenings tue thu" in talker("week")


@pytest.mark.parametrize(
    ("before", "reply", "line"),
    [
        ((), "wall fri", "Thursday: no fingers, you climb on Friday."),
        ((), "wall days fri", "Thursday: no fingers, you climb on Friday."),
        (("wall days sat",), "move fri 20:30", "Friday: no fingers, you climb on Saturday."),
        (("evenings tue wed",), "not tonight", "Tonight: fingers moved to Wednesday."),
        (("wall fri",), "undo", "Thursday: fingers after all."),
    ],
)
def test_a_reply_says_what_it_moved(
    says: Talker, before: tuple[str, ...], reply: str, line: str
) -> None:
    says(*before)
    assert line in says(reply).splitlines()


@pytest.mark.parametrize("reply", ["wall tonight", "sick", "away until 14 dec", "deload", "bw 70"])
def test_a_reply_that_moves_nothing_says_nothing_of_it(says: Talker, reply: str) -> None:
    answer = says(reply)
    assert "moved" not in answer
    assert "no fingers" not in answer.casefold().replace("fingers and pulling", "")


def test_not_tonight_on_a_moved_evening_calls_that_evening_off(says: Talker) -> None:
    says("move tomorrow 20:30")
    says("not tonight", days=1)
    assert says.loaded.entries[-1].fact == EveningDropped(datetime(2026, 12, 1).date())  # noqa: DTZ001
    assert "Wed 2 Dec" not in says("week")


def test_tonight_says_why_it_has_no_fingers(says: Talker) -> None:
    says("wall wed")
    tonight = says("tonight")
    assert "No fingers tonight: you climb on Wednesday." in tonight
    assert "half crimp" not in tonight
    assert "pull-up" in tonight


def test_tonight_on_a_trip_needs_no_kit(says: Talker) -> None:
    says("away until 14 dec")
    tonight = says("tonight")
    assert "only what needs no kit" in tonight
    assert "plank" in tonight
    assert not any(word in tonight for word in ("crimp", "pull-up", "lock-off", "plates"))
