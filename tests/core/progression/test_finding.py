"""The level on coarse plates: found by the curve of short holds, in four sessions.

Shares of the maximum by the published inverse (Hincapie-Ramos 2014): 99.8 % for 7 s, 98.1 % for
8 s, 94.9 % for 10 s, 93.4 % for 11 s, 91.9 % for 12 s, 80.2 % for 21 s.
"""

from decimal import Decimal

import pytest

from core.facts import Asked, SetDone

OK4, EASY4 = ("ok",) * 4, ("easy",) * 4


@pytest.fixture
def fives(diary, kit):
    """Plates of 5 kg: from 20 to 40 kg a step is 12.5 to 25 %."""
    return lambda: diary().has(kit=kit("12x5"))


def ramped(log, day: int, *sets: tuple[str, str] | tuple[str, str, int], hold_s: int = 10):
    """Sets at growing loads, the first of which was asked for four times."""
    done = [
        SetDone("left", Decimal(s[0]), hold_s=s[2] if len(s) > 2 else hold_s, effort=s[1])
        for s in sets
    ]
    asked = Asked("left", 4, None, hold_s, Decimal(sets[0][0]))
    return log.log(day, "half-crimp", done, asked=asked)


def test_while_all_is_easy_the_search_goes_on_at_the_hold_of_big_steps(fives, rules) -> None:
    target = fives().held(0, "25", *EASY4).next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("longer", 25, 7)
    assert rules(target) == ["all-sets-easy", "ramp-on"]


def test_a_ramp_that_got_hard_asks_for_the_load_that_the_curve_allows(fives, rules) -> None:
    # 35 kg for 10 s with one left: 35 / 93.4 % = 37.5 kg at most, of which 35.6 kg last 10 s.
    # So 35 kg, which last 11 s: eight, and three are left.
    log = ramped(fives(), 0, ("20", "easy"), ("25", "easy"), ("30", "easy"), ("35", "hard"))
    target = log.next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("up", 35, 8)
    assert rules(target) == ["level-by-curve"]
    why = target.reasons[0]
    assert [why.get(n) for n in ("load_kg", "top_kg", "to_kg", "short_s")] == [30, 35, 35, 8]


def test_a_load_that_failed_soon_is_not_the_level(fives) -> None:
    # 35 kg failed at once: that is the maximum itself, of which 33.2 kg last 10 s: 30 kg.
    log = ramped(fives(), 0, ("20", "easy"), ("25", "easy"), ("30", "easy"), ("35", "fail", 4))
    target = log.next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("same", 30, 10)


def test_what_was_held_without_being_hard_is_not_made_shorter(fives) -> None:
    # 30 kg for 10 s with two left last 12 s: three left would be nine.
    log = ramped(fives(), 0, ("20", "easy"), ("25", "easy"), ("30", "ok"), ("30", "ok"))
    assert (log.next(3).load_kg, log.next(3).hold_s) == (30, 10)


def test_full_sessions_speak_too_once_something_was_more_than_easy(fives, rules) -> None:
    # 30 kg for 19 s with two left: 30 / 80.2 % = 37.4 kg at most, of which 35.5 kg last 10 s.
    log = fives().held(0, "30", *OK4, hold_s=19)
    assert (log.next(3).change, log.next(3).load_kg, log.next(3).hold_s) == ("up", 35, 7)
    assert rules(log.next(3)) == ["level-by-curve"]
    # For 12 s they are not: a second more.
    less = fives().held(0, "30", *OK4, hold_s=12).next(3)
    assert (less.change, less.load_kg, less.hold_s) == ("longer", 30, 13)


@pytest.mark.parametrize(
    ("efforts", "rule"),
    [
        (("ok", "ok", "ok", "hard"), "all-sets-hard"),
        (("ok", "ok", "ok"), "sets-missing"),
        (("ok", "ok", "ok", ("ok", 15)), "held-shorter"),
        (("ok", "ok", "ok", ("fail", 15)), "one-late-fail"),
    ],
)
def test_a_session_that_was_not_passed_is_the_same_again(fives, rules, efforts, rule) -> None:
    target = fives().held(0, "30", *efforts, hold_s=16).next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("same", 30, 16)
    assert rules(target) == [rule]


def test_a_load_that_failed_during_the_search_is_not_asked_for_again_by_the_curve(fives) -> None:
    log = ramped(fives(), 0, ("25", "easy"), ("30", "easy"), ("35", "easy"), ("40", "limit"))
    log.held(3, "35", ("fail", 4), ("fail", 4), "ok", "ok")
    assert log.next(6).load_kg == 30
    log.held(6, "30", *OK4)
    assert (log.next(9).change, log.next(9).load_kg) == ("longer", 30)


