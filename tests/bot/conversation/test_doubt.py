"""Typing slips in the talk: kept as typed, asked about, and without effect until "yes"."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from bot.conversation.step import hear
from bot.conversation.talk import talk_as_text
from bot.conversation.turn import Outcome
from bot.ports import LONGEST_REPLY, Chat, Loaded
from core.facts import LogConfirmed, Logged
from core.progression import next_targets

NOON = datetime(2026, 12, 1, 11, 0, tzinfo=UTC)


class Talker:
    """One athlete in one chat, a minute between replies."""

    def __init__(self) -> None:
        self.loaded = Loaded(1, Chat("terminal", 1), (), "")
        self.now = NOON
        self.outcome: Outcome | None = None

    def __call__(self, *texts: str) -> str:
        """Type, one after the other; all that was said to the last one."""
        for text in texts:
            self.now += timedelta(minutes=1)
            self.outcome = hear(self.loaded, text, pressed=False, now=self.now)
            entries = (*self.loaded.entries, *self.outcome.entries)
            talk = talk_as_text(self.outcome.talk)
            self.loaded = Loaded(1, self.loaded.chat, entries, talk)
        assert self.outcome is not None
        return "\n".join(m.text for m in self.outcome.messages)

    def later(self, days: int) -> None:
        self.now += timedelta(days=days)

    @property
    def buttons(self) -> list[str]:
        assert self.outcome is not None
        return [b.send for m in self.outcome.messages for b in m.buttons]

    @property
    def load_kg(self) -> Decimal | None:
        """The next load of the left hand's crimp."""
        assert self.outcome is not None
        today = self.now.date()
        return next_targets(self.outcome.athlete, "half-crimp", today=today)[0].load_kg


@pytest.fixture
def says() -> Talker:
    """Plates for every half kilogram to 40 kg, and four sessions of crimps at 22 kg."""
    talker = Talker()
    talker("plates 2x10 2x5 2x2.5 4x1.25 2x0.5", "pin 1kg", "bw 71")
    for _ in range(4):
        talker("crimp 4x22kg hard")
        talker.later(3)
    return talker


def test_a_slip_is_read_back_asked_about_and_kept(says: Talker) -> None:
    answer = says("crimp 4x220kg ok")
    assert "Half crimp: 4 × 220 kg × 10 s a hand ok." in answer
    assert "220 kg? The last was 22 kg, on Thu 10 Dec." in answer
    assert "Next time" not in answer
    assert says.buttons == ["fix crimp 4x22kg ok", "yes"]
    newest = says.loaded.entries[-1].fact
    assert isinstance(newest, Logged)
    assert newest.sets[0].load_kg == 220


def test_a_slip_moves_no_target(says: Talker) -> None:
    before = says.load_kg
    says("crimp 4x220kg easy")
    assert says.load_kg == before == 22


def test_the_offered_fix_puts_it_right(says: Talker) -> None:
    says("crimp 4x220kg hard")
    answer = says(says.buttons[0])
    assert "instead of 4 × 220 kg" in answer
    assert "Next time, the same again" in answer


def test_yes_lets_it_count_and_undo_takes_the_yes_back(says: Talker) -> None:
    says("crimp 4x36kg hard")
    answer = says("Yes!")
    assert "It counts: half crimp with 36 kg." in answer
    # By hand: it counts, and no month may rise by more than a tenth: 24.2 kg, made as 24.
    assert "at 24 kg" in answer
    assert says.loaded.entries[-1].fact == LogConfirmed(says.loaded.entries[-2].number)
    says("undo")
    assert says.load_kg == 22
    assert "It counts" in says("yes")


def test_yes_to_a_log_without_effort_asks_how_it_was(says: Talker) -> None:
    assert "How was it" not in says("crimp 4x36kg")
    assert "How was it" in says("yes")
    assert says.buttons[0] == "fix crimp 4x36kg easy"


def test_a_fix_of_what_was_confirmed_is_not_asked_about_again(says: Talker) -> None:
    says("crimp 4x36kg", "yes")
    answer = says("fix crimp 4x36kg hard")
    assert "36 kg?" not in answer
    assert says.load_kg == 24  # as above
    says("undo")
    assert says.load_kg == 24
    assert "290 kg? The last was 22 kg" in says("fix crimp 4x290kg hard")


@pytest.mark.parametrize("word", ["yes", "it is right"])
def test_yes_to_nothing_is_not_understood(says: Talker, word: str) -> None:
    entries = says.loaded.entries
    assert "Not understood" in says(word)
    assert says.loaded.entries == entries


def test_yes_after_the_slip_was_fixed_is_not_understood(says: Talker) -> None:
    says("crimp 4x220kg ok", "fix crimp 4x22kg ok")
    assert "Not understood" in says("yes")


def test_pounds_typed_as_kilograms_are_offered_as_pounds(says: Talker) -> None:
    says("crimp 4x48.5 ok")
    assert says.buttons[0] == "fix crimp 4x48.5lb ok"


def test_bare_sets_of_the_exercise_in_hand_get_its_name(says: Talker) -> None:
    says("next crimp", "4x220kg ok")
    assert says.buttons[0] == "fix half crimp 4x220kg ok".replace("220", "22")


def test_one_wrong_side_is_put_right_alone(says: Talker) -> None:
    answer = says("crimp L 4x220kg R 4x22kg ok")
    assert "220 kg? The last was 22 kg" in answer
    assert says.buttons[0] == "fix crimp L 4x22kg R 4x22kg ok"


def test_a_reply_of_several_clauses_is_offered_its_wrong_one_only(says: Talker) -> None:
    says("wide pinch 4x12kg ok; crimp 4x220kg ok")
    assert says.buttons[0].startswith("fix half crimp ")
    assert "22kg" in says.buttons[0]
    assert "pinch" not in says.buttons[0]
    assert all(len(b.encode()) <= LONGEST_REPLY for b in says.buttons)


def test_seconds_far_from_all_before_are_asked_about(says: Talker) -> None:
    answer = says("crimp 4x100sx22kg ok")
    assert "22 kg for 100 s? The last was 22 kg for 10 s" in answer
    assert says.buttons == ["yes"]


def test_more_than_all_plates_is_asked_about_at_the_first_log() -> None:
    talker = Talker()
    talker("plates 2x10 2x5", "pin 1kg")
    answer = talker("crimp 4x180kg ok")
    # By hand: 2 x 10 + 2 x 5 + 1 = 31 kg.
    assert "180 kg? Your pin and plates are 31 kg in all." in answer
    assert "Your plates make" not in answer
    assert talker.buttons[0] == "fix crimp 4x18kg ok"
    assert talker.load_kg is not None
    assert talker.load_kg < 31


def test_sets_of_a_guided_evening_go_on_while_a_slip_is_asked_about(says: Talker) -> None:
    says("start")
    answer = says("crimp 220kg ok")
    assert "Still to do: 3 of 4 a hand." in answer
    assert answer.index("Rest") < answer.index("220 kg?")
    assert says.buttons[-1] == "yes"
