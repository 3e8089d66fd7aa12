"""What holds for any text, and for any programme that is accepted."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any

from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.athlete import athlete_from_facts
from core.catalogue import Exercise, logged_exercises
from core.facts import Asked, BodyWeighed, Entry, Fact, KitChanged, Logged, PlateCount, SetDone
from core.packaged import packaged_text
from core.planning import evening
from core.programme import Problem, Programme, programme_from_toml
from core.programme.dose import (
    BODY_HOLD_S,
    FREE_REPS,
    HEAVY_REST_S,
    LIGHT_REST_S,
    LOADED_HOLD_S,
    LOADED_REPS,
    LONG_HOLD_S,
    SETS,
    SLOW_REPS,
    TIMED_HOLD_S,
)
from core.programme.table import Bounds
from core.progression.bridge import LONGEST_S, SHORTEST_S
from core.progression.span import MOST_REPS, MOST_S
from core.target import Target

DEFAULT = packaged_text("core.programme", "default.toml")
TODAY = date(2026, 12, 1)
PLATES = tuple(PlateCount(Decimal(kg), n) for kg, n in (("10", 4), ("5", 2), ("1.25", 4)))


def check(text: str) -> None:
    found = programme_from_toml(text)
    if isinstance(found, Programme):
        return
    assert found
    last = max(1, len(text.split("\n")))
    for problem in found:
        assert isinstance(problem, Problem)
        assert 1 <= problem.line <= last
        assert problem.allowed
        assert problem.found or problem.kind == "missing"
    assert [p.line for p in found] == sorted(p.line for p in found)


@given(st.text(max_size=200))
@example("'\r0")
def test_any_text_is_a_programme_or_mistakes(text: str) -> None:
    check(text)


@given(st.data())
def test_a_damaged_file_is_a_programme_or_mistakes(data: st.DataObject) -> None:
    text = DEFAULT
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(text)))
        upto = data.draw(st.integers(at, min(len(text), at + 30)))
        put = data.draw(
            st.sampled_from(("", "=", "[", '"', "\n", "0", "-1", "9" * 30, "[[x]]", "{}"))
        )
        text = text[:at] + put + text[upto:]
    check(text)


words = st.sampled_from(
    (
        "name",
        "minutes",
        "block",
        "exercises",
        "warm_up",
        "most",
        "sets",
        "hold_s",
        "reps",
        "fingers",
    )
)
values = st.recursive(
    st.integers(-5, 50) | st.booleans() | words | st.floats(allow_nan=False) | st.dates(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(words, inner, max_size=4),
    max_leaves=12,
)


def written(value: Any) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return f'"{value}"'
        case list():
            return f"[{', '.join(map(written, value))}]"
        case dict():
            return f"{{{', '.join(f'{k} = {written(v)}' for k, v in value.items())}}}"
    return str(value)


@given(st.dictionaries(words, values, max_size=6))
def test_any_shape_of_data_is_a_programme_or_mistakes(data: dict[str, Any]) -> None:
    check("".join(f"{key} = {written(value)}\n" for key, value in data.items()))


def test_bounds_of_doses_are_those_of_the_rules() -> None:
    # What lies beyond them would never move again.
    assert (LOADED_HOLD_S.low, LOADED_HOLD_S.high) == (SHORTEST_S, LONGEST_S)
    assert LOADED_REPS.high == MOST_REPS
    assert BODY_HOLD_S.high == MOST_S


def _pair(bounds: Bounds, *, apart: int = 0) -> st.SearchStrategy[str]:
    return st.tuples(
        st.integers(bounds.low, bounds.high - apart), st.integers(apart, bounds.high)
    ).map(lambda p: f"[{p[0]}, {min(bounds.high, p[0] + p[1])}]")


@st.composite
def doses(draw: st.DrawFn, exercise: Exercise) -> str:
    """Any dose of that exercise that is allowed, as the fields of a file."""
    dose = exercise.dose
    fields = {"sets": str(draw(st.integers(SETS.low, SETS.high)))}
    light = getattr(dose, "share", 1) == 0 or dose.kind in ("timed-hold", "slow-reps", "long-hold")
    rest = LIGHT_REST_S if light else HEAVY_REST_S
    fields["rest_s"] = str(draw(st.integers(rest.low, rest.high)))
    match dose.kind:
        case "loaded-hold" if dose.lifts == 1:
            fields["hold_s"] = str(draw(st.integers(LOADED_HOLD_S.low, LOADED_HOLD_S.high)))
        case "rep-range":
            fields["reps"] = draw(_pair(FREE_REPS if light else LOADED_REPS))
        case "hold-range":
            fields["hold_s"] = draw(_pair(BODY_HOLD_S))
        case "timed-hold":
            fields["hold_s"] = draw(_pair(TIMED_HOLD_S, apart=dose.step_s))
        case "slow-reps":
            fields["reps"] = draw(_pair(SLOW_REPS))
        case "long-hold":
            fields["hold_s"] = draw(_pair(LONG_HOLD_S))
    return ", ".join(f"{key} = {value}" for key, value in fields.items())


@st.composite
def programmes(draw: st.DrawFn) -> Programme:
    """Any programme with some exercises of every block, each at any dose that is allowed."""
    text = 'name = "drawn"\n'
    for name in ("fingers", "pull", "trunk", "balance", "hips"):
        here = [e for e in logged_exercises() if e.block == name]
        chosen = draw(st.lists(st.sampled_from(here), min_size=1, max_size=3, unique=True))
        rows = (f'{{ name = "{e.slug}", {draw(doses(e))} }}' for e in chosen)
        text += f'[[block]]\nname = "{name}"\nexercises = [{", ".join(rows)}]\n'
    text += f"[warm_up]\nramp_percent = [{draw(st.integers(10, 95))}]\n"
    found = programme_from_toml(text)
    assert isinstance(found, Programme), (text, found)
    return found


def _logged(target: Target, effort: str) -> Logged:
    done = SetDone(
        side=target.side,
        load_kg=target.load_kg,
        band=target.band,
        reps=target.reps,
        hold_s=target.hold_s,
        effort=effort,  # type: ignore[arg-type]
        rpe=None,
        left=None,
    )
    sets = (done,) * target.sets
    asked = Asked(target.side, target.sets, target.reps, target.hold_s, target.load_kg)
    return Logged(target.exercise, target.edge_mm, sets, (asked,), None, "")


@settings(max_examples=40, deadline=None)
@given(programmes(), st.data())
def test_evenings_of_any_programme_keep_to_its_doses_and_its_order(
    programme: Programme, data: st.DataObject
) -> None:
    order = [one.exercise.slug for block in programme.blocks for one in block.listed]
    facts: list[tuple[date, Fact]] = [
        (TODAY, KitChanged(plates=PLATES)),
        (TODAY, BodyWeighed(Decimal(70))),
    ]
    for evenings in range(4):
        day = TODAY + timedelta(days=3 * evenings)
        entries = tuple(
            Entry(n, n, datetime(2026, 12, 1, 20, tzinfo=UTC), on, fact)
            for n, (on, fact) in enumerate(facts, start=1)
        )
        tonight = evening(athlete_from_facts(entries, programme), today=day)
        assert tonight.minutes == programme.minutes
        places = [order.index(i.exercise.slug) for i in tonight.items if i.exercise.slug in order]
        assert programme.shares_rests or places == sorted(places)
        for item in tonight.items:
            for target in item.targets:
                # One hand may have moved on to a harder exercise before the other.
                dose = programme.exercise(target.exercise).dose
                assert 0 < target.sets <= dose.sets
                assert target.rest_s == dose.rest_s
                amount = target.hold_s if target.hold_s is not None else target.reps
                assert amount is not None
                if dose.kind == "loaded-hold":
                    assert SHORTEST_S <= amount <= max(LONGEST_S, dose.hold_s)
                if dose.kind == "timed-hold":
                    assert dose.start_s <= amount <= dose.ceiling_s
                if dose.kind == "slow-reps":
                    assert dose.reps <= amount <= dose.most_reps
                effort = data.draw(st.sampled_from(("easy", "ok", "hard", "fail")))
                facts.append((day, _logged(target, effort)))
