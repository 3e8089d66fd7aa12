"""Values come back from their rows exactly as they went in."""

import dataclasses
import types
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.ports import Button
from bot.storage import rows
from core.facts import BodyWeighed, Fact
from core.target import Target

PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    Decimal: st.decimals(allow_nan=False, allow_infinity=False),
    str: st.text(max_size=20),
    bool: st.booleans(),
    int: st.integers(),
    date: st.dates(),
    type(None): st.none(),
}


@cache
def anything(hint: Any) -> st.SearchStrategy[Any]:
    """Values of a type hint as the engine's dataclasses use them, defaults included."""
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return st.one_of(*map(anything, arguments))
    if origin is Literal:
        return st.sampled_from(arguments)
    if origin is tuple and arguments[-1] is Ellipsis:
        return st.lists(anything(arguments[0]), max_size=3).map(tuple)
    if origin is tuple:
        return st.tuples(*map(anything, arguments))
    if dataclasses.is_dataclass(hint):
        fields = get_type_hints(hint)
        return st.builds(hint, **{name: anything(kind) for name, kind in fields.items()})
    return PLAIN[hint]


@pytest.mark.parametrize("kind", get_args(Fact))
def test_fact_json_any_fact_comes_back_equal(kind: type[Fact]) -> None:
    @given(anything(kind))
    def check(fact: Fact) -> None:
        assert rows.fact_from_json(kind.__name__, rows.fact_json(fact)) == fact

    check()


@given(st.lists(anything(Target), max_size=2).map(tuple))
def test_targets_json_any_targets_come_back_equal(targets: tuple[Target, ...]) -> None:
    again = rows.targets_from_json(rows.targets_json(targets))
    assert again == targets
    # 1 == Decimal(1): equality alone would not notice a number of another type.
    assert repr(again) == repr(targets)


@given(st.lists(anything(Button), max_size=3).map(tuple))
def test_buttons_json_any_buttons_come_back_equal(buttons: tuple[Button, ...]) -> None:
    assert rows.buttons_from_json(rows.buttons_json(buttons)) == buttons


@pytest.mark.parametrize("digits", ["22.50", "0.45359237", "1E+2", "-0.001", "70"])
def test_fact_json_decimal_keeps_every_digit(digits: str) -> None:
    fact = rows.fact_from_json("BodyWeighed", rows.fact_json(BodyWeighed(Decimal(digits))))
    assert isinstance(fact, BodyWeighed)
    assert str(fact.kg) == digits


@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0")))
def test_text_to_keep_ordinary_text_is_untouched(text: str) -> None:
    assert rows.text_to_keep(text) == text


@pytest.mark.parametrize("text", ["a\0b", "a\ud800b"])
def test_text_to_keep_unkeepable_characters_are_replaced(text: str) -> None:
    kept = rows.text_to_keep(text)
    assert kept.startswith("a\ufffd")
    assert kept.endswith("b")
    assert "\0" not in kept
    kept.encode("utf-8")
