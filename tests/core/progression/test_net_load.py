"""Rep ranges and hold ranges at a net load, one test per rule."""

from dataclasses import replace
from decimal import Decimal

import pytest


@pytest.fixture
def banded(diary, bands):
    """70 kg of body, two bands (5 and 12 kg), plates for every half kilogram."""
    one = diary()
    return one.has(kit=replace(one.athlete.kit, bands=bands))


@pytest.mark.parametrize(
    ("done", "aims"),
    [
        ((6, 6, 6), (7, 6, 6)),
        ((7, 6, 6), (7, 7, 6)),
        ((7, 7, 7), (8, 7, 7)),
        ((8, 8, 7), (8, 8, 8)),
    ],
)
def test_inside_the_range_one_more_rep_in_total_is_asked_for(diary, done, aims) -> None:
    target = diary().repped(0, done).next(3, "pull-up")
    assert target.load_kg == 0
    assert target.change == "longer"
    assert (target.by_set or (target.reps,) * 3) == aims
    assert target.reps == aims[0]


def test_uneven_sets_are_evened_out_from_the_first_set_on(diary) -> None:
    # 8 + 7 + 6 = 21, one more is 22.
    assert diary().repped(0, (8, 7, 6)).next(3, "pull-up").by_set == (8, 7, 7)


def test_reps_say_enough_for_one_more_without_an_effort(diary) -> None:
    assert diary().repped(0, (6, 6, 6), None).next(3, "pull-up").by_set == (7, 6, 6)


def test_at_the_top_everywhere_the_smallest_step_that_keeps_the_bottom_is_taken(
    diary, rules
) -> None:
    # Epley: 8 reps with 2 left at 70 kg are 93.3 kg once; at 70.5 kg that gives 9.7 reps.
    target = diary().repped(0, (8, 8, 8)).next(3, "pull-up")
    assert (target.change, target.load_kg, target.reps, target.by_set) == (
        "up", Decimal("0.5"), 6, ()
    )  # fmt: skip
    assert target.plates_kg == (Decimal("0.5"),)
    assert rules(target) == ["top-reached", "bottom-in-reach"]


def test_help_fades_band_by_band_to_none_to_plates(banded) -> None:
    loads = []
    for day, load in ((0, "-12"), (3, "-5"), (6, "0")):
        banded.repped(day, (10, 10, 10), load=load)
        target = banded.next(day + 1, "pull-up")
        loads.append((target.load_kg, target.band))
    assert loads == [(-5, "red"), (0, None), (Decimal("0.5"), None)]


def test_a_next_load_out_of_reach_waits_and_reps_go_past_the_top(banded, rules) -> None:
    # Epley: 8 reps, 1 left, at 58 kg are 75.4 kg once; at 65 kg that gives 4.8 reps, not 6.
    target = banded.repped(0, (8, 8, 8), "hard", load="-12").next(3, "pull-up")
    assert (target.change, target.load_kg, target.by_set) == ("longer", -12, (9, 8, 8))
    assert rules(target) == ["top-reached", "bottom-out-of-reach", "past-the-top"]


def test_reps_past_the_top_end_where_the_equations_end(diary, bands, kit, rules) -> None:
    # A band of 40 kg and none: 12 reps at 30 kg are 42 kg once, far from 70 kg.
    strong = (replace(bands[0], help_kg=Decimal(40)),)
    one = diary().has(kit=kit("1x10", bands=strong)).repped(0, (12, 12, 12), load="-40")
    target = one.next(3, "pull-up")
    assert (target.change, target.reps, target.by_set) == ("same", 12, ())
    assert rules(target)[-2:] == ["top-of-all", "finer-steps"]


def test_the_top_at_the_limit_is_the_same_again(diary, rules) -> None:
    target = diary().repped(0, (8, 8, 8), "limit").next(3, "pull-up")
    assert (target.change, target.load_kg, target.reps) == ("same", 0, 8)
    assert rules(target) == ["top-at-limit"]


def test_the_top_without_an_effort_is_the_same_again(diary, rules) -> None:
    target = diary().repped(0, (8, 8, 8), None).next(3, "pull-up")
    assert (target.change, rules(target)) == ("same", ["no-effort"])


def test_fewer_sets_than_asked_are_the_same_again(diary, rules) -> None:
    target = diary().repped(0, (8, 7)).next(3, "pull-up")
    assert (target.change, target.sets, target.by_set) == ("same", 3, (8, 7, 7))
    assert rules(target) == ["sets-missing"]


def test_the_bottom_missed_once_keeps_the_load(banded) -> None:
    target = banded.repped(0, (6, 5, 4), "fail", load="-5").next(3, "pull-up")
    assert (target.load_kg, target.reps, target.by_set) == (-5, 6, ())


