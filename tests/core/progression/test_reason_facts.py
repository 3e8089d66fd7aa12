"""What a reason says in numbers, where the target alone does not show it."""

from decimal import Decimal

import pytest

from core.facts import GripMass
from core.progression.short_of_time import in_less_time

OK4 = ("ok",) * 4


def test_seconds_that_come_back_are_named_with_the_ones_asked_for(diary, kit) -> None:
    coarse = diary().has(kit=kit("2x10", "1x5", "1x2.5")).held(0, "20", *OK4, hold_s=15)
    why = coarse.held(3, "22.5", *OK4, hold_s=7).next(6).reasons[-1]
    assert (why.rule, why.get("hold_s"), why.get("until_s")) == ("seconds-back", 8, 10)


@pytest.mark.parametrize(
    ("pin_kg", "handle_kg", "rule"),
    [("25", "40", "pin-limit"), ("40", "25", "handle-limit"), (None, "25", "handle-limit")],
)
def test_the_weaker_of_pin_and_handle_is_the_one_named(
    diary, kit, rules, pin_kg, handle_kg, rule
) -> None:
    weak = kit(
        "4x10",
        "1x1",
        pin_limit_kg=None if pin_kg is None else Decimal(pin_kg),
        handle_limits=(GripMass("wide-pinch", Decimal(handle_kg)),),
    )
    log = diary().has(kit=weak).held(0, "30", *OK4, exercise="wide-pinch")
    target = log.next(3, "wide-pinch")
    # Of 10, 1 and their sums the greatest not over 25 is 21.
    assert (target.load_kg, rules(target)[-1]) == (21, rule)
    assert target.reasons[-1].get("limit_kg") == 25


def test_a_harder_exercise_on_an_edge_is_named_as_an_exercise(diary, kit) -> None:
    few = diary().has(kit=kit("2x10", "1x1", "2x0.5", edges_mm=(20,)))
    few.held(0, "22", *OK4, edge_mm=20)
    few.held(3, "11", *OK4, exercise="three-finger-crimp", edge_mm=20)
    target = few.next(6)
    assert (target.exercise, target.edge_mm) == ("three-finger-crimp", 20)
    named = {reason.rule: reason.get("exercise") for reason in target.reasons}
    assert named["harder-exercise"] == "three-finger-crimp"
    assert "smaller-edge" not in named


@pytest.mark.parametrize(("sets", "by_set"), [(2, (8, 7)), (1, ())])
def test_a_short_evening_keeps_the_first_sets_as_they_are(diary, sets, by_set) -> None:
    # One more in total than 7, 7, 7.
    target = diary().repped(0, (7, 7, 7)).next(3, "pull-up")
    assert (target.sets, target.by_set) == (3, (8, 7, 7))
    short = in_less_time(target, sets, minutes=30)
    assert (short.sets, short.by_set, short.reps) == (sets, by_set, 8)
    why = short.reasons[-1]
    facts = [why.get(name) for name in ("sets", "usual", "minutes")]
    assert (why.rule, facts) == ("short-of-time", [sets, 3, 30])
    assert in_less_time(target, 3, minutes=30) == target


@pytest.mark.parametrize("effort", ["ok", "hard", None])
def test_a_session_on_a_ladder_is_told_with_the_effort_that_was_said(diary, effort) -> None:
    (why, *_) = diary().timed(0, (15,) * 3, effort).next(3, "l-sit").reasons
    said = dict(why.facts)
    assert said.get("effort") == effort
    assert ("effort" in said) is (effort is not None)
    assert (said["sets"], said["of"], said["done"]) == (3, 3, "15, 15, 15")