def test_the_search_is_over_after_four_sessions(fives, rules) -> None:
    log = fives()
    for day in (0, 3, 6, 9):
        log.held(day, "30", *OK4, hold_s=16)
    assert "level-by-curve" not in rules(log.next(12))
    easy = fives()
    for day in (0, 3, 6, 9):
        easy.held(day, "30", *EASY4)
    assert (easy.next(12).load_kg, easy.next(12).hold_s) == (30, 11)


def test_nothing_is_searched_for_after_a_warning_sign(fives, rules) -> None:
    log = fives().held(0, "30", *OK4, hold_s=16).hurt(1, None, "finger", "pop").cleared(5)
    log.held(6, "15", *OK4, hold_s=16)
    assert "level-by-curve" not in rules(log.next(9))


def test_only_sessions_since_the_search_began_count(fives, rules) -> None:
    # Sixty days off: half of the load, and what was lifted before says nothing of now.
    log = ramped(fives(), 0, ("25", "easy"), ("30", "easy"), ("35", "easy"), ("40", "limit"))
    again = log.next(60)
    assert (again.load_kg, again.hold_s, rules(again)[0]) == (15, 10, "find-level-again")
    log.held(60, "15", *EASY4)
    assert (log.next(63).load_kg, rules(log.next(63))[-1]) == (15, "ramp-on")


def test_a_hold_that_had_grown_starts_the_new_search_at_the_doses_own(fives) -> None:
    log = fives().held(0, "30", *OK4, hold_s=19)
    assert (log.next(60).load_kg, log.next(60).hold_s) == (15, 10)


def test_sets_of_which_nobody_said_how_they_went_are_not_read_by_the_curve(fives, rules) -> None:
    log = fives().held(0, "30", *("-",) * 4, hold_s=16)
    assert rules(log.next(3)) == ["no-effort"]


def test_seconds_come_back_before_a_step_of_five_percent_while_the_level_is_sought(
    diary, kit
) -> None:
    # 50 -> 52.5 kg is 5 %.
    log = diary().has(kit=kit("4x10", "2x5", "2x2.5")).held(0, "50", *EASY4, hold_s=8)
    assert (log.next(3).load_kg, log.next(3).hold_s) == (50, 9)


def test_repeated_lifts_are_searched_for_at_their_own_hold(fives) -> None:
    sets = [SetDone("left", Decimal(20), reps=6, hold_s=7, effort="easy")] * 3
    assert fives().log(0, "repeaters", sets).next(3, "repeaters").hold_s == 7


# --- the way down ---------------------------------------------------------------------------


def test_a_load_far_down_is_held_longer_as_long_as_it_is_easier_by_the_curve(fives, rules) -> None:
    # 35 kg for 8 s ask for 35 / 98.1 % = 35.7 kg; of 95 % of that 30 kg are 88.5 %, which last
    # 14.3 s.
    target = fives().held(0, "35", ("fail", 7), ("fail", 7), "ok", "ok", hold_s=8).next(3)
    assert (target.change, target.load_kg) == ("down", 30)
    assert target.hold_s == 14
    assert rules(target) == ["sets-failed", "step-down", "longer-at-lighter"]
    assert target.reasons[-1].get("percent") == 5


def test_a_load_very_far_down_is_held_no_longer_than_half_as_long_again(diary, kit) -> None:
    log = diary().has(kit=kit("1x10", "1x20"))
    target = log.held(0, "20", ("fail", 8), ("fail", 8), "ok", "ok").next(3)
    assert (target.load_kg, target.hold_s) == (10, 15)


def test_a_load_a_little_down_is_held_for_the_doses_time(diary) -> None:
    target = diary().held(0, "22", ("fail", 8), ("fail", 8), "ok", "ok", hold_s=9).next(3)
    assert (target.load_kg, target.hold_s) == (Decimal("20.5"), 10)


def test_a_load_of_an_easier_week_is_not_known_by_it(diary, kit, rules) -> None:
    # 37.5 kg were held 60 days ago, and 50 days ago in an easier week only. 35 -> 37.5 is 7 %.
    log = diary().has(kit=kit("4x10", "2x5", "2x2.5"))
    for day in (0, 3, 6, 9):
        log.held(day, "37.5", *OK4)
    log.held(19, "37.5", "easy", "easy").has(deloads=(log.on(18),))
    for day in range(29, 68, 4):
        log.held(day, "35", *OK4)
    assert "known-step" not in rules(log.next(69))
    log.held(30, "37.5", *OK4)
    assert "known-step" in rules(log.next(69))
