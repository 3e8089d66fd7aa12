"""How strong, and how sure, through the public door."""

from collections.abc import Callable
from decimal import Decimal
from math import exp, hypot, log
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from core.catalogue import get_exercise
from core.errors import OutOfRange
from core.facts import SetDone
from core.physiology.repetition import reps_to_failure
from core.physiology.short_hold import share_held_frac, time_to_failure_s
from core.strength import Estimate, load_for, load_for_reps
from core.strength.filter import Filter
from core.strength.net_mass import body_kg_on
from core.strength.observation import observation

New = Callable[..., Any]


def test_one_session(record: New) -> None:
    # By hand: 22 kg x 10 s with 2 s left: T = 12 s, S = 91.9 % (check value): 23.94 kg.
    book = record()
    book.hold(0, "22")
    found = book.strength(0)
    assert found.maximum_kg == pytest.approx(23.94, abs=0.02)
    assert found.sessions == 1
    assert found.to_failure == 12
    assert found.as_of == book.on(0)
    # The spread of the set and that of the person are independent: root of the squares.
    assert found.sd_log == pytest.approx(hypot(0.047, 0.046), abs=0.001)
    assert found.own_sd_log == pytest.approx(0.047, abs=0.001)
    # Independent: the middle 90 % of the normal distribution by SciPy.
    low, high = norm.interval(0.9, loc=log(found.maximum_kg), scale=found.sd_log)
    assert (found.low_kg, found.high_kg) == pytest.approx((exp(low), exp(high)))


def test_nothing_said_is_no_estimate(record: New) -> None:
    book = record()
    assert book.strength(0) is None
    book.hold(0, "22", None)
    assert book.strength(1) is None


def test_hands_and_exercises_are_apart(record: New) -> None:
    book = record()
    book.hold(0, "22", side="left")
    book.hold(0, "20", side="right")
    left, right = book.strength(0, side="left"), book.strength(0, side="right")
    assert left.maximum_kg / right.maximum_kg == pytest.approx(22 / 20)
    assert book.strength(0, "wide-pinch") is None


def test_later_logs_do_not_count_yet(record: New) -> None:
    book = record()
    book.hold(0, "22")
    then = book.strength(1)
    book.hold(5, "24")
    assert book.strength(1) == then
    assert book.strength(5).maximum_kg > then.maximum_kg


def test_more_sessions_make_surer_and_days_off_vaguer(record: New) -> None:
    book = record()
    spreads = []
    for day in range(0, 28, 3):
        book.hold(day, "22")
        spreads.append(book.strength(day).sd_log)
    assert spreads == sorted(spreads, reverse=True)
    rested = [book.strength(27 + days).sd_log for days in (0, 7, 21, 28, 56)]
    assert rested == sorted(rested)
    assert rested[-1] > 1.3 * rested[0]
    assert spreads[-1] >= 0.04  # what differs between people never averages out


def test_body_weight_counts_as_it_was_that_day(record: New) -> None:
    book = record().weighed(0, "70")
    book.pull(1, 6)
    before = book.strength(1, "pull-up")
    book.weighed(10, "75")
    # By hand: (70 + 0) x (1 + 8/30) = 88.67 kg; a heavier body later changes no past set.
    assert before.maximum_kg == pytest.approx(88.67, abs=0.01)
    assert book.strength(10, "pull-up").maximum_kg == pytest.approx(88.67, abs=0.01)
    assert body_kg_on(book.athlete, book.on(9)) == 70
    assert body_kg_on(book.athlete, book.on(10)) == 75
    assert body_kg_on(book.athlete, book.on(-5)) == 70  # the first said stands for before


def test_a_lighter_week_that_feels_easy_lowers_nothing(record: New) -> None:
    book = record()
    for day in range(0, 21, 3):
        book.hold(day, "22")
    before = book.strength(18).maximum_kg
    book.hold(21, "19.5", "easy", sets=2)
    assert book.strength(21).maximum_kg == before


def test_lowest_load_is_careful_and_can_be_held(record: New) -> None:
    book = record()
    for day in range(0, 21, 3):
        book.hold(day, "22")
    found = book.strength(18)
    load = load_for(found, hold_s=10, reserve_s=2)
    # The same hold as observed: the person's curve falls out, 22 kg less 1.645 spreads.
    assert float(load) == pytest.approx(22 * exp(-1.645 * found.own_sd_log), abs=0.01)
    share = float(load) / found.maximum_kg
    assert time_to_failure_s(share) > 12
    # Far from what was observed the person's curve counts, and with it more care.
    longer = float(load_for(found, hold_s=40, reserve_s=2))
    centre = found.maximum_kg * share_held_frac(42)
    assert longer < centre * exp(-1.645 * found.own_sd_log) * 0.99


