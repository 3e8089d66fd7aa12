"""Exercises without a load: the rung is read off the record, one test per rule."""

from core.catalogue import get_exercise
from core.facts import Asked, SetDone

L_SIT = get_exercise("l-sit").variations
COSSACK = get_exercise("cossack-squat").variations
SPLIT = get_exercise("side-split").variations
PUSH_UP = get_exercise("push-up").variations


def slow(diary, day, reps, effort="ok"):
    return diary.repped(day, reps, effort, exercise="cossack-squat")


def split(diary, day, seconds, effort="easy"):
    return diary.timed(day, seconds, effort, exercise="side-split")


# --- timed hold ------------------------------------------------------------------------------


def test_a_timed_hold_goes_up_five_seconds(diary, rules) -> None:
    target = diary().timed(0, (15,) * 3).next(3, "l-sit")
    assert (target.change, target.hold_s, target.variation) == ("longer", 20, L_SIT[0])
    assert rules(target) == ["all-sets-ok", "step-longer"]


def test_at_the_ceiling_the_next_variation_starts_at_fifteen_seconds(diary) -> None:
    climb = diary()
    for n, seconds in enumerate((15, 20, 25, 30)):
        climb.timed(3 * n, (seconds,) * 3)
    target = climb.next(12, "l-sit")
    assert (target.change, target.hold_s, target.variation) == ("harder-variation", 15, L_SIT[1])


def test_a_hard_timed_hold_is_the_same_again(diary, rules) -> None:
    target = diary().timed(0, (15,) * 3, "hard").next(3, "l-sit")
    assert (target.change, target.hold_s) == ("same", 15)
    assert rules(target) == ["all-sets-hard"]


def test_a_timed_hold_without_an_effort_is_the_same_again(diary, rules) -> None:
    target = diary().timed(0, (15,) * 3, None).next(3, "l-sit")
    assert (target.change, rules(target)) == ("same", ["no-effort"])


def test_a_missing_set_is_the_same_again(diary, rules) -> None:
    target = diary().timed(0, (15, 15)).next(3, "l-sit")
    assert (target.change, rules(target)) == ("same", ["sets-missing"])


def test_missed_once_stays_and_missed_twice_goes_a_step_back(diary, rules) -> None:
    climb = diary().timed(0, (15,) * 3).timed(3, (20, 18, 15), "fail")
    once = climb.next(6, "l-sit")
    assert (once.change, once.hold_s) == ("same", 20)
    twice = climb.timed(6, (20, 17, 15), "fail").next(9, "l-sit")
    assert (twice.change, twice.hold_s) == ("down", 15)
    assert rules(twice) == ["aim-missed", "step-back"]


def test_missed_twice_at_the_start_goes_back_a_variation(diary) -> None:
    climb = diary()
    for n, seconds in enumerate((15, 20, 25, 30)):
        climb.timed(3 * n, (seconds,) * 3)
    climb.timed(12, (10, 8, 5), "fail").timed(15, (10, 8, 5), "fail")
    target = climb.next(18, "l-sit")
    assert (target.change, target.variation, target.hold_s) == ("easier-variation", L_SIT[0], 25)


def test_missed_twice_at_the_foot_of_the_ladder_stays_there(diary) -> None:
    climb = diary().timed(0, (10, 8, 5), "fail").timed(3, (10, 8, 5), "fail")
    target = climb.next(6, "l-sit")
    assert (target.change, target.variation, target.hold_s) == ("same", L_SIT[0], 15)


def test_at_the_top_of_the_ladder_the_same_keeps_it(diary, rules) -> None:
    climb = diary()
    for n in range(4 * len(L_SIT)):
        # Eight days apart: no easier week comes.
        climb.timed(8 * n, (15 + 5 * (n % 4),) * 3)
    target = climb.next(8 * 4 * len(L_SIT), "l-sit")
    assert target.variation == L_SIT[-1]
    assert "ladder-top" in rules(climb.next(3 * 4 * len(L_SIT), "l-sit"))


def test_more_than_the_aim_counts_in_whole_steps(diary) -> None:
    assert diary().timed(0, (22, 22, 24)).next(3, "l-sit").hold_s == 25


# --- slow reps -------------------------------------------------------------------------------


