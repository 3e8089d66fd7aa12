"""Loads from the floor: exact, complete, fewest plates, fewest changes."""

from collections import Counter
from decimal import Decimal
from itertools import product
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from core.errors import OutOfRange
from core.facts import PlateCount
from core.kit.inventory import Inventory
from core.kit.loads import Loads, loads_from, loads_from_floor
from core.quantity import POUND_KG, plain

KG_STEPS = ("0.25", "0.5", "1", "1.25", "1.5", "2", "2.5", "5", "7.5", "10", "15", "20")
LB_STEPS = ("1.25", "2.5", "5", "10", "25")

masses = st.one_of(
    st.sampled_from(KG_STEPS).map(Decimal),
    st.sampled_from(LB_STEPS).map(lambda lb: Decimal(lb) * POUND_KG),
    st.integers(100, 20_000).map(lambda grams: Decimal(grams).scaleb(-3)),
)
piles = st.dictionaries(masses, st.integers(1, 3), min_size=1, max_size=5).map(
    lambda counts: tuple(PlateCount(kg, n) for kg, n in sorted(counts.items(), reverse=True))
)
pins = st.sampled_from(("0", "0.4", "1.25", "1.337")).map(Decimal)


def every_pick(plates: tuple[PlateCount, ...]) -> list[tuple[Decimal, ...]]:
    """Every choice of plates, by exhaustive search."""
    picks = []
    for counts in product(*(range(p.count + 1) for p in plates)):
        picks.append(tuple(p.kg for p, n in zip(plates, counts, strict=True) for _ in range(n)))
    return picks


def totals(plates: tuple[PlateCount, ...], pin_kg: Decimal) -> set[Decimal]:
    return {total for pick in every_pick(plates) if (total := pin_kg + sum(pick)) > 0}


@given(piles, pins)
@settings(max_examples=60, deadline=None)
def test_totals_are_those_of_an_exhaustive_search(plates, pin_kg) -> None:
    loads = loads_from(plates, base_kg=pin_kg)
    assert loads.totals_kg == tuple(sorted(totals(plates, pin_kg)))


@given(piles, pins, st.integers(0, 80_000), st.integers(5_000, 60_000))
@settings(max_examples=80, deadline=None)
def test_neighbours_are_those_of_an_exhaustive_search(plates, pin_kg, grams, limit) -> None:
    load_kg, limit_kg = Decimal(grams).scaleb(-3), Decimal(limit).scaleb(-3)
    loads = loads_from(plates, base_kg=pin_kg, limit_kg=limit_kg)
    allowed = sorted(t for t in totals(plates, pin_kg) if t <= limit_kg)
    assert loads.at_most(load_kg) == max((t for t in allowed if t <= load_kg), default=None)
    assert loads.step_above(load_kg) == min((t for t in allowed if t > load_kg), default=None)
    assert loads.step_below(load_kg) == max((t for t in allowed if t < load_kg), default=None)
    assert loads.is_capped(load_kg) == (
        not any(t > load_kg for t in allowed) and any(t > load_kg for t in totals(plates, pin_kg))
    )


@given(piles, pins, st.data())
@settings(max_examples=60, deadline=None)
def test_plates_are_the_fewest_then_the_fewest_changes_by_exhaustive_search(
    plates, pin_kg, data
) -> None:
    loads = loads_from(plates, base_kg=pin_kg)
    picks = every_pick(plates)
    last = data.draw(st.sampled_from(picks))
    load_kg = data.draw(st.sampled_from(loads.totals_kg))

    def cost(pick: tuple[Decimal, ...]) -> tuple[int, int]:
        now, then = Counter(pick), Counter(last)
        return len(pick), sum(((now - then) + (then - now)).values())

    best = min(cost(pick) for pick in picks if pin_kg + sum(pick) == load_kg)
    chosen = loads.plates_for(load_kg, last)
    assert sum(chosen, pin_kg) == load_kg
    assert cost(chosen) == best
    assert list(chosen) == sorted(chosen, reverse=True)


@given(
    st.dictionaries(st.integers(1, 100), st.integers(1, 4), min_size=6, max_size=15),
    st.integers(20, 300),
)
@settings(max_examples=25, deadline=None)
def test_fewest_plates_agree_with_a_general_solver(quarters, target) -> None:
    """Independent: the bounded coin problem put to OR-tools CP-SAT, in quarters of a kilogram."""
    plates = tuple(
        PlateCount(Decimal(q) / 4, count) for q, count in sorted(quarters.items(), reverse=True)
    )
    loads = loads_from(plates, base_kg=Decimal(0))
    model = cp_model.CpModel()
    taken = {q: model.new_int_var(0, count, str(q)) for q, count in quarters.items()}
    model.add(sum(q * n for q, n in taken.items()) == target)
    model.minimize(sum(taken.values()))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    load_kg = Decimal(target) / 4
    assert (loads.at_most(load_kg) == load_kg) == (status == cp_model.OPTIMAL)
    if status == cp_model.OPTIMAL:
        assert len(loads.plates_for(load_kg)) == round(solver.objective_value)


