"""Loaded holds, one test per rule. Loads by hand on plates that make every half kilogram."""

from decimal import Decimal

import pytest

from core.facts import SetDone

OK4 = ("ok",) * 4


def test_every_set_easy_goes_up_two_steps_within_five_percent(diary, rules) -> None:
    # 22 -> 23 is 4.5 %; three steps would be 6.8 %.
    target = diary().held(0, "22", *("easy",) * 4).next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("up", 23, 10)
    # The first four sessions find the level: more may be added within the session.
    assert rules(target) == ["all-sets-easy", "two-steps", "ramp-on"]
    found = diary()
    for day in (0, 3, 6, 9):
        found.held(day, "22", *("easy",) * 4)
    assert rules(found.next(12)) == ["all-sets-easy", "two-steps"]


def test_every_set_easy_goes_up_one_step_where_two_are_over_five_percent(diary) -> None:
    # 18 -> 19 is 5.6 %, 18.5 is 2.8 %.
    assert diary().held(0, "18", *("easy",) * 4).next(3).load_kg == Decimal("18.5")


def test_every_set_ok_goes_up_one_step_and_says_from_which_sets(diary) -> None:
    target = diary().held(0, "22", *OK4).next(3)
    assert (target.change, target.load_kg) == ("up", Decimal("22.5"))
    said = target.reasons[0]
    facts = {"sets": 4, "of": 4, "load_kg": 22, "effort": "ok", "day": diary().on(0)}
    assert said.rule == "all-sets-ok"
    assert {name: said.get(name) for name in facts} == facts


@pytest.mark.parametrize("effort", ["hard", "limit"])
def test_done_but_hard_or_at_the_limit_is_the_same_again(diary, effort) -> None:
    target = diary().held(0, "22", "ok", "ok", "ok", effort).next(3)
    assert (target.change, target.load_kg) == ("same", 22)


def test_the_hardest_effort_said_counts_for_all_sets(diary) -> None:
    assert diary().held(0, "22", "easy", "easy", "easy", "ok").next(3).load_kg == Decimal("22.5")
    assert diary().held(0, "22", "-", "-", "-", "easy").next(3).load_kg == 23


def test_one_late_failure_is_the_same_again(diary, rules) -> None:
    target = diary().held(0, "22", "ok", "ok", "hard", ("fail", 8)).next(3)
    assert (target.change, target.load_kg) == ("same", 22)
    assert rules(target) == ["one-late-fail"]


def test_a_second_late_failure_running_goes_down_at_least_two_and_a_half_percent(diary) -> None:
    # 22 x 0.975 = 21.45 -> 21
    sets = ("ok", "ok", "hard", ("fail", 9))
    target = diary().held(0, "22", *sets).held(3, "22", *sets).next(6)
    assert (target.change, target.load_kg) == ("down", 21)
    assert target.reasons[0].get("since") == diary().on(0)


def test_two_failures_go_down_at_least_five_percent(diary) -> None:
    # 22 x 0.95 = 20.9 -> 20.5
    target = diary().held(0, "22", "ok", "ok", ("fail", 9), ("fail", 8)).next(3)
    assert (target.change, target.load_kg) == ("down", Decimal("20.5"))


def test_an_early_failure_goes_down_at_least_five_percent(diary, rules) -> None:
    target = diary().held(0, "22", "ok", "ok", "hard", ("fail", 7)).next(3)
    assert (target.change, target.load_kg) == ("down", Decimal("20.5"))
    assert rules(target)[0] == "early-fail"


def test_a_failure_without_a_time_counts_as_late(diary) -> None:
    assert diary().held(0, "22", "ok", "ok", "hard", "fail").next(3).change == "same"


def test_fewer_sets_than_asked_are_the_same_again(diary, rules) -> None:
    target = diary().held(0, "22", "easy", "easy", "easy").next(3)
    assert (target.change, target.load_kg, target.sets) == ("same", 22, 4)
    assert rules(target) == ["sets-missing"]
    assert (target.reasons[0].get("sets"), target.reasons[0].get("of")) == (3, 4)


def test_a_session_without_any_effort_is_the_same_again(diary, rules) -> None:
    target = diary().held(0, "22", "-", "-", "-", "-").next(3)
    assert (target.change, target.load_kg) == ("same", 22)
    assert rules(target) == ["no-effort"]


def test_sets_ended_early_without_failing_are_the_same_again(diary, rules) -> None:
    target = diary().held(0, "22", *(("ok", 8),) * 4).next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("same", 22, 10)
    assert rules(target) == ["held-shorter"]


def test_a_ramp_speaks_for_the_heaviest_load_that_was_not_hard(diary, rules) -> None:
    ramp = diary()
    for load, effort in (("16", "easy"), ("18", "easy"), ("20", "ok"), ("22", "hard")):
        ramp.held(0, load, effort)
    target = ramp.next(3)
    assert (target.change, target.load_kg, target.sets) == ("same", 20, 4)
    assert rules(target) == ["loads-differed"]


