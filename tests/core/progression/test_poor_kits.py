"""Coarse plates never end in nothing: there is always a way on, or a word on what would help.

Loads and holds by hand; the curve of short holds is checked in its own tests.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from core.facts import Asked, SetDone

OK4, EASY4 = ("ok",) * 4, ("easy",) * 4
FOUND = (-12, -9, -6, -3)
"""Days of four sessions that find the level."""

WAYS = {"up", "longer", "harder-variation", "deload"}


def obeyed(log, day: int, effort: str, exercise: str = "half-crimp"):
    """Do what is asked of the left hand, and give back what was asked."""
    target = log.next(day, exercise)
    asked = Asked("left", target.sets, target.reps, target.hold_s, target.load_kg)
    done = SetDone("left", target.load_kg, hold_s=target.hold_s, effort=effort)
    log.log(day, target.exercise, [done] * target.sets, asked=asked, edge_mm=target.edge_mm)
    return target


@pytest.mark.parametrize(
    "plates",
    [("2x10",), ("1x10", "1x20"), ("4x5",), ("3x2.5",), ("1x20",), ("2x1.25", "1x20")],
    ids=" ".join,
)
@pytest.mark.parametrize("edges", [(), (20,), (20, 15, 10)], ids=["no-edge", "one", "three"])
def test_every_week_of_steady_evenings_asks_for_more_or_says_what_would_help(
    diary, kit, plates, edges
) -> None:
    log = diary().has(kit=kit(*plates, pin="2", edges_mm=edges))
    seen = [obeyed(log, 7 * week + day, "ok") for week in range(30) for day in (1, 4)]
    for target in seen:
        rules = {reason.rule for reason in target.reasons}
        is_waiting = rules & {"month-cap", "no-effort", "last-session"}
        assert target.change in {*WAYS, "first"} or is_waiting or "kept" in rules, target
    ended = [t for t in seen if any(r.rule == "kept" for r in t.reasons)]
    for target in ended:
        # Said only where no time is left to add, with what stands in the way before it.
        assert target.hold_s is not None
        assert target.hold_s >= 30 or target.change == "deload"
        stops = {"smaller-plates", "no-plate-left", "pin-limit"}
        assert {r.rule for r in target.reasons} & stops


def test_a_step_over_a_tenth_is_never_new_once_the_level_is_found(diary, kit, rules) -> None:
    log = diary().has(kit=kit("1x20", "1x2.5"))
    for day in FOUND:
        log.held(day, "20", *OK4, exercise="open-hand")
    # 20 -> 22.5 is 12.5 %: longer, past the 15 s that the curve asks for, to 30 s, then kept.
    log.held(0, "20", *OK4, hold_s=15, exercise="open-hand")
    target = log.next(3, "open-hand")
    assert (target.change, target.load_kg, target.hold_s) == ("longer", 20, 16)
    assert rules(target)[-2:] == ["smaller-plates", "longer-instead"]
    target = log.held(3, "20", *OK4, hold_s=30, exercise="open-hand").next(6, "open-hand")
    assert (target.change, target.load_kg) == ("same", 20)
    assert rules(target)[-2:] == ["smaller-plates", "kept"]


def test_the_way_on_from_coarse_plates_is_a_smaller_edge_then_time_then_fewer_fingers(
    diary, kit, rules
) -> None:
    edged = diary().has(kit=kit("1x10", "1x20", "1x2.5", edges_mm=(20, 15)))
    for day in FOUND:
        edged.held(day, "20", *OK4, edge_mm=20)
    target = edged.held(0, "20", *OK4, hold_s=15, edge_mm=20).next(3)
    assert (target.exercise, target.edge_mm, target.load_kg) == ("half-crimp", 15, 10)
    bare = diary().has(kit=kit("1x10", "1x20", "1x2.5"))
    for day in FOUND:
        bare.held(day, "20", *OK4)
    assert bare.held(0, "20", *OK4, hold_s=29).next(3).change == "longer"
    target = bare.held(3, "20", *OK4, hold_s=30).next(6)
    assert (target.exercise, target.load_kg, target.hold_s) == ("three-finger-crimp", 10, 10)
    assert rules(target)[-2:] == ["harder-exercise", "half-load"]


def test_nothing_harder_begins_with_much_more_than_half_of_the_load(diary, kit) -> None:
    # 12 kg is 60 % of 20 kg and counts as about half; 14 kg is not.
    for plates, change in ((("1x12", "1x20"), "harder-variation"), (("1x14", "1x20"), "longer")):
        some = diary().has(kit=kit(*plates, edges_mm=(20, 15)))
        some.has(kit=replace(some.athlete.kit, pin_limit_kg=Decimal(20)))
        target = some.held(0, "20", *OK4, edge_mm=20).next(3)
        assert target.change == change


def test_a_load_held_lately_is_gone_back_to_at_a_shorter_hold(diary, kit, rules) -> None:
    log = diary().has(kit=kit("1x10", "1x20", pin="2"))
    for day in FOUND:
        log.held(day, "22", *OK4)
    # 25 days off: 22 x 0.95 = 20.9, and the plates make 12.
    back = log.next(22)
    assert (back.change, back.load_kg) == ("return", 12)
    target = log.held(22, "12", *OK4).next(25)
    assert (target.change, target.load_kg, target.hold_s) == ("up", 22, 7)
    assert rules(target)[-1] == "known-step"
    assert target.reasons[-1].get("since") == log.on(-3)


def test_a_load_that_failed_last_or_long_ago_is_not_gone_back_to(diary, kit) -> None:
    coarse = kit("4x5", "1x20")
    failed = diary().has(kit=coarse)
    for day in FOUND:
        failed.held(day, "25", *OK4)
    failed.held(0, "25", ("fail", 3), ("fail", 3), "ok", "ok").held(3, "20", *OK4)
    assert failed.next(6).change == "longer"
    old = diary().has(kit=coarse)
    for day in FOUND:
        old.held(day, "25", *OK4)
    for day in range(5, 60, 5):
        old.held(day, "20", "ok", "ok", "ok", "hard")
    # 58 days after the last 25 kg, and after 53.
    assert old.held(50, "20", *OK4).next(53).reasons[-1].rule != "step-too-big"
    assert old.held(54, "20", *OK4).next(54).change != "down"
    late = old.held(55, "20", *OK4).next(55)
    assert late.load_kg == 20


def test_known_ground_ends_where_a_warning_sign_was_cleared(diary, kit) -> None:
    log = diary().has(kit=kit("1x10", "1x20", pin="2"))
    for day in FOUND:
        log.held(day, "22", *OK4)
    log.hurt(-2, None, "finger", "pop").cleared(0)
    for day in (1, 4, 7):
        log.held(day, "12", *OK4)
    target = log.next(10)
    assert (target.change, target.load_kg) == ("longer", 12)


def test_a_grown_hold_that_failed_on_coarse_plates_goes_back_to_the_doses_time(
    diary, kit, rules
) -> None:
    coarse = diary().has(kit=kit("4x5", "1x20"))
    failed = coarse.held(0, "20", ("fail", 12), ("fail", 10), "ok", "ok", hold_s=19)
    # The next lighter load is 15 kg, a quarter less.
    target = failed.next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("down", 20, 10)
    assert rules(target) == ["long-hold-failed"]
    # With fine plates, or at the dose's own time, the load goes down.
    fine = diary().held(0, "20", ("fail", 12), ("fail", 10), "ok", "ok", hold_s=19).next(3)
    assert (fine.change, fine.load_kg, fine.hold_s) == ("down", 19, 10)
    short = diary().has(kit=kit("4x5", "1x20"))
    assert short.held(0, "20", ("fail", 5), "ok", "ok", "ok").next(3).load_kg == 15


def test_a_hold_that_grew_by_a_second_goes_back_to_that_of_big_steps(diary, kit, rules) -> None:
    # The curve: 10 s against 11 s is 1.3 % of load, 7 s is 6.1 %.
    log = diary().has(kit=kit("4x5", "1x20"))
    target = log.held(0, "20", ("fail", 5), "ok", "ok", "ok", hold_s=11).next(3)
    assert (target.change, target.load_kg, target.hold_s) == ("down", 20, 7)
    assert rules(target) == ["long-hold-failed"]


def test_easy_sessions_that_find_the_level_may_be_ramped_within(diary, kit, rules) -> None:
    coarse = diary().has(kit=kit("4x5", "1x20"))
    target = coarse.held(0, "20", *EASY4).next(3)
    assert (target.change, target.load_kg) == ("longer", 20)
    assert rules(target)[-1] == "ramp-on"
    assert target.reasons[-1].get("session") == 2
    for day in (3, 6, 9):
        coarse.held(day, "20", *EASY4)
    assert "ramp-on" not in rules(coarse.next(12))


def test_nothing_is_ramped_after_a_warning_sign_or_while_sore(diary, rules) -> None:
    hurt = diary().held(0, "20", *OK4).hurt(1, None, "finger", "pop").cleared(5)
    for day in (6, 8):
        hurt.held(day, "10", *EASY4)
    # 10 -> 10.5 is 5 %, 11 would be 10 %.
    assert rules(hurt.next(10)) == ["all-sets-easy", "one-step"]
    sore = diary().held(0, "20", *EASY4).hurt(1, 2)
    assert "ramp-on" not in rules(sore.next(3))


def test_where_nothing_is_as_light_the_lightest_is_taken(diary, kit) -> None:
    # A deload of +5 kg at 70 kg asks for 67.5 kg; without a band 70 kg is the least.
    log = diary().has(kit=kit("2x5")).repped(0, (6, 6, 6), load="5")
    log.has(deloads=(log.on(2),))
    assert log.next(3, "pull-up").load_kg == 0
    off = diary().has(kit=kit("2x5")).repped(0, (6, 6, 6), load="5")
    assert off.next(40, "pull-up").load_kg == 0


def test_a_hand_stays_on_its_own_edge(diary, kit) -> None:
    from core.progression import next_targets

    log = diary().has(kit=kit("4x10", "2x5", "2x2.5", edges_mm=(20, 15)))
    for side, edge_mm in (("right", 20), ("left", 15)):
        sets = [SetDone(side, Decimal(20), hold_s=10, effort="ok")] * 4
        log.log(0, "half-crimp", sets, edge_mm=edge_mm)
    targets = next_targets(log.athlete, "half-crimp", today=log.on(3))
    assert [(t.side, t.edge_mm, t.change) for t in targets] == [
        ("left", 15, "longer"),
        ("right", 20, "longer"),
    ]


def test_the_top_counts_the_sets_that_were_asked_for(diary, rules) -> None:
    short = diary()
    asked = Asked("both", 2, 8, None, Decimal(0))
    sets = [SetDone("both", Decimal(0), reps=8, effort="ok")] * 2
    short.log(0, "pull-up", sets, asked=asked)
    target = short.next(3, "pull-up")
    assert (target.change, target.load_kg, target.sets) == ("up", Decimal("0.5"), 3)
    assert rules(target)[0] == "top-reached"


def test_a_step_for_the_fingers_over_a_tenth_waits_on_the_body_too(
    diary, bands, kit, rules
) -> None:
    helped = diary().has(kit=kit("1x5", bands=(replace(bands[0], help_kg=Decimal(10)),)))
    for day in FOUND:
        helped.timed(day, (12,) * 4, exercise="dead-hang", load="-10")
    # 60 -> 70 kg is 16.7 %: past the top instead.
    target = helped.next(3, "dead-hang")
    assert (target.change, target.load_kg, target.by_set) == ("longer", -10, (13, 12, 12, 12))
    assert rules(target)[1] == "month-step"
