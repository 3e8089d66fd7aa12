"""Pain, one test per rule. Nothing here diagnoses."""

from decimal import Decimal

import pytest

OK4 = ("ok",) * 4


@pytest.mark.parametrize("score", [1, 3, 4, 9, None])
def test_any_finger_pain_today_stops_finger_loading_tonight(diary, rules, score) -> None:
    target = diary().held(0, "22", *OK4).hurt(3, score).next(3)
    assert (target.change, target.sets, target.load_kg) == ("stopped", 0, Decimal("22.5"))
    assert rules(target) == ["pain-today"]


@pytest.mark.parametrize(("score", "change"), [(4, "stopped"), (None, "stopped"), (3, "down")])
def test_elsewhere_four_or_more_or_no_score_stops_for_tonight(diary, score, change) -> None:
    target = diary().repped(0, (8, 8, 8)).hurt(3, score, "elbow").next(3, "pull-up")
    assert target.change == change


def test_one_to_three_takes_a_fifth_of_the_load(diary, rules) -> None:
    target = diary().held(0, "22", *OK4).hurt(1, 2).next(3)
    # 22 x 0.8 = 17.6
    assert (target.change, target.load_kg, target.sets) == ("down", Decimal("17.5"), 4)
    assert rules(target)[0] == "sore"


def test_nothing_goes_up_until_two_sessions_were_free_of_pain(diary) -> None:
    sore = diary().held(0, "22", *OK4).hurt(1, 2)
    sore.held(3, "17.5", *OK4)
    again = sore.next(6)
    assert (again.change, again.load_kg) == ("same", Decimal("17.5"))
    sore.held(6, "17.5", *OK4)
    assert sore.next(9).load_kg == 18


def test_a_pain_told_after_tonights_sets_counts_from_the_load_before_it(diary) -> None:
    sore = diary().held(0, "22", *OK4).held(3, "22.5", *OK4).hurt(3, 2)
    # Before it: 22 x 0.8 = 17.6
    assert sore.next(6).load_kg == Decimal("17.5")


def test_a_new_pain_begins_the_count_again(diary) -> None:
    sore = diary().held(0, "22", *OK4).hurt(1, 2).held(3, "17.5", *OK4).hurt(4, 1)
    # 17.5 x 0.8 = 14
    assert sore.next(6).load_kg == 14


def test_a_fifth_less_of_a_body_is_help_from_a_band_else_fewer_reps(diary, bands) -> None:
    from dataclasses import replace

    bare = diary().repped(0, (8, 8, 7)).hurt(1, 2, "elbow")
    few = bare.next(3, "pull-up")
    assert (few.change, few.load_kg, few.reps, few.by_set) == ("down", 0, 6, (6, 6, 5))
    strong = replace(bands[1], help_kg=Decimal(16))
    bare.has(kit=replace(bare.athlete.kit, bands=(*bands[:1], strong)))
    # A fifth of 70 kg are 14 kg: the band of 16 kg helps enough, that of 5 kg does not.
    assert bare.next(3, "pull-up").load_kg == -16


def test_pain_in_another_tissue_changes_nothing(diary) -> None:
    assert diary().held(0, "22", *OK4).hurt(3, 8, "knee").next(3).change == "up"


@pytest.mark.parametrize("site", [None, "somewhere odd"])
def test_an_unknown_place_counts_for_every_tissue(diary, site) -> None:
    sore = diary().held(0, "22", *OK4).timed(0, (15,) * 3).hurt(3, 5, site)
    assert sore.next(3).change == "stopped"
    assert sore.next(3, "l-sit").change == "stopped"


@pytest.mark.parametrize(
    ("site", "exercise"),
    [
        ("A2 pulley", "half-crimp"),
        ("wrist", "wide-pinch"),
        ("forearm", "half-crimp"),
        ("forearm", "pull-up"),
        ("inner elbow", "lock-off"),
        ("left shoulder", "push-up"),
        ("lower-back", "long-lever-plank"),
        ("groin", "side-split"),
    ],
)
def test_words_for_places_spare_the_tissue_they_belong_to(diary, site, exercise) -> None:
    assert diary().hurt(0, 6, site).next(0, exercise).change == "stopped"