def kit(*plates: tuple[str, int], pin: str = "0", limit: str | None = None) -> Inventory:
    return Inventory(
        plates=tuple(PlateCount(Decimal(kg), n) for kg, n in plates),
        pin_kg=Decimal(pin),
        pin_limit_kg=None if limit is None else Decimal(limit),
    )


def test_the_empty_pin_is_a_load_if_it_has_mass() -> None:
    assert loads_from_floor(kit(("5", 1), pin="1.2")).lightest_kg == Decimal("1.2")
    assert loads_from_floor(kit(("5", 1))).lightest_kg == Decimal(5)


def test_plates_on_a_pin_as_the_athlete_reads_them() -> None:
    # By hand: 1.25 + 10 + 10 + 1.25 = 22.5
    loads = loads_from_floor(kit(("10", 2), ("5", 2), ("1.25", 2), pin="1.25"))
    assert loads.plates_for(Decimal("22.5")) == (Decimal(10), Decimal(10), Decimal("1.25"))


def test_among_equally_few_plates_those_that_are_on_the_pin_stay() -> None:
    # By hand: 10 is 7.5 + 2.5 or 5 + 5, two plates each way.
    loads = loads_from_floor(kit(("7.5", 1), ("5", 2), ("2.5", 1)))
    assert loads.plates_for(Decimal(10)) == (Decimal("7.5"), Decimal("2.5"))
    assert loads.plates_for(Decimal(10), (Decimal(5),)) == (Decimal(5), Decimal(5))


def test_plates_of_last_time_that_are_not_owned_any_more_are_not_asked_for() -> None:
    # By hand: 30 is 15 + 10 + 5; three tens would be nearer to two tens, but there is one.
    loads = loads_from_floor(kit(("15", 1), ("10", 1), ("5", 1)))
    last = (Decimal(10), Decimal(10))
    assert loads.plates_for(Decimal(30), last) == (Decimal(15), Decimal(10), Decimal(5))


def test_a_pin_limit_caps_every_load() -> None:
    loads = loads_from_floor(kit(("10", 3), pin="1", limit="21.5"))
    assert loads.totals_kg == (Decimal(1), Decimal(11), Decimal(21))
    assert loads.at_most(Decimal(100)) == Decimal(21)
    assert loads.step_above(Decimal(21)) is None
    assert loads.is_capped(Decimal(21))


def test_totals_end_at_a_ton() -> None:
    # By hand: forty plates of 25 kg are 1000 kg, the forty-first is left out.
    assert loads_from_floor(kit(("25", 50))).totals_kg[-1] == 1000


def test_a_load_that_cannot_be_made_has_no_plates() -> None:
    with pytest.raises(OutOfRange):
        loads_from_floor(kit(("10", 1))).plates_for(Decimal(11))


def test_without_plates_any_load_stands_and_there_are_no_steps() -> None:
    loads = loads_from_floor(Inventory(pin_kg=Decimal(1), pin_limit_kg=Decimal(30)))
    assert not loads.known
    assert loads.at_most(Decimal("22.3")) == Decimal("22.3")
    assert loads.at_most(Decimal(40)) == Decimal(30)
    assert loads.step_above(Decimal(22)) is None
    assert loads.step_below(Decimal(22)) is None


def test_a_plate_finer_than_a_gram_is_left_out_and_pounds_stay_exact() -> None:
    plates = (
        PlateCount(Decimal(10), 1),
        PlateCount(Decimal(5) * POUND_KG, 1),
        PlateCount(Decimal("0.12345"), 1),
    )
    loads = loads_from(plates, base_kg=Decimal(0))
    five_lb = plain(Decimal(5) * POUND_KG)
    assert loads.totals_kg == (five_lb, Decimal(10), 10 + five_lb)


@pytest.mark.parametrize(
    "unit_kg", [Decimal(1), POUND_KG, Decimal("1.037")], ids=["kg", "lb", "odd"]
)
def test_fifteen_kinds_of_four_plates_answer_well_under_50_ms(unit_kg) -> None:
    light = ("0.25", "0.5", "1", "1.25", "1.5", "2", "2.5", "3")
    heavy = ("4", "5", "7.5", "10", "15", "20", "25")
    kinds = (*light, *heavy)
    plates = tuple(PlateCount(plain(Decimal(k) * unit_kg), 4) for k in kinds)
    best = min(_seconds_for(plates) for _ in range(3))
    assert best < 0.05


def _seconds_for(plates: tuple[PlateCount, ...]) -> float:
    """Time for a new kit: its loads, the neighbours of one load, and their plates. [s]"""
    loads_from.cache_clear()
    start = perf_counter()
    loads: Loads = loads_from(plates, base_kg=Decimal("1.2"))
    wanted = Decimal("43.21")
    for load_kg in (loads.at_most(wanted), loads.step_above(wanted), loads.step_below(wanted)):
        assert load_kg is not None
        loads.plates_for(load_kg)
    return perf_counter() - start