def test_slow_reps_take_range_of_motion_first_when_easy_once_or_ok_twice(diary, rules) -> None:
    easy = slow(diary(), 0, (6, 6), "easy").next(3, "cossack-squat")
    assert (easy.change, easy.variation, easy.reps) == ("harder-variation", COSSACK[1], 6)
    once = slow(diary(), 0, (6, 6)).next(3, "cossack-squat")
    assert (once.change, once.variation) == ("same", COSSACK[0])
    assert rules(once) == ["all-sets-ok", "once-more"]
    twice = slow(slow(diary(), 0, (6, 6)), 3, (6, 6)).next(6, "cossack-squat")
    assert (twice.change, twice.variation, twice.reps) == ("harder-variation", COSSACK[1], 6)


def test_on_the_last_rung_slow_reps_get_more_reps_and_never_a_load(diary) -> None:
    climb = diary()
    for n in range(len(COSSACK)):
        slow(climb, 3 * n, (6, 6), "easy")
    target = climb.next(3 * len(COSSACK), "cossack-squat")
    assert (target.change, target.variation, target.reps) == ("longer", COSSACK[-1], 7)
    assert target.load_kg is None


# --- long hold -------------------------------------------------------------------------------


def test_long_holds_take_range_of_motion_first_then_time(diary) -> None:
    climb = diary()
    seen = []
    for n in range(len(SPLIT) + 1):
        target = split(climb, 3 * n, (45, 45) if n < len(SPLIT) else (60, 60)).next(
            3 * n + 1, "side-split"
        )
        seen.append((target.variation, target.hold_s))
    assert seen == [(v, 45) for v in SPLIT[1:]] + [(SPLIT[-1], 60), (SPLIT[-1], 75)]


# --- reps without a load ---------------------------------------------------------------------


def test_push_ups_go_up_rep_by_rep_then_to_the_next_variation(diary) -> None:
    one = diary().repped(0, (8, 8), exercise="push-up").next(3, "push-up")
    assert (one.change, one.reps, one.by_set, one.load_kg) == ("longer", 9, (9, 8), None)
    top = diary().repped(0, (15, 15), exercise="push-up").next(3, "push-up")
    assert (top.change, top.reps, top.variation) == ("harder-variation", 8, PUSH_UP[1])


def test_push_ups_at_the_top_at_the_limit_stay(diary) -> None:
    target = diary().repped(0, (15, 15), "limit", exercise="push-up").next(3, "push-up")
    assert (target.change, target.variation) == ("same", PUSH_UP[0])


def test_push_ups_under_the_bottom_twice_go_back_a_variation(diary, rules) -> None:
    climb = diary().repped(0, (15, 15), exercise="push-up")
    once = climb.repped(3, (8, 6), "fail", exercise="push-up").next(6, "push-up")
    assert (once.change, once.variation, rules(once)[-1]) == ("same", PUSH_UP[1], "bottom-missed")
    back = climb.repped(6, (7, 6), "fail", exercise="push-up").next(9, "push-up")
    assert (back.change, back.variation) == ("easier-variation", PUSH_UP[0])


def test_push_ups_on_the_last_rung_stay_at_the_top(diary, rules) -> None:
    climb = diary()
    for n in range(len(PUSH_UP)):
        climb.repped(3 * n, (15, 15), exercise="push-up")
    target = climb.next(3 * len(PUSH_UP), "push-up")
    assert (target.variation, rules(target)[-1]) == (PUSH_UP[-1], "ladder-top")


def test_push_ups_with_a_missing_set_are_the_same_again(diary, rules) -> None:
    target = diary().repped(0, (9,), exercise="push-up").next(3, "push-up")
    assert (target.change, rules(target)) == ("same", ["sets-missing"])


# --- the fold --------------------------------------------------------------------------------


def test_the_rung_depends_on_the_record_alone_and_later_sessions_do_not_rewrite_it(diary) -> None:
    climb = diary()
    seen = []
    for n, seconds in enumerate((15, 20, 25, 30, 15, 20)):
        climb.timed(3 * n, (seconds,) * 3)
        seen.append(climb.next(3 * n + 1, "l-sit"))
    again = diary()
    for n, seconds in enumerate((15, 20, 25, 30, 15, 20)):
        again.timed(3 * n, (seconds,) * 3)
        assert again.next(3 * n + 1, "l-sit") == seen[n]


def test_a_session_that_was_asked_for_less_is_judged_by_what_was_asked(diary, rules) -> None:
    climb = diary().timed(0, (15,) * 3)
    sets = [SetDone("both", hold_s=12, effort="easy")] * 3
    climb.log(3, "l-sit", sets, asked=Asked("both", 3, None, 12, None))
    target = climb.next(6, "l-sit")
    # 12 s passed, a step of 5 s more
    assert (target.change, target.hold_s, rules(target)) == (
        "longer",
        17,
        ["all-sets-easy", "step-longer"],
    )


