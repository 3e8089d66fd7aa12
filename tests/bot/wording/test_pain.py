"""Words about pain say what the engine decided, and never what is wrong."""

import pytest

from bot.wording.pain import ADVICE, HANGING, age_line, pain_lines
from core.facts import PainFelt
from core.progression.soreness import gravest


@pytest.mark.parametrize(
    ("pain", "meant"),
    [
        (PainFelt("elbow", "left", 1, ()), "less"),
        (PainFelt("elbow", "left", 3, ()), "less"),
        (PainFelt("elbow", "left", 4, ()), "stop"),
        (PainFelt("elbow", None, None, ()), "stop"),
        (PainFelt("ring finger", "left", 1, ()), "stop"),
        (PainFelt("a2 pulley", None, 2, ()), "stop"),
        (PainFelt("wrist", None, 2, ()), "stop"),
        (PainFelt(None, None, 2, ()), "stop"),
        (PainFelt("knee", None, 0, ("swelling",)), "professional"),
        (PainFelt("finger", None, 1, ("night",)), "professional"),
    ],
)
def test_pain_lines_advise_what_the_engine_does(pain: PainFelt, meant: str) -> None:
    assert gravest(pain) == meant
    assert pain_lines(pain)[1] == ADVICE[meant]  # type: ignore[index]


def test_pain_lines_of_fingers_speak_of_hanging_once() -> None:
    assert HANGING in pain_lines(PainFelt("ring finger", None, 2, ()))
    for other in (PainFelt("elbow", None, 5, ()), PainFelt("finger", None, 2, ("pop",))):
        assert HANGING not in pain_lines(other)


def test_pain_lines_repeat_place_side_score_and_signs() -> None:
    assert pain_lines(PainFelt("ring finger", "left", 4, ("pop", "swelling")))[0] == (
        "Pain left ring finger 4/10 (pop, swelling)."
    )
    assert pain_lines(PainFelt(None, None, None, ()))[0] == "Pain somewhere."


def test_pain_lines_take_none_for_none() -> None:
    assert pain_lines(PainFelt(None, None, 0, ())) == ["Good: no pain noted."]


def test_advice_never_diagnoses_and_sends_on() -> None:
    for text in ADVICE.values():
        for word in ("tear", "strain", "rupture", "tendonitis", "inflam", "probably"):
            assert word not in text.lower()
    assert "doctor" in ADVICE["professional"]
    assert "doctor" in ADVICE["stop"]


def test_age_line_follows_the_limits() -> None:
    assert "no finger-strength loading at all" in age_line(15)
    assert "without a coach" in age_line(16)
    assert "without a coach" in age_line(17)
    assert age_line(18) == "Age 18."