def test_the_bottom_missed_in_two_sessions_running_gets_more_help(banded, rules) -> None:
    banded.repped(0, (6, 5, 4), "fail", load="-5").repped(3, (6, 6, 5), "fail", load="-5")
    target = banded.next(6, "pull-up")
    assert (target.change, target.load_kg, target.band, target.reps) == ("down", -12, "green", 6)
    assert rules(target) == ["bottom-missed-twice", "step-down"]


def test_a_missed_bottom_that_was_made_up_for_is_forgotten(banded) -> None:
    banded.repped(0, (6, 5, 4), "fail", load="-5").repped(3, (6, 6, 6), load="-5")
    target = banded.next(6, "pull-up")
    assert (target.change, target.load_kg, target.by_set) == ("longer", -5, (7, 6, 6))


@pytest.mark.parametrize(("load", "rule"), [("-12", "bands-unknown"), ("5", "plates-unknown")])
def test_help_and_weight_of_unknown_making_stay_as_logged(diary, kit, rules, load, rule) -> None:
    target = diary().has(kit=kit()).repped(0, (7, 6, 6), load=load).next(3, "pull-up")
    assert (target.load_kg, target.band, target.plates_kg) == (Decimal(load), None, ())
    assert target.by_set == (7, 7, 6)
    assert rules(target) == ["one-more", rule]


def test_with_too_little_help_for_the_last_load_the_bottom_of_the_range_is_asked_for(
    banded, rules
) -> None:
    target = banded.repped(0, (8, 7, 7), load="-20").next(3, "pull-up")
    # By hand: both bands take off 12 + 5 = 17 kg, all the help there is.
    assert (target.load_kg, target.band, target.reps) == (-17, "green + red", 6)
    assert target.by_set == ()
    assert rules(target)[-1] == "lightest-load"


def test_without_more_help_a_missed_bottom_stays_the_aim(diary, rules) -> None:
    target = diary().repped(0, (5, 5, 4)).repped(3, (5, 5, 4)).next(6, "pull-up")
    assert (target.change, target.load_kg, target.reps) == ("same", 0, 6)
    assert rules(target) == ["bottom-missed-twice", "nothing-easier"]


def test_without_a_body_weight_only_a_small_step_is_taken_and_said_so(banded, rules) -> None:
    # 5 % of an assumed 70 kg are 3.5 kg: half a kilogram is taken, a band of 5 kg is not left.
    banded.has(body_kg=None)
    small = banded.repped(0, (8, 8, 8)).next(3, "pull-up")
    assert (small.change, small.load_kg) == ("up", Decimal("0.5"))
    assert rules(small) == ["top-reached", "body-unknown"]
    big = banded.repped(6, (8, 8, 8), load="-5").next(9, "pull-up")
    assert (big.change, big.load_kg, big.by_set) == ("longer", -5, (9, 8, 8))


def test_the_bar_carries_no_more_than_its_limit(diary, rules) -> None:
    one = diary()
    one.has(kit=replace(one.athlete.kit, bar_limit_kg=Decimal(70)))
    target = one.repped(0, (8, 8, 8)).next(3, "pull-up")
    assert (target.change, target.load_kg, target.by_set) == ("longer", 0, (9, 8, 8))
    assert "bar-limit" in rules(target)


def test_a_logged_load_over_the_bars_limit_is_refused_and_the_greatest_allowed_given(
    diary, rules
) -> None:
    one = diary()
    one.has(kit=replace(one.athlete.kit, bar_limit_kg=Decimal(72)))
    target = one.repped(0, (6, 6, 6), load="10").next(3, "pull-up")
    assert (target.change, target.load_kg) == ("down", 2)
    assert rules(target)[-1] == "bar-limit"


def test_a_body_too_heavy_for_the_bar_without_help_stops(diary, rules) -> None:
    one = diary()
    one.has(kit=replace(one.athlete.kit, bar_limit_kg=Decimal(60)))
    target = one.next(0, "pull-up")
    assert (target.change, target.sets) == ("stopped", 0)
    assert rules(target)[-1] == "bar-limit"


def test_without_a_body_weight_the_bar_cannot_be_checked_and_that_is_said(diary, rules) -> None:
    one = diary().has(body_kg=None)
    one.has(kit=replace(one.athlete.kit, bar_limit_kg=Decimal(100)))
    assert rules(one.next(0, "pull-up")) == ["body-first", "bar-unchecked"]


