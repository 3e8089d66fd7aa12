"""Single replies and their answers, through the conversation's own door."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from bot.conversation.step import hear
from bot.conversation.talk import talk_as_text
from bot.conversation.turn import Outcome
from bot.ports import Chat, Loaded
from core.athlete import Athlete
from core.facts import EveningMoved, PainFelt, Paused

NOON = datetime(2026, 12, 1, 11, 0, tzinfo=UTC)


class Talker:
    """One athlete in one chat, a minute between replies."""

    def __init__(self) -> None:
        self.loaded = Loaded(1, Chat("terminal", 1), (), "")
        self.now = NOON
        self.last: Outcome | None = None

    def __call__(self, *texts: str) -> str:
        """Type, one after the other; all that was said to the last one."""
        for text in texts:
            self.now += timedelta(minutes=1)
            outcome = hear(self.loaded, text, pressed=False, now=self.now)
            entries = (*self.loaded.entries, *outcome.entries)
            self.loaded = Loaded(1, self.loaded.chat, entries, talk_as_text(outcome.talk))
            self.last = outcome
        assert self.last is not None
        return "\n".join(m.text for m in self.last.messages)

    @property
    def athlete(self) -> Athlete:
        assert self.last is not None
        return self.last.athlete

    @property
    def buttons(self) -> list[str]:
        assert self.last is not None
        return [b.send for m in self.last.messages for b in m.buttons]


@pytest.fixture
def says() -> Talker:
    talker = Talker()
    talker("zone Europe/Oslo", "plates 2x10 2x5 2x2.5 4x1.25 2x0.5", "pin 1.25kg", "bw 71")
    return talker


def test_the_first_reply_is_greeted_and_cautioned_once() -> None:
    talker = Talker()
    first = talker("crimp 4x22kg ok")
    assert "not medical advice" in first
    assert "4 × 22 kg" in first
    assert "not medical advice" not in talker("crimp 4x22kg ok")


def test_bare_answers_fit_the_open_question_and_logs_still_count() -> None:
    talker = Talker()
    assert "Kilograms or pounds" in talker("/start")
    assert "What time is it" in talker("lb")
    assert talker.athlete.units == "lb"
    assert "Time zone America/New_York" in talker("new york")
    assert "Your body weight" in talker("mon wed 19:00 45 min")
    assert "Half crimp" in talker("crimp 4x45 ok")
    assert "Your age" in talker("157")
    assert talker.athlete.body_kg is not None
    assert str(talker.athlete.body_kg) == "71.21400209"  # 157 lb x 0.45359237, by hand


def test_a_clock_time_offers_places_with_that_clock() -> None:
    talker = Talker()
    talker("/start", "kg")
    talker("12:03")
    assert "zone Europe/Berlin" in talker.buttons
    assert talker.athlete.zone is None
    assert "Time zone Europe/Berlin" in talker("zone Europe/Berlin")


def test_an_unknown_place_is_said_so() -> None:
    talker = Talker()
    assert "no time zone or city Atlantis" in talker("/start", "kg", "zone Atlantis")


def test_skip_says_the_default_that_holds() -> None:
    talker = Talker()
    assert "Kilograms then" in talker("/start", "skip")
    assert "no reminders" in talker("skip")


def test_no_bar_is_an_answer(says: Talker) -> None:
    while says.last is not None and "pull-up bar" not in says("skip"):
        pass
    assert "No bar" in says("none")
    assert "pull" not in says("tonight").replace("pulling", "")


def test_bare_sets_belong_to_the_exercise_in_hand(says: Talker) -> None:
    says("next wide pinch")
    assert "Wide pinch: 4 × 15 kg" in says("4x15 ok")


def test_bare_sets_without_an_exercise_are_asked_about(says: Talker) -> None:
    assert "Which exercise" in says("4x15 ok")
    assert "half crimp 4x15 ok" in says.buttons
    assert not says.athlete.logs


def test_sides_of_an_exercise_without_sides_are_refused(says: Talker) -> None:
    says("next wide pull")
    assert "no left and right" in says("L 8 R 7 ok")
    assert not says.athlete.logs


def test_left_and_right_go_their_own_ways(says: Talker) -> None:
    text = says("crimp L 4x22.5kg ok R 4x20.5kg hard")
    assert "left 4 × 22.5 kg × 10 s ok; right 4 × 20.5 kg × 10 s hard" in text
    assert "left: 4 × 10 s at 23 kg" in text
    assert "right: 4 × 10 s at 20.5 kg" in text


def test_a_log_without_effort_is_asked_how_it_was(says: Talker) -> None:
    assert "How was it?" in says("crimp 4x22.5kg")
    assert "fix crimp 4x22.5kg ok" in says.buttons
    assert "23 kg" in says("fix crimp 4x22.5kg ok")


def test_a_band_is_its_help_and_an_unknown_one_is_asked_for(says: Talker) -> None:
    assert "How much does the green band take off" in says("wide pull 3x6 green band ok")
    says("undo", "band green 12kg", "wide pull 3x6 green band ok")
    assert str(says.athlete.logs[-1].log.sets[0].load_kg) == "-12"


def test_good_clauses_stand_beside_a_misread(says: Talker) -> None:
    text = says("crimp 4x22.5kg ok; plonk 3x20")
    assert "Half crimp: 4 × 22.5 kg" in text
    assert "Not understood" in text
    assert len(says.athlete.logs) == 1


def test_finger_pain_stops_fingers_tonight_and_sends_to_somebody(says: Talker) -> None:
    text = says("pain left ring finger 4")
    assert "doctor or" in text
    assert says.athlete.pains[0].pain == PainFelt("ring finger", "left", 4, ())
    assert "Not tonight: half crimp" in says("tonight")
    assert "not to be loaded" in says("next crimp")


def test_a_pop_is_a_warning_sign(says: Talker) -> None:
    text = says("felt a pop in my finger")
    assert "warning sign" in text
    assert "see a doctor or physiotherapist" in text


def test_too_young_for_finger_loads(says: Talker) -> None:
    assert "no finger-strength loading at all" in says("age 15")
    assert "Morrison" in says("tonight")


@pytest.mark.parametrize(
    ("reply", "holds"),
    [
        ("pause 2 weeks", lambda a: a.pause[1] == Paused(a.pause[1].until, "rest")),
        ("sick", lambda a: a.pause[1] == Paused(None, "sick")),
        ("not tonight", lambda a: a.dropped == (NOON.date(),)),
        ("20 min", lambda a: [m[:2] for m in a.limited] == [(NOON.date(), 20)]),
        ("wall days sat sun", lambda a: a.plan.wall_days == ("sat", "sun")),
        ("deload", lambda a: a.deloads == (NOON.date(),)),
        ("quiet 21:00-08:00", lambda a: a.quiet == ("21:00", "08:00")),
        ("remind 45 min before", lambda a: a.remind_min == 45),
        ("no green band", lambda a: a.kit.bands == ()),
    ],
)
def test_changes_are_noted_and_can_be_undone(
    says: Talker, reply: str, holds: Callable[[Athlete], bool]
) -> None:
    says("evenings tue thu 20:30 60 min")
    before = says.athlete
    says(reply)
    assert holds(says.athlete)
    assert "Undone" in says("undo")
    assert says.athlete == before or reply == "no green band"


def test_move_takes_the_next_planned_evening(says: Talker) -> None:
    text = says("evenings tue thu 20:30 60 min", "move to tomorrow")
    assert "Wed 2 Dec at 20:30" in text
    moved = [e.fact for e in says.loaded.entries if isinstance(e.fact, EveningMoved)]
    assert moved == [EveningMoved(NOON.date(), "2026-12-02T20:30")]


def test_undo_walks_back_and_fix_keeps_its_day(says: Talker) -> None:
    says("crimp 4x22.5kg ok")
    says.now += timedelta(days=2)
    says("wide pinch 4x15kg ok", "fix crimp 4x20.5kg hard")
    assert [(d.day.day, d.log.exercise) for d in says.athlete.logs] == [
        (1, "half-crimp"),
        (3, "wide-pinch"),
    ]
    says("undo")
    assert [str(d.log.sets[0].load_kg) for d in says.athlete.logs] == ["22.5", "15"]
    says("undo")
    assert [d.log.exercise for d in says.athlete.logs] == ["half-crimp"]


def test_same_repeats_the_last_log(says: Talker) -> None:
    says("crimp 2x22.5kg ok", "same")
    assert [len(d.log.sets) for d in says.athlete.logs] == [2, 2]


def test_done_without_a_begun_evening_counts_nothing(says: Talker) -> None:
    assert "I count nothing" in says("done")
    assert not says.athlete.logs


def test_done_counts_what_is_left_as_asked(says: Talker) -> None:
    says("evenings tue thu 20:30 30 min", "start", "ok", "done")
    tonight = {d.log.exercise for d in says.athlete.logs}
    assert "half-crimp" in tonight
    assert sum(len(d.log.sets) for d in says.athlete.logs if d.log.exercise == "half-crimp") == 4


def test_text_that_holds_nothing_and_privacy_are_answered(says: Talker) -> None:
    assert "text only" in says("  ")
    assert "database" in says("/privacy")


def test_pounds_are_spoken_back_in_pounds(says: Talker) -> None:
    says("units lb", "plates 2x25 2x10 4x5 2x2.5 2x1.25", "pin 5")
    text = says("crimp 4x45 ok")
    assert "4 × 45 lb" in text
    assert "at 46.25 lb" in text or "at 47.5 lb" in text