def test_a_failure_above_the_load_that_was_found_is_not_held_against_it(diary) -> None:
    ramp = diary().held(0, "20", "ok", "ok", "ok").held(0, "24", ("fail", 3))
    assert ramp.next(3).load_kg == 20


def test_a_ramp_that_stayed_easy_goes_on_from_its_top(diary) -> None:
    ramp = diary()
    for load in ("16", "18", "20", "22"):
        ramp.held(0, load, "easy")
    assert ramp.next(3).load_kg == 23


def test_a_logged_load_that_the_plates_do_not_make_is_accepted(diary) -> None:
    assert diary().held(0, "22.3", *OK4).next(3).load_kg == Decimal("22.5")
    hard = diary().held(0, "22.3", *("hard",) * 4).next(3)
    assert (hard.change, hard.load_kg) == ("down", 22)
    assert hard.reasons[-1].rule == "not-makeable"


def test_each_hand_has_a_target_of_its_own(diary) -> None:
    from core.progression import next_targets

    one = diary()
    sets = [SetDone("left", Decimal(22), hold_s=10, effort="ok")] * 4
    sets += [SetDone("right", Decimal(24), hold_s=10, effort="hard")] * 4
    one.log(0, "half-crimp", sets)
    left, right = next_targets(one.athlete, "half-crimp", today=one.on(3))
    assert (left.side, left.load_kg) == ("left", Decimal("22.5"))
    assert (right.side, right.load_kg) == ("right", 24)


# --- steps that are too big -----------------------------------------------------------------


def test_a_step_over_five_percent_is_bridged_by_seconds_then_taken_at_a_shorter_hold(
    diary, kit
) -> None:
    """20 -> 22.5 kg is 12.5 %. Independent: Rohmert-type curve (Hincapie-Ramos 2014).

    7 s take 99.8 % of the maximum (published inverse); 22.5 kg is that of a maximum of
    22.55 kg, of which 20 kg is 88.7 %, held for 14.2 s: 15 s in whole seconds.
    """
    coarse = diary().has(kit=kit("2x10", "1x5", "1x2.5"))
    seen = []
    day = 0
    target = coarse.held(day, "20", *OK4).next(day)
    while target.change == "longer":
        seen.append((target.load_kg, target.hold_s))
        day += 3
        coarse.held(day, str(target.load_kg), *OK4, hold_s=target.hold_s)
        target = coarse.next(day)
        if len(seen) == 3:
            break
    assert seen == [(20, 11), (20, 12), (20, 13)]
    ready = diary().has(kit=kit("2x10", "1x5", "1x2.5")).held(0, "20", *OK4, hold_s=14)
    assert (ready.next(3).change, ready.next(3).hold_s) == ("longer", 15)
    step = diary().has(kit=kit("2x10", "1x5", "1x2.5")).held(0, "20", *OK4, hold_s=15).next(3)
    assert (step.change, step.load_kg, step.hold_s) == ("up", Decimal("22.5"), 7)
    assert step.reasons[-1].rule == "step-bridged"


def test_no_step_is_taken_at_a_hold_under_five_seconds(diary, kit) -> None:
    # Repeated lifts are held for 7 s: 7 - 3 = 4 s would be too short.
    log = diary().has(kit=kit("2x10", "1x1.5"))
    sets = [SetDone("left", Decimal(20), reps=6, hold_s=12, effort="ok")] * 3
    target = log.log(0, "repeaters", sets).next(3, "repeaters")
    assert (target.change, target.load_kg, target.hold_s) == ("up", Decimal("21.5"), 5)


@pytest.mark.parametrize(
    ("said", "load"),
    [({"rpe": Decimal(8)}, "22.5"), ({"rpe": Decimal(9)}, "22"), ({"left": 3}, "23")],
)
def test_ratings_and_seconds_left_count_like_the_words(diary, said, load) -> None:
    sets = [SetDone("left", Decimal(22), hold_s=10, **said)] * 4
    assert diary().log(0, "half-crimp", sets).next(3).load_kg == Decimal(load)


def test_after_a_bridged_step_the_seconds_come_back_before_the_next_one(diary, kit) -> None:
    coarse = diary().has(kit=kit("2x10", "1x5", "1x2.5")).held(0, "20", *OK4, hold_s=15)
    target = coarse.held(3, "22.5", *("easy",) * 4, hold_s=7).next(6)
    assert (target.change, target.load_kg, target.hold_s) == ("longer", Decimal("22.5"), 8)
    assert target.reasons[-1].rule == "seconds-back"


def test_a_step_that_seconds_cannot_bridge_asks_for_smaller_plates(diary, kit) -> None:
    # 10 -> 20 kg is double: no hold of up to 30 s speaks for it.
    coarse = diary().has(kit=kit("2x10")).held(0, "10", *OK4, hold_s=30)
    target = coarse.next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("same", 10, 30)
    assert [r.rule for r in target.reasons[-2:]] == ["smaller-plates", "kept"]


# --- no plate left ---------------------------------------------------------------------------