def test_a_raise_held_back_by_pain_was_not_done_and_comes_later(diary) -> None:
    # 15 s passed, so 20 s; but a sore back: 15 x 0.8 = 12 s, twice, then a step more.
    sore = diary().timed(0, (15,) * 3).hurt(1, 2, "back")
    for day, aim in ((3, 12), (6, 12), (9, 17)):
        target = sore.next(day, "l-sit")
        assert target.hold_s == aim
        asked = Asked("both", 3, None, aim, None)
        sore.log(day, "l-sit", [SetDone("both", hold_s=aim, effort="ok")] * 3, asked=asked)


def test_a_new_variation_that_a_warning_sign_kept_from_starting_was_not_done(diary) -> None:
    climb = diary()
    for n in range(4):
        climb.timed(3 * n, (15 + 5 * n,) * 3)
    # 30 s passed, so the next variation; but half of 30 s comes first, twice.
    climb.hurt(10, None, "back", "numb").cleared(18)
    for day, aim in ((19, 15), (22, 15), (25, 20)):
        target = climb.next(day, "l-sit")
        assert (target.hold_s, target.variation) == (aim, L_SIT[0])
        asked = Asked("both", 3, None, aim, None)
        climb.log(day, "l-sit", [SetDone("both", hold_s=aim, effort="ok")] * 3, asked=asked)


def test_a_set_whose_time_was_not_said_counts_as_aimed(diary) -> None:
    one = diary().log(0, "l-sit", [SetDone("both", effort="ok")] * 3)
    assert one.next(3, "l-sit").hold_s == 20


def test_a_stretch_missed_twice_on_a_later_variation_goes_back_to_the_one_before(
    diary, rules
) -> None:
    log = diary()
    log.log(0, "cossack-squat", [SetDone("both", reps=6, effort="easy")] * 2)
    for day in (3, 6):
        log.log(day, "cossack-squat", [SetDone("both", reps=4, effort="ok")] * 2)
    target = log.next(9, "cossack-squat")
    assert (target.change, rules(target)[-1]) == ("easier-variation", "rung-back")
    assert log.next(9, "cossack-squat").variation == "hand on a chair, to a comfortable depth"


def test_the_longest_stretch_on_the_last_variation_is_kept(diary, rules) -> None:
    # Four variations at 45 s, then 60, 75 and 90 s, an easy session each.
    log = diary()
    for n, seconds in enumerate((45, 45, 45, 45, 60, 75)):
        target = log.timed(8 * n, (seconds,) * 2, "easy", exercise="side-split").next(
            8 * n + 1, "side-split"
        )
    assert (target.change, target.hold_s) == ("longer", 90)
    target = log.timed(48, (90,) * 2, "easy", exercise="side-split").next(49, "side-split")
    assert (target.change, target.hold_s, rules(target)[-1]) == ("same", 90, "ladder-top")


def test_a_reason_names_the_variation_that_was_done(diary) -> None:
    reason = diary().timed(0, (15,) * 3).next(3, "l-sit").reasons[0]
    assert reason.get("variation") == L_SIT[0]


def test_one_set_at_the_top_is_not_all_of_them(diary, rules) -> None:
    target = diary().repped(0, (15, 10), exercise="push-up").next(3, "push-up")
    assert (target.change, target.reps, target.by_set) == ("longer", 13, ())
    assert rules(target)[-1] == "one-more-rep"


def test_two_misses_count_only_when_nothing_lies_between(diary) -> None:
    climb = diary().timed(0, (15,) * 3).timed(3, (20, 18, 15), "fail").timed(6, (20,) * 3, "hard")
    again = climb.timed(9, (20, 18, 15), "fail").next(12, "l-sit")
    assert (again.change, again.hold_s) == ("same", 20)


def test_two_passes_count_only_when_nothing_lies_between(diary) -> None:
    # Range of motion goes on after two sessions that were ok, running.
    climb = slow(slow(slow(diary(), 0, (6, 6)), 3, (6, 6), "hard"), 6, (6, 6))
    first = climb.next(9, "cossack-squat")
    assert (first.change, first.variation) == ("same", COSSACK[0])
    assert slow(climb, 9, (6, 6)).next(12, "cossack-squat").variation == COSSACK[1]
