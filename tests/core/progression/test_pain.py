"""Pain, one test per rule. Nothing here diagnoses."""

from dataclasses import replace
from decimal import Decimal

import pytest

from core.facts import Asked, PainFelt, SetDone
from core.progression.soreness import gravest

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


# --- what is counted, and what is said ---------------------------------------------------------


def test_a_session_on_the_day_of_the_pain_was_not_free_of_it(diary) -> None:
    sore = diary().held(0, "22", *OK4).held(3, "22.5", *OK4).hurt(3, 2).held(6, "17.5", *OK4)
    (why, *_) = sore.next(9).reasons
    assert (sore.next(9).change, why.get("free"), why.get("needed")) == ("same", 1, 2)
    assert sore.held(9, "17.5", *OK4).next(12).change == "up"


def test_the_session_on_the_day_of_the_return_is_the_first_of_two_at_half(diary) -> None:
    hurt = diary().held(0, "22", *OK4).hurt(1, None, "finger", "pop").cleared(8)
    assert (hurt.next(8).change, hurt.next(8).load_kg) == ("down", 11)
    hurt.held(8, "11", *OK4)
    assert (hurt.next(11).change, hurt.next(11).load_kg) == ("same", 11)
    assert hurt.held(11, "11", *OK4).next(14).load_kg == Decimal("11.5")


def test_a_load_lower_than_a_fifth_less_asks_for_is_not_lowered_again(diary, bands) -> None:
    sore = diary().repped(0, (8, 8, 8), load="10").hurt(1, 2, "elbow")
    sore.has(kit=replace(sore.athlete.kit, bands=bands))
    # (70 + 10) x 0.8 = 64 kg: 6 kg less than the body, and the band of 12 kg is the least such.
    assert sore.next(3, "pull-up").load_kg == -12
    again = sore.repped(3, (8, 8, 8), load="-12").next(6, "pull-up")
    assert (again.change, again.load_kg) == ("same", -12)


def asked_s(diary, day, asked, *seconds):
    """L-sits with so many seconds asked; None where the seconds of a set were not said."""
    sets = [SetDone("both", None, hold_s=s, effort="ok") for s in seconds]
    return diary.log(day, "l-sit", sets, asked=Asked("both", 3, None, asked, None))


@pytest.mark.parametrize("seconds", [(None, None, None), (12, 12, 12), (12, 9, 12)])
def test_the_aim_of_a_sore_ladder_is_lowered_once(diary, seconds) -> None:
    sore = diary().timed(0, (15,) * 3).hurt(1, 2, "back")
    # 15 x 0.8 = 12; a set without seconds counts as held to the aim.
    assert sore.next(3, "l-sit").hold_s == 12
    assert asked_s(sore, 3, 12, *seconds).next(6, "l-sit").hold_s == 12


def test_a_sore_ladder_asks_for_no_more_than_what_was_held_since(diary) -> None:
    sore = diary().timed(0, (15,) * 3).hurt(1, 2, "back")
    assert asked_s(sore, 3, 12, 10, 8, 9).next(6, "l-sit").hold_s == 10


@pytest.mark.parametrize(("gap", "change"), [(10, "same"), (11, "longer")])
def test_a_step_is_climbed_ten_days_later_and_held_back_after_more(diary, gap, change) -> None:
    # By hand: ten days later 20 s were asked for, and 18 s miss them; after more than ten days
    # it was 15 s once more, which 18 s pass, and 20 s follow.
    log = diary().timed(0, (15,) * 3).timed(gap, (18,) * 3)
    target = log.next(gap + 2, "l-sit")
    assert (target.change, target.hold_s) == (change, 20)


def test_what_was_held_on_the_day_of_sign_and_return_is_not_exceeded_either(diary) -> None:
    back = diary().timed(0, (15,) * 3).hurt(3, None, "back", "pop").cleared(3)
    # Half of 15 s is 7; six were held.
    assert back.next(4, "l-sit").hold_s == 7
    assert asked_s(back, 3, 7, 6, 6, 6).next(6, "l-sit").hold_s == 6


def test_a_pain_told_after_the_sets_does_not_unmake_the_step_they_were_done_at(diary) -> None:
    log = diary().timed(0, (15,) * 3).timed(3, (20,) * 3).hurt(3, 2, "back")
    # 20 x 0.8 = 16, and the same again; of the 15 s before it would be 12 and 15.
    assert log.next(6, "l-sit").hold_s == 16
    assert asked_s(log, 6, 16, 16, 16, 16).next(9, "l-sit").hold_s == 16


@pytest.mark.parametrize(
    ("score", "signs", "side", "said"),
    [
        (3, (), "left", {"site": "left ring finger", "score": 3}),
        (None, (), None, {"site": "ring finger"}),
        (None, ("pop", "swelling"), None, {"site": "ring finger", "signs": "pop, swelling"}),
    ],
)
def test_the_reason_says_again_what_was_told(diary, score, signs, side, said) -> None:
    hurt = diary().hurt(3, score, "ring finger", *signs)
    (pain,) = hurt.athlete.pains
    hurt.has(pains=(replace(pain, pain=replace(pain.pain, side=side)),))
    (why,) = hurt.next(3).reasons
    assert dict(why.facts) == {"day": hurt.on(3), **said}


def test_a_pain_without_a_place_says_none(diary) -> None:
    (why,) = diary().hurt(3, 5, None).next(3).reasons
    assert {name for name, _ in why.facts} == {"day", "score"}


@pytest.mark.parametrize(
    ("score", "flags", "site", "means"),
    [
        (2, ("pop",), "knee", "professional"),
        (2, (), "ring finger", "stop"),
        (4, (), "knee", "stop"),
        (3, (), "knee", "less"),
        (2, (), "forearm", "stop"),  # it is of the fingers and of the arm: the graver counts
        (0, (), "forearm", None),
    ],
)
def test_the_gravest_that_a_pain_means_for_any_tissue(score, flags, site, means) -> None:
    assert gravest(PainFelt(site, None, score, flags)) == means
