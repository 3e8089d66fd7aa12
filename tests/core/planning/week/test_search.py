"""The choice of evenings against trying every choice, and against a general solver."""

from datetime import UTC, date, datetime, timedelta
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from core.planning.week.search import Slot, finger_evenings

MONDAY = date(2026, 11, 30)
START = datetime(2026, 11, 30, 18, 0, tzinfo=UTC)


@st.composite
def weeks(draw: st.DrawFn, most: int = 10) -> list[Slot]:
    hours = draw(st.lists(st.integers(0, 20 * 4), unique=True, max_size=most).map(sorted))
    found = []
    for number, quarter in enumerate(hours):
        begins = START + timedelta(hours=6 * quarter)
        week = MONDAY + timedelta(weeks=(begins.date() - MONDAY).days // 7)
        planned = MONDAY + timedelta(days=number)
        found.append(Slot(planned, begins, week, draw(st.booleans()), draw(st.booleans())))
    return found


Firsts = dict[date, datetime]


def begun(week: int) -> st.SearchStrategy[tuple[date, datetime]]:
    monday, start = MONDAY + timedelta(weeks=week), START + timedelta(weeks=week)
    return st.integers(-3, 20).map(lambda n: (monday, start + timedelta(hours=6 * n)))


FIRSTS: st.SearchStrategy[Firsts] = st.lists(st.integers(0, 2).flatmap(begun), max_size=3).map(dict)
"""In some weeks: before the first evening, or one called off later in it."""


def clash(slots: list[Slot], firsts: Firsts) -> tuple[set[tuple[int, int]], set[int]]:
    """Pairs that exclude one another, and evenings that are excluded; from the rules' words."""
    pairs = set()
    for i, a in enumerate(slots):
        for j in range(i + 1, len(slots)):
            apart = slots[j].begins - a.begins
            again = a.week == slots[j].week and timedelta(days=7) - apart < timedelta(hours=48)
            if apart < timedelta(hours=48) or again:
                pairs.add((i, j))
    never = {i for i, slot in enumerate(slots) if not slot.is_free}
    for i, slot in enumerate(slots):
        repeated = firsts.get(slot.week, slot.begins) + timedelta(days=7)
        if abs(repeated - slot.begins) < timedelta(hours=48):
            never.add(i)
    return pairs, never


@given(slots=weeks(), firsts=FIRSTS)
@settings(max_examples=300, deadline=None)
def test_finger_evenings_is_the_best_of_all_choices(slots: list[Slot], firsts: Firsts) -> None:
    pairs, never = clash(slots, firsts)
    fitting = [
        taken
        for taken in product((True, False), repeat=len(slots))
        if not any(taken[i] for i in never) and not any(taken[i] and taken[j] for i, j in pairs)
    ]
    most = max(sum(taken) for taken in fitting)
    fullest = [taken for taken in fitting if sum(taken) == most]

    def moved(taken: tuple[bool, ...]) -> int:
        return sum(t != slot.is_usual for t, slot in zip(taken, slots, strict=True))

    picked = finger_evenings(slots, firsts=firsts)
    mine = tuple(slot.planned in picked for slot in slots)
    assert mine in fullest
    # A change never moves more than it must.
    assert moved(mine) == min(moved(taken) for taken in fullest)
    assert mine == max(taken for taken in fullest if moved(taken) == moved(mine))


@given(slots=weeks(most=30), firsts=FIRSTS)
@settings(max_examples=60, deadline=None)
def test_finger_evenings_agrees_with_a_general_solver(slots: list[Slot], firsts: Firsts) -> None:
    pairs, never = clash(slots, firsts)
    model = cp_model.CpModel()
    taken = [model.new_bool_var(str(i)) for i in range(len(slots))]
    for i in never:
        model.add(taken[i] == 0)
    for i, j in pairs:
        model.add_bool_or(taken[i].negated(), taken[j].negated())
    changed = [1 - t if slot.is_usual else t for t, slot in zip(taken, slots, strict=True)]
    model.maximize(100 * sum(taken) - sum(changed))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    picked = finger_evenings(slots, firsts=firsts)
    mine = [slot.planned in picked for slot in slots]
    score = 100 * sum(mine) - sum(m != s.is_usual for m, s in zip(mine, slots, strict=True))
    assert score == round(solver.objective_value)