def test_no_pain_of_ten_is_no_pain(diary) -> None:
    assert diary().held(0, "22", *OK4).hurt(3, 0).next(3).change == "up"


def test_a_warning_sign_keeps_the_tissue_stopped_until_the_athlete_is_back(diary, rules) -> None:
    hurt = diary().held(0, "22", *OK4).hurt(1, None, "finger", "pop")
    for day in (1, 4, 40, 200):
        target = hurt.next(day)
        assert (target.change, target.sets) == ("stopped", 0)
        assert rules(target) == ["warning-sign"]
    assert hurt.next(4, "l-sit").change == "first"


@pytest.mark.parametrize("exercise", ["wide-pull-up", "pull-up", "lock-off", "dead-hang"])
def test_a_warning_sign_of_the_fingers_stops_hanging_from_a_bar_too(diary, rules, exercise) -> None:
    hurt = diary().hurt(1, None, "ring finger", "pop")
    target = hurt.next(4, exercise)
    assert (target.change, rules(target)) == ("stopped", ["warning-sign"])
    assert hurt.next(4, "push-up").change == "first"
    assert hurt.cleared(5).next(6, exercise).sets > 0
    assert diary().hurt(4, 3, "ring finger").next(4, "pull-up").change == "first"


def test_cleared_after_a_warning_sign_half_of_the_load_begins(diary, rules) -> None:
    hurt = diary().held(0, "22", *OK4).hurt(1, None, "finger", "pop")
    hurt.cleared(8)
    target = hurt.next(9)
    assert (target.change, target.load_kg) == ("down", 11)
    assert rules(target)[0] == "cleared"
    hurt.held(9, "11", *OK4)
    assert hurt.next(12).load_kg == 11
    hurt.held(12, "11", *OK4)
    assert hurt.next(15).load_kg == Decimal("11.5")


def test_on_the_day_of_a_warning_sign_nothing_clears_it(diary) -> None:
    hurt = diary().held(0, "22", *OK4).hurt(3, None, "finger", "pop")
    hurt.cleared(3)
    assert hurt.next(3).change == "stopped"
    assert hurt.next(4).load_kg == 11


def test_a_return_from_before_the_warning_sign_clears_nothing(diary) -> None:
    hurt = diary().held(0, "22", *OK4)
    hurt.hurt(0, None, "finger", "numb").cleared(0).hurt(1, None, "finger", "pop")
    assert hurt.next(5).change == "stopped"


def test_a_score_of_four_or_more_spares_the_tissue_afterwards_too(diary) -> None:
    assert diary().held(0, "22", *OK4).hurt(1, 7).next(3).load_kg == Decimal("17.5")


def test_pain_before_any_session_lowers_the_first_load(diary) -> None:
    # 20 x 0.8 = 16, and not once more after the first session
    begun = diary().starts("half-crimp", "20").hurt(0, 2)
    assert begun.next(3).load_kg == 16
    begun.held(3, "16", *OK4)
    assert (begun.next(6).change, begun.next(6).load_kg) == ("same", 16)


def test_sore_in_an_easier_week_the_lowered_aim_stays_until_two_sessions_went_without(
    diary,
) -> None:
    log = diary().timed(0, (15,) * 3).timed(3, (20,) * 3)
    log.has(deloads=(log.on(5),)).hurt(6, 2, "back")
    # 20 x 0.8 = 16; the easier week is over on day 12, and one session went without.
    assert log.next(7, "l-sit").hold_s == 16
    log.timed(7, (16,) * 2)
    assert log.next(12, "l-sit").hold_s == 16
    assert log.timed(12, (16,) * 3).next(14, "l-sit").hold_s > 16


def test_a_fifth_less_is_of_the_load_that_a_ramp_found_not_of_its_top(diary) -> None:
    sore = diary().held(0, "20", "easy").held(0, "22", "ok").held(0, "24", "hard").hurt(1, 2)
    # 22 x 0.8 = 17.6; of the top it would be 19.
    assert sore.next(3).load_kg == Decimal("17.5")