def test_without_a_plate_left_the_next_smaller_edge_starts_at_half_the_load(
    diary, kit, rules
) -> None:
    few = diary().has(kit=kit("2x10", "1x1", edges_mm=(20, 15, 10)))
    target = few.held(0, "21", *OK4, edge_mm=20).next(3)
    assert (target.change, target.exercise, target.edge_mm) == (
        "harder-variation",
        "half-crimp",
        15,
    )
    # Half of 21 is 10.5; the plates make 10.
    assert (target.load_kg, target.hold_s) == (10, 10)
    assert rules(target) == ["all-sets-ok", "no-plate-left", "smaller-edge", "half-load"]


def test_logs_that_name_no_edge_do_not_stand_for_the_smaller_one(diary, kit) -> None:
    few = diary().has(kit=kit("2x10", "1x1", edges_mm=(20, 15))).held(0, "21", *OK4)
    target = few.next(3)
    assert (target.change, target.edge_mm, target.load_kg) == ("harder-variation", 15, 10)
    few.held(3, "10", *OK4, edge_mm=15)
    begun = few.next(6)
    assert (begun.edge_mm, begun.change, begun.hold_s) == (15, "longer", 11)


def test_without_a_smaller_edge_the_harder_exercise_follows(diary, kit) -> None:
    few = diary().has(kit=kit("2x10", "1x1", edges_mm=(20,)))
    target = few.held(0, "21", *OK4, edge_mm=20).next(3)
    assert (target.change, target.exercise) == ("harder-variation", "three-finger-crimp")
    assert (target.side, target.load_kg) == ("left", 10)


def test_a_harder_line_that_was_begun_goes_on_from_its_own_record(diary, kit) -> None:
    few = diary().has(kit=kit("2x10", "1x1", "2x0.5", edges_mm=(20,)))
    few.held(0, "22", *OK4, edge_mm=20).held(3, "11", *OK4, exercise="three-finger-crimp")
    target = few.next(6)
    assert (target.exercise, target.load_kg) == ("three-finger-crimp", Decimal("11.5"))
    said = [reason.rule for reason in target.reasons]
    # It was begun, so that nothing is searched for: no step more in each set.
    assert "no-plate-left" in said
    assert "half-load" not in said


def test_without_anything_harder_the_seconds_go_on(diary, kit) -> None:
    few = diary().has(kit=kit("2x10"))
    target = few.held(0, "20", *OK4, exercise="wide-pinch").next(3, "wide-pinch")
    assert (target.change, target.load_kg, target.hold_s) == ("longer", 20, 11)
    assert [r.rule for r in target.reasons][1:] == ["no-plate-left", "longer-instead"]


def test_the_pin_carries_no_more_than_its_limit(diary, kit, rules) -> None:
    weak = diary().has(kit=kit("4x10", "1x1", pin_limit_kg=Decimal(25)))
    target = weak.held(0, "21", *OK4, exercise="wide-pinch").next(3, "wide-pinch")
    assert (target.load_kg, target.hold_s) == (21, 11)
    assert "pin-limit" in rules(target)


def test_a_logged_load_over_the_pins_limit_is_refused_and_the_greatest_allowed_given(
    diary, kit, rules
) -> None:
    weak = diary().has(kit=kit("4x10", "1x1", pin_limit_kg=Decimal(25)))
    target = weak.held(0, "30", *OK4, exercise="wide-pinch").next(3, "wide-pinch")
    assert (target.change, target.load_kg) == ("down", 21)
    assert rules(target)[-1] == "pin-limit"


# --- little or no kit ------------------------------------------------------------------------


def test_without_known_plates_the_load_stays_as_logged(diary, kit, rules) -> None:
    target = diary().has(kit=kit()).held(0, "22.3", *OK4).next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("same", Decimal("22.3"), 10)
    assert (target.plates_kg, target.pin_kg) == ((), None)
    assert rules(target) == ["all-sets-ok", "plates-unknown"]


def test_the_lightest_load_gets_a_shorter_hold_when_it_fails(diary, kit) -> None:
    few = diary().has(kit=kit("2x10")).held(0, "10", ("fail", 4), ("fail", 4), "hard", "hard")
    target = few.next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("down", 10, 7)


def test_plates_and_pin_make_the_load(diary, kit) -> None:
    pinned = diary().has(kit=kit("2x10", "2x5", "4x1.25", "2x0.5", pin="1.25"))
    target = pinned.held(0, "22.5", *("hard",) * 4).next(3)
    assert target.plates_kg == (10, 10, Decimal("1.25"))
    assert sum(target.plates_kg, target.pin_kg) == target.load_kg == Decimal("22.5")


def test_repeated_lifts_keep_their_lifts_and_count_a_failed_set_by_them(diary) -> None:

    done = [SetDone("left", Decimal(20), reps=6, hold_s=7, effort="ok")] * 2
    failed = SetDone("left", Decimal(20), reps=3, hold_s=7, effort="fail")
    target = diary().log(0, "repeaters", [*done, failed]).next(3, "repeaters")
    # Three lifts of six are an early failure: 20 x 0.95 = 19.
    assert (target.change, target.load_kg, target.reps, target.hold_s) == ("down", 19, 6, 7)