def test_a_band_that_is_not_owned_keeps_the_last_dose(diary, rules) -> None:
    from core.facts import SetDone

    one = diary()
    one.log(0, "pull-up", [SetDone("both", band="blue", reps=8, effort="ok")] * 3)
    target = one.next(3, "pull-up")
    assert (target.change, target.load_kg, target.band) == ("same", None, "blue")
    assert rules(target)[-1] == "band-unknown"


def test_sets_at_different_loads_speak_for_the_load_of_most(banded) -> None:
    from core.facts import SetDone

    sets = [SetDone("both", Decimal(0), reps=8, effort="ok")]
    sets += [SetDone("both", Decimal(-5), reps=7, effort="ok")] * 2
    target = banded.log(0, "pull-up", sets).next(3, "pull-up")
    assert target.load_kg == -5


# --- hold range ------------------------------------------------------------------------------


def test_a_hold_range_asks_for_one_more_second_in_total(diary) -> None:
    target = diary().timed(0, (5, 5, 5), exercise="lock-off", load="0").next(3, "lock-off")
    assert (target.change, target.hold_s, target.by_set, target.reps) == (
        "longer",
        6,
        (6, 5, 5),
        None,
    )


def test_a_hold_range_at_the_top_takes_the_step_that_keeps_the_bottom(diary) -> None:
    # Rohmert-type curve: 12 s in all at 70 kg take 91.9 %, so the maximum is 76.2 kg; 70.5 kg
    # are 92.5 % of it, held for about 11 s, over the bottom of 5 s.
    target = diary().timed(0, (10, 10, 10), exercise="lock-off", load="0").next(3, "lock-off")
    assert (target.change, target.load_kg, target.hold_s) == ("up", Decimal("0.5"), 5)


def test_a_lock_off_with_nothing_left_to_add_goes_on_to_one_arm(diary, kit, rules) -> None:
    from core.progression import next_targets

    one = diary().has(kit=kit("1x5")).timed(0, (10, 10, 10), exercise="lock-off", load="5")
    left, right = next_targets(one.athlete, "lock-off", today=one.on(3))
    assert [(t.exercise, t.side, t.hold_s) for t in (left, right)] == [
        ("one-arm-lock-off", "left", 5),
        ("one-arm-lock-off", "right", 5),
    ]
    assert left.change == "harder-variation"
    assert rules(left)[-2:] == ["no-plate-left", "harder-exercise"]


def test_a_hang_on_an_edge_progresses_like_any_hold_range(diary, kit) -> None:
    one = diary().has(kit=kit("2x10", "2x0.5", edges_mm=(20,)))
    target = one.timed(0, (12,) * 4, exercise="dead-hang", load="0").next(3, "dead-hang")
    assert (target.edge_mm, target.change, target.load_kg) == (20, "up", Decimal("0.5"))


def test_a_hang_with_nothing_left_to_add_goes_on_to_the_smaller_edge(diary, kit, rules) -> None:
    one = diary().has(kit=kit("1x5", edges_mm=(20, 15)))
    target = one.timed(0, (12,) * 4, exercise="dead-hang", load="5").next(3, "dead-hang")
    assert (target.change, target.edge_mm, target.hold_s) == ("harder-variation", 15, 7)
    assert rules(target)[-1] == "smaller-edge"


def test_a_set_with_an_owned_band_and_no_load_counts_with_its_help(diary, bands, kit) -> None:
    from core.facts import SetDone

    log = diary().has(kit=kit("1x10", bands=bands))
    sets = [SetDone("both", band="green", reps=7, effort="ok")] * 3
    target = log.log(0, "pull-up", sets).next(3, "pull-up")
    assert (target.load_kg, target.band, target.by_set) == (-12, "green", (8, 7, 7))


def test_the_harder_exercise_begins_at_half_of_body_and_load(diary, kit, rules) -> None:
    from core.facts import BandOwned

    wide, narrow = BandOwned("wide", Decimal(40)), BandOwned("narrow", Decimal(20))
    one = diary().has(kit=kit("1x5", bands=(narrow, wide)))
    target = one.timed(0, (10, 10, 10), exercise="lock-off", load="5").next(3, "lock-off")
    # Half of 70 + 5 is 37.5, which is 32.5 less than the body: 40 kg of help are the least such.
    assert (target.exercise, target.load_kg, target.band) == ("one-arm-lock-off", -40, "wide")


def test_past_the_top_without_known_plates_says_that_none_are_known(diary, kit, rules) -> None:
    target = diary().has(kit=kit()).repped(0, (8, 8, 8)).next(3, "pull-up")
    assert (target.change, target.by_set) == ("longer", (9, 8, 8))
    assert rules(target) == ["top-reached", "plates-unknown", "past-the-top"]
