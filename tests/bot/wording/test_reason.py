"""Every reason the engine can give has words, and the words use its facts."""

from datetime import date
from decimal import Decimal

import pytest

from bot.wording.reason import TEMPLATES, change_text, reason_text
from core.progression.rules import RULES
from core.target import Value, because

DAYS = {"day", "since", "last", "asked", "on"}
NUMBERS = {
    "sets": 4,
    "of": 4,
    "failed": 1,
    "total": 20,
    "high": 8,
    "low": 6,
    "to": 20,
    "most": 20,
    "edge_mm": 15,
    "age": 15,
    "least": 16,
    "alone": 18,
    "free": 0,
    "needed": 2,
    "days": 24,
    "percent": 5,
    "score": 4,
}
WORDS = {
    "done": "8, 8, 8",
    "effort": "ok",
    "variation": "knees bent",
    "exercise": "three-finger-crimp",
    "band": "green",
    "site": "left ring finger",
    "signs": "pop",
    "source": "morrison_schoffl_2007",
    "part": "a quarter",
}


def fact(name: str) -> Value:
    if name in DAYS:
        return date(2026, 12, 1)
    if name in NUMBERS:
        return NUMBERS[name]
    if name in WORDS:
        return WORDS[name]
    return Decimal("22.5") if name.endswith("_kg") else 12


def test_every_rule_has_words_and_no_words_lack_a_rule() -> None:
    assert set(TEMPLATES) == set(RULES)
    assert len(RULES) > 40


@pytest.mark.parametrize("rule", sorted(RULES))
@pytest.mark.parametrize("full", [False, True], ids=["must", "may"])
def test_reason_text_reads_well_with_least_and_most_facts(rule: str, full: bool) -> None:
    names = RULES[rule].facts + (RULES[rule].may if full else ())
    text = reason_text(because(rule, **{name: fact(name) for name in names}), "kg")
    assert text
    assert "{" not in text
    assert "None" not in text
    assert "  " not in text
    assert " ," not in text


def test_reason_text_names_sets_load_and_day() -> None:
    # The program contract's own example.
    reason = because(
        "all-sets-ok", day=date(2026, 12, 1), sets=4, of=4, load_kg=Decimal(22), effort="ok"
    )
    assert reason_text(reason, "kg") == "4 of 4 sets at 22 kg were ok on Tue 1 Dec"


def test_reason_text_speaks_the_athletes_unit() -> None:
    # By hand: 45 lb x 0.45359237 = 20.41165665 kg.
    reason = because("start-stated", load_kg=Decimal("20.41165665"))
    assert "45 lb" in reason_text(reason, "lb")
    assert "20.41 kg" in reason_text(reason, "kg")


def test_every_change_has_words() -> None:
    for change in ("first", "up", "same", "down", "longer", "deload", "return", "stopped"):
        assert change_text(change)
