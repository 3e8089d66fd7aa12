"""Every reason a review can give has words, and the words use its facts."""

from datetime import date
from decimal import Decimal

import pytest

from bot.wording.review import (
    LIMIT_TEMPLATES,
    SUGGESTION_TEMPLATES,
    kept_text,
    limit_text,
    suggestion_text,
)
from core.progression.rules import Rule
from core.review import LIMITS, SUGGESTIONS, Adherence
from core.target import Reason, Value, because

WORDS: dict[str, Value] = {
    "place": "left ring finger",
    "exercise": "half-crimp",
    "owned": "plates",
    "weekday": "thu",
    "weaker": "left",
    "since": date(2026, 12, 1),
    "until": date(2026, 12, 7),
}
CASES = [(limit_text, name, rule) for name, rule in LIMITS.items()]
CASES += [(suggestion_text, name, rule) for name, rule in SUGGESTIONS.items()]


def reason(name: str, rule: Rule, *, full: bool) -> Reason:
    names = rule.facts + (rule.may if full else ())
    facts = {n: WORDS.get(n, Decimal("22.5") if n.endswith("_kg") else 3) for n in names}
    return because(name, **facts)


def test_every_rule_has_words_and_no_words_lack_a_rule() -> None:
    assert set(LIMIT_TEMPLATES) == set(LIMITS)
    assert set(SUGGESTION_TEMPLATES) == set(SUGGESTIONS)
    assert len(CASES) > 15


@pytest.mark.parametrize("full", [False, True], ids=["must", "may"])
@pytest.mark.parametrize("case", CASES, ids=[f"{c[0].__name__}-{c[1]}" for c in CASES])
def test_words_read_well_with_least_and_most_facts(case: tuple, full: bool) -> None:  # type: ignore[type-arg]
    words, name, rule = case
    told = reason(name, rule, full=full)
    text = words(told, "kg")
    assert text
    for blot in ("{", "None", "  ", " ,", " :", " ."):
        assert blot not in text
    # Every number among the facts can be traced in the words.
    for fact, value in told.facts:
        if fact in ("days", "missed", "planned", "held", "of", "weeks", "percent") and not (
            name == "evenings-missed" and fact == "planned"
        ):
            assert str(value) in text


def test_the_words_of_some_reasons() -> None:
    assert limit_text(because("evenings-missed", missed=1, planned=8), "kg") == "1 evening missed"
    assert limit_text(because("pain-felt", place="", days=2), "kg") == "pain on 2 days"
    buy = because(
        "buy-plates",
        plate_kg=Decimal("1.25"),
        exercise="half-crimp",
        step_kg=Decimal(5),
        next_step_kg=Decimal("2.5"),
    )
    assert suggestion_text(buy, "kg") == (
        "a pair of 1.25 kg plates would help most: half crimp could step by 2.5 kg, now by 5 kg."
    )
    # By hand: 11.339809 kg is 25 lb.
    heavy = because("heavier-plates", exercise="half-crimp", load_kg=Decimal("11.33980925"))
    assert "nothing above 25 lb can be made" in suggestion_text(heavy, "lb")
    assert "Thursdays were missed" in suggestion_text(
        because("other-day", weekday="thu", missed=3, of=4), "kg"
    )


@pytest.mark.parametrize("rule", ["see-professional", "pain-again", "stay-light"])
def test_pain_always_points_to_a_professional(rule: str) -> None:
    text = suggestion_text(because(rule, place="elbow", days=2), "kg")
    assert "doctor or physiotherapist" in text


def test_the_line_of_evenings() -> None:
    day = date(2026, 12, 1)
    assert kept_text(Adherence((day,) * 6, (day,), (day,), (), (day,), 2)) == (
        "6 of 7 evenings held, 1 more on other days, 1 left for the wall, 2 visits to the wall"
    )
    assert kept_text(Adherence((), (), (), (), (day,), 0)) == "1 evening at home"
