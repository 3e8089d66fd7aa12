"""First targets."""

from decimal import Decimal

import pytest


def test_a_stated_start_is_taken_at_the_greatest_load_not_above_it(diary, kit, rules) -> None:
    begun = diary().has(kit=kit("2x10", "1x5", pin="1.25")).starts("half-crimp", "20")
    target = begun.next(0)
    assert (target.change, target.load_kg) == ("first", Decimal("16.25"))
    assert rules(target)[0] == "start-stated"


def test_a_stated_start_is_for_the_side_it_was_stated_for(diary) -> None:
    from core.progression import next_targets

    one = diary().starts("half-crimp", "20").starts("half-crimp", "18", "right")
    left, right = next_targets(one.athlete, "half-crimp", today=one.on(0))
    assert (left.load_kg, right.load_kg) == (20, 18)


def test_without_a_start_a_quarter_of_body_weight_begins_a_ramp(diary, rules) -> None:
    # 70 / 4 = 17.5
    target = diary().next(0)
    assert (target.change, target.load_kg, target.sets) == ("first", Decimal("17.5"), 4)
    assert rules(target) == ["ramp"]


@pytest.mark.parametrize("exercise", ["wide-pinch", "narrow-pinch", "rolling-handle"])
def test_wide_grips_begin_with_an_eighth_of_body_weight_or_five_kilograms(diary, exercise) -> None:
    # 70 / 8 = 8.75
    target = diary().next(0, exercise)
    assert (target.load_kg, target.reasons[0].get("part")) == (Decimal("8.5"), "an eighth")
    assert diary().has(body_kg=None).next(0, exercise).load_kg == 5


def test_without_a_body_weight_ten_kilograms_begin_a_ramp(diary) -> None:
    assert diary().has(body_kg=None).next(0).load_kg == 10


def test_where_all_loads_are_heavier_the_lightest_begins(diary, kit, rules) -> None:
    target = diary().has(kit=kit("2x20", "1x25")).next(0)
    assert (target.change, target.load_kg) == ("first", 20)
    assert rules(target) == ["ramp", "lightest-load"]


def test_without_plates_the_ramp_names_a_load_and_asks_for_plates(diary, kit, rules) -> None:
    target = diary().has(kit=kit()).next(0)
    assert (target.load_kg, target.plates_kg, target.pin_kg) == (Decimal("17.5"), (), None)
    assert rules(target) == ["ramp", "plates-unknown"]


def test_a_pin_that_may_carry_nothing_stops_the_exercise(diary, kit, rules) -> None:
    target = diary().has(kit=kit("1x5", pin="3", pin_limit_kg=Decimal(2))).next(0)
    assert (target.change, target.sets, target.load_kg) == ("stopped", 0, None)
    assert rules(target)[-1] == "pin-limit"


def test_a_start_of_nothing_is_no_load(diary, kit, rules) -> None:
    target = diary().has(kit=kit()).starts("half-crimp", "0").next(0)
    assert (target.change, rules(target)[-1]) == ("stopped", "nothing-to-load")


def test_pull_ups_begin_with_the_most_help(diary, bands, rules) -> None:
    from dataclasses import replace

    one = diary()
    one.has(kit=replace(one.athlete.kit, bands=bands))
    target = one.next(0, "pull-up")
    assert (target.change, target.load_kg, target.band, target.reps) == ("first", -12, "green", 6)
    assert rules(target) == ["ramp-help"]


def test_without_bands_pull_ups_begin_with_body_weight(diary, rules) -> None:
    target = diary().next(0, "pull-up")
    assert (target.load_kg, target.reps, rules(target)) == (0, 6, ["body-first"])


def test_a_ladder_begins_at_its_foot(diary, rules) -> None:
    target = diary().next(0, "l-sit")
    assert (target.change, target.variation, target.hold_s) == ("first", "knees bent", 15)
    assert rules(target) == ["ladder-foot"]
