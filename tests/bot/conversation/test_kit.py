"""The kit in the talk: what is noted, what is said back, and what to buy."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from bot.conversation.step import hear
from bot.conversation.talk import talk_as_text
from bot.ports import Chat, Loaded
from bot.storage.rows import fact_from_json
from core.athlete import Athlete
from core.facts import BandOwned, KitChanged, PlateCount, PulleyOwned
from core.progression import next_targets

NOON = datetime(2026, 12, 1, 11, 0, tzinfo=UTC)


class Talker:
    """One athlete in one chat, a minute between replies."""

    def __init__(self, *texts: str) -> None:
        self.loaded = Loaded(1, Chat("terminal", 1), (), "")
        self.now = NOON
        self.athlete = Athlete()
        self(*texts)

    def __call__(self, *texts: str) -> str:
        said = ""
        for text in texts:
            self.now += timedelta(minutes=1)
            outcome = hear(self.loaded, text, pressed=False, now=self.now)
            entries = (*self.loaded.entries, *outcome.entries)
            self.loaded = Loaded(1, self.loaded.chat, entries, talk_as_text(outcome.talk))
            self.athlete = outcome.athlete
            said = "\n".join(m.text for m in outcome.messages)
        return said


@pytest.fixture
def says() -> Talker:
    return Talker("zone Europe/Oslo", "plates 2x10 2x5 2x1.25", "pin 1.2kg", "bw 70")


KitIs = Callable[[Athlete], bool]


@pytest.mark.parametrize(
    ("text", "said", "holds"),
    [
        # By hand: 1.2 + 0.8 = 2 kg.
        ("handle wide pinch 0.8kg", "weigh 2 kg", lambda a: a.kit.base_kg("wide-pinch") == 2),
        ("handle edge 0.8kg", "grips on an edge", lambda a: a.kit.base_kg("open-hand") == 2),
        ("pin roller 3kg", "Pin of rolling", lambda a: a.kit.base_kg("rolling-handle") == 3),
        ("pin limit roller 60kg", "60 kg", lambda a: a.kit.limit_kg("rolling-handle") == 60),
        ("handle limit crimp 40kg", "40 kg", lambda a: a.kit.limit_kg("half-crimp") == 40),
        ("belt 0.6kg", "Belt 0.6 kg", lambda a: a.kit.belt_kg == Decimal("0.6")),
        (
            "pulley 20kg takes 18kg",
            "carries you and the counterweight",
            lambda a: a.kit.pulley == PulleyOwned(Decimal(20), Decimal(18)),
        ),
        # By hand: 70 - 58 = 12 kg; (14 + 8) / 2 = 11 kg.
        ("band green scale 58kg", "12 kg of help", lambda a: a.kit.bands[0].help_kg == 12),
        (
            "band green 14kg bottom 8kg top",
            "11 kg of help",
            lambda a: a.kit.bands[0] == BandOwned("green", Decimal(11), Decimal(14), Decimal(8)),
        ),
        ("band red+green 25kg", "Green + red bands: 25", lambda a: len(a.kit.bands) == 1),
        ("plates 2x10kg 2x5lb", "Plates 2x10kg 2x5lb.", lambda a: len(a.kit.plates) == 2),
    ],
)
def test_a_part_of_the_kit_is_noted_and_read_back(
    says: Talker, text: str, said: str, holds: KitIs
) -> None:
    assert said in says(text)
    assert holds(says.athlete)


def test_a_pulley_goes_and_its_owner_may_undo_that(says: Talker) -> None:
    assert "No pulley" in says("pulley 20kg takes 18kg", "no pulley")
    assert says.athlete.kit.pulley is None
    says("undo")
    assert says.athlete.kit.pulley is not None


def test_a_scale_says_nothing_without_a_body_weight() -> None:
    fresh = Talker("zone Europe/Oslo", "plates 2x10")
    answer = fresh("band green scale 58kg")
    assert "bw 71.4" in answer
    assert "band green scale 58kg" in answer
    assert fresh.athlete.kit.bands == ()


def test_a_scale_that_shows_more_than_the_body_is_asked_about(says: Talker) -> None:
    assert "Not noted" in says("band green scale 70kg")
    assert says.athlete.kit.bands == ()


def test_two_bands_in_a_log_help_by_their_sum_or_as_measured(says: Talker) -> None:
    says("band green 12kg", "band red 8kg", "pull up 3x6 red+green band ok")
    assert {s.load_kg for s in says.athlete.logs[-1].log.sets} == {Decimal(-20)}
    says("band red+green 18kg", "pull up 3x6 green + red bands ok")
    assert {s.load_kg for s in says.athlete.logs[-1].log.sets} == {Decimal(-18)}


def test_plates_are_shown_in_the_unit_they_were_told_in(says: Talker) -> None:
    says("plates 2x10kg 2x5lb", "start crimp 14kg")
    # By hand: 1.2 + 10 + 5 x 0.45359237 = 13.468 kg.
    answer = says("next crimp")
    assert "13.47 kg" in answer
    assert "10 kg + 5 lb on the 1.2 kg pin" in answer
    says("crimp 4x13.47kg ok")
    exact = Decimal("11.2") + 5 * Decimal("0.45359237")
    assert {s.load_kg for s in says.athlete.logs[-1].log.sets} == {exact}


def test_a_counterweight_and_a_belt_are_said(says: Talker) -> None:
    says("pulley 20kg takes 20kg", "belt 0.6kg")
    # By hand: a quarter of 70 kg is 17.5; 10 + 5 + 1.25 + 1.25 take it off.
    assert "10 + 5 + 1.25 + 1.25 on the pulley" in says("next pull up")
    answer = says("pull up 3x8 +1.85kg easy")
    # By hand: 0.6 + 1.25 = 1.85 kg; the next is 0.6 + 2.5 = 3.1 kg.
    assert "1.25 + 1.25 on the 0.6 kg belt" in answer


@pytest.mark.parametrize(
    ("limit", "part"), [("pin limit 20kg", "the pin"), ("handle limit crimp 20kg", "the handle")]
)
def test_more_than_pin_or_handle_may_carry_is_refused_with_what_they_may(
    says: Talker, limit: str, part: str
) -> None:
    says(limit)
    # By hand: 1.2 + 10 + 5 + 1.25 + 1.25 = 18.7 kg is the most up to 20 kg.
    for text in ("start crimp 25kg", "crimp 4x25kg ok"):
        answer = says(text)
        assert f"25 kg is more than {part} of half crimp may carry: 20 kg" in answer
        assert "18.7 kg at most" in answer
    for target in next_targets(says.athlete, "half-crimp", today=NOON.date() + timedelta(3)):
        assert target.load_kg is not None
        assert target.load_kg <= 20
        assert f"{part.removeprefix('the ')}-limit" in [r.rule for r in target.reasons]


def test_the_kit_ends_with_the_one_thing_to_buy() -> None:
    coarse = Talker("zone Europe/Oslo", "plates 1x20 1x10", "pin 2kg", "crimp 4x22kg ok")
    # By hand: from 22 the next is 2 + 30 = 32 kg, 45 % more; with 1.25 kg it is 23.25, 5.7 %.
    answer = coarse("kit")
    assert "One thing to buy: a pair of 1.25 kg plates." in answer
    assert "Half crimp could then rise 6 % at its next step instead of 45 %." in answer
    assert "buy" not in coarse("plates + 2x2kg 2x1kg 2x0.5kg", "kit")


def test_facts_of_an_older_version_still_load() -> None:
    """JSON as it was written before grips had pins and handles of their own."""
    body = (
        '{"plates":[{"kg":"10","count":2}],"pin_kg":"1.2","band":{"name":"green","help_kg":"12"}}'
    )
    assert fact_from_json("KitChanged", body) == KitChanged(
        plates=(PlateCount(Decimal(10), 2),),
        pin_kg=Decimal("1.2"),
        band=BandOwned("green", Decimal(12)),
    )
    assert fact_from_json("KitChanged", '{"drop_band":"green"}').drop_pulley is False