def test_lowest_load_for_reps(record: New) -> None:
    book = record().weighed(0, "70")
    book.pull(0, 6)
    found = book.strength(0, "pull-up")
    load = load_for_reps(found, reps=6, reserve=2)
    assert float(load) == pytest.approx(70 * exp(-1.645 * found.own_sd_log), abs=0.01)
    assert reps_to_failure(float(load), one_rep_max_kg=found.maximum_kg) > 8


@pytest.mark.parametrize(("hold_s", "reserve_s"), [(0, 2), (10, -1), (58, 3)])
def test_holds_outside_the_curve_are_refused(record: New, hold_s: int, reserve_s: int) -> None:
    book = record()
    book.hold(0, "22")
    with pytest.raises(OutOfRange):
        load_for(book.strength(0), hold_s=hold_s, reserve_s=reserve_s)


@pytest.mark.parametrize(("reps", "reserve"), [(0, 2), (5, -1), (9, 2)])
def test_reps_outside_the_equation_are_refused(record: New, reps: int, reserve: int) -> None:
    book = record().weighed(0, "70")
    book.pull(0, 6)
    with pytest.raises(OutOfRange):
        load_for_reps(book.strength(0, "pull-up"), reps=reps, reserve=reserve)


@given(
    loads=st.lists(st.integers(80, 110), min_size=1, max_size=8),
    effort=st.sampled_from(["ok", "hard", "limit"]),
    factor=st.sampled_from(["2", "0.45359237"]),
)
def test_units_scale_the_estimate_and_nothing_else(record: New, loads, effort, factor) -> None:  # type: ignore[no-untyped-def]
    one, other = record(), record()
    for number, load in enumerate(loads):
        one.hold(2 * number, str(load), effort)
        other.hold(2 * number, str(load * Decimal(factor)), effort)
    day = 2 * len(loads)
    mine, scaled = one.strength(day), other.strength(day)
    assert scaled.maximum_kg == pytest.approx(mine.maximum_kg * float(factor))
    assert scaled.sd_log == pytest.approx(mine.sd_log)


@given(sets=st.permutations([("20", "ok"), ("22", "hard"), ("21", "ok"), ("22", "fail")]))
def test_the_order_of_the_sets_of_a_day_does_not_matter(record: New, sets) -> None:  # type: ignore[no-untyped-def]
    def strength(order: list[tuple[str, str]]) -> Estimate:
        book = record()
        book.hold(0, "21")
        book.log(3, "half-crimp", [SetDone("left", Decimal(kg), hold_s=9, effort=e)  # type: ignore[arg-type]
                                   for kg, e in order])  # fmt: skip
        found: Estimate = book.strength(3)
        return found

    assert strength(sets) == strength(sorted(sets))


@given(hold_s=st.integers(1, 50), more=st.integers(1, 9))
def test_longer_holds_get_lighter_loads(record: New, hold_s: int, more: int) -> None:
    book = record()
    book.hold(0, "22")
    found = book.strength(0)
    short = load_for(found, hold_s=hold_s, reserve_s=0)
    assert load_for(found, hold_s=hold_s + more, reserve_s=0) <= short <= found.maximum_kg


def test_what_is_long_past_weighs_nothing(record: New) -> None:
    # The same last 40 sessions after an empty and after a long, weaker past.
    old, new = record(), record()
    for number in range(80):
        old.hold(2 * number, "18" if number < 40 else "22")
        if number >= 40:
            new.hold(2 * number, "22")
    long, short = old.strength(160), new.strength(160)
    assert long == short
    # By the filter over all 80 it would be the same to a thousandth.
    whole = Filter()
    for number in range(80):
        seen = observation(
            get_exercise("half-crimp"),
            SetDone("left", Decimal(18 if number < 40 else 22), hold_s=10, effort="ok"),
            body_kg=None,
        )
        assert seen is not None
        whole.take(seen, old.on(2 * number))
    assert whole.log_kg == pytest.approx(log(long.maximum_kg), abs=0.001)
