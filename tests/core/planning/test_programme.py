"""Evenings and weeks by another programme than the default one."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from core.athlete import Athlete, athlete_from_facts
from core.facts import (
    Entry,
    EveningsPlanned,
    Fact,
    KitChanged,
    Logged,
    PlateCount,
    SetDone,
    StartLoadStated,
)
from core.planning import evening, item_tonight, ramp_kg
from core.planning.week import day_plan, days_ahead
from core.programme import Programme, programme_from_toml
from core.progression.deload import deload_on

MONDAY = date(2026, 11, 30)
PLATES = KitChanged(plates=(PlateCount(Decimal(10), 4), PlateCount(Decimal("1.25"), 4)))
START = StartLoadStated("half-crimp", Decimal(20), "both")


def programme(text: str) -> Programme:
    found = programme_from_toml(f'name = "x"\n{text}')
    assert isinstance(found, Programme), found
    return found


def block(name: str, *exercises: str, more: str = "") -> str:
    rows = ", ".join(f"{{ {one} }}" for one in exercises)
    return f'[[block]]\nname = "{name}"\n{more}\nexercises = [{rows}]\n'


def person(found: Programme, *facts: tuple[date, Fact]) -> Athlete:
    entries = tuple(
        Entry(n, n, datetime(2026, 11, 30, 18, tzinfo=UTC), day, fact)
        for n, (day, fact) in enumerate(facts, start=1)
    )
    return athlete_from_facts(entries, found)


def logged(slug: str, *, reps: int | None = None, hold_s: int | None = None) -> Logged:
    done = SetDone("both", None, None, reps, hold_s, "ok", None, None)
    return Logged(slug, None, (done,) * 3, (), None, "")


def test_a_dose_of_the_programme_is_asked_and_costs_its_own_time() -> None:
    usual = programme(block("fingers", 'name = "half-crimp"'))
    other = programme(block("fingers", 'name = "half-crimp", sets = 5, hold_s = 7, rest_s = 90'))
    nights = [
        evening(person(p, (MONDAY, PLATES), (MONDAY, START)), today=MONDAY) for p in (usual, other)
    ]
    asked = [[(t.sets, t.hold_s, t.rest_s) for t in n.items[0].targets] for n in nights]
    assert asked == [[(4, 10, 120)] * 2, [(5, 7, 90)] * 2]
    # By hand: both hands and a change of 5 s, then the rest: 4 x (25 + 120) and 5 x (19 + 90).
    assert nights[0].seconds - nights[1].seconds == 4 * 145 - 5 * 109


def test_blocks_and_exercises_come_in_the_order_of_the_file() -> None:
    found = programme(
        block("trunk", 'name = "l-sit"', 'name = "long-lever-plank"')
        + block("pull", 'name = "pull-up"')
        + block("hips", 'name = "side-split"', 'name = "pancake"')
    )
    items = evening(person(found), today=MONDAY).items
    slugs = [i.exercise.slug for i in items]
    assert slugs == ["l-sit", "long-lever-plank", "pull-up", "side-split", "pancake"]


def test_the_most_exercises_of_a_block_are_those_of_the_first_priorities() -> None:
    found = programme(
        block(
            "hips",
            'name = "cossack-squat", priority = 3',
            'name = "pancake", priority = 1',
            'name = "side-split", priority = 2',
            more="most = 2",
        )
    )
    items = evening(person(found), today=MONDAY).items
    assert [i.exercise.slug for i in items] == ["pancake", "side-split"]


def test_others_than_those_of_every_evening_take_turns() -> None:
    rows = ('name = "cossack-squat"', 'name = "pancake"', 'name = "side-split"')
    found = programme(block("hips", *rows, more="most = 2\nevery_evening = 1"))
    facts: list[tuple[date, Fact]] = []
    seen = []
    for evenings in range(3):
        day = MONDAY + timedelta(days=2 * evenings)
        items = evening(person(found, *facts), today=day).items
        seen.append([i.exercise.slug for i in items])
        facts += [(day, logged(i.exercise.slug, reps=6)) for i in items]
    one, two = ["cossack-squat", "pancake"], ["cossack-squat", "side-split"]
    assert seen == [one, two, one]


def test_an_optional_exercise_stays_as_long_as_the_programme_says() -> None:
    rows = block("pull", 'name = "pull-up", optional = true') + block("hips", 'name = "pancake"')
    found = programme("optional_days = 7\n" + rows)
    assert [i.exercise.slug for i in evening(person(found), today=MONDAY).items] == ["pancake"]
    someone = person(found, (MONDAY, logged("pull-up", reps=6)))
    for days, there in ((7, True), (8, False)):
        tonight = evening(someone, today=MONDAY + timedelta(days=days))
        assert (tonight.find("pull-up") is not None) == there


def test_the_easier_week_comes_as_often_as_the_programme_says() -> None:
    weekly = [(MONDAY + timedelta(weeks=n), logged("pancake", reps=6)) for n in range(5)]
    rows = block("hips", 'name = "pancake"')
    for weeks in (4, 5, 6):
        someone = person(programme(f"deload_every_weeks = {weeks}\n{rows}"), *weekly[: weeks - 1])
        before, day = (MONDAY + timedelta(weeks=n) for n in (weeks - 2, weeks - 1))
        assert deload_on(someone, before) is None
        found = deload_on(someone, day)
        assert found is not None
        assert (found.since, found.cause) == (day, "planned")
        why = item_tonight(someone, "pancake", today=day).targets[0].reasons[0]
        assert (why.rule, why.get("weeks")) == ("deload-planned", weeks - 1)


def test_minutes_hold_until_the_athlete_names_theirs() -> None:
    found = programme("minutes = 40\n" + block("hips", 'name = "pancake"'))
    assert evening(person(found), today=MONDAY).minutes == 40
    asked = EveningsPlanned(("mon",), "20:00", None)
    assert evening(person(found, (MONDAY, asked)), today=MONDAY).minutes == 40
    said = EveningsPlanned(("mon",), "20:00", 50)
    assert evening(person(found, (MONDAY, said)), today=MONDAY).minutes == 50


def test_rests_are_shared_where_the_programme_says_so() -> None:
    rows = block("trunk", 'name = "l-sit"') + block("hips", 'name = "pancake"')
    apart, shared = (
        evening(person(programme(f"share_rests = {said}\n{rows}")), today=MONDAY)
        for said in ("false", "true")
    )
    assert apart.alternating == ()
    assert shared.alternating == (("l-sit", "pancake"),)
    assert shared.seconds < apart.seconds


def test_ramp_and_warm_up_are_those_of_the_programme() -> None:
    found = programme(
        block("fingers", 'name = "half-crimp"')
        + "[warm_up]\nramp_percent = [50]\n"
        + 'exercises = [{ name = "pulse-raiser", hold_s = [240, 300] },'
        + '{ name = "finger-opening" }]\n'
    )
    someone = person(found, (MONDAY, PLATES), (MONDAY, START))
    tonight = evening(someone, today=MONDAY)
    assert [e.slug for e in tonight.warm_up] == ["pulse-raiser", "finger-opening"]
    assert tonight.warm_up[0].dose.kind == "long-hold"
    assert tonight.warm_up[0].dose.least_s == 240
    # Half of 20 kg, which the plates make.
    assert ramp_kg(someone, tonight) == (Decimal(10),)


def test_a_week_without_a_finger_block_plans_no_fingers_and_says_why() -> None:
    evenings = EveningsPlanned(("mon", "thu"), "20:00", 60)
    someone = person(
        programme(block("hips", 'name = "pancake"')), (MONDAY, PLATES), (MONDAY, evenings)
    )
    plan = day_plan(someone, MONDAY, today=MONDAY)
    assert (plan.fingers, plan.blocks) == ("none", ("hips",))
    assert [r.rule for r in plan.reasons] == ["no-finger-block"]
    assert all(p.fingers == "none" for p in days_ahead(someone, today=MONDAY))


def test_an_exercise_outside_the_programme_is_dosed_by_the_catalogue() -> None:
    someone = person(programme(block("hips", 'name = "pancake"')))
    assert evening(someone, today=MONDAY).find("pull-up") is None
    assert item_tonight(someone, "pull-up", today=MONDAY).targets[0].sets == 3


def test_a_harder_exercise_begins_with_its_own_dose() -> None:
    rows = (
        'name = "half-crimp", sets = 5, hold_s = 7',
        'name = "three-finger-crimp", sets = 3, hold_s = 12, rest_s = 90',
    )
    # 15 kg is all that these plates make, and it was ok: on to the next exercise of the ladder.
    plates = KitChanged(plates=(PlateCount(Decimal(10), 1), PlateCount(Decimal(5), 1)))
    done = SetDone("both", Decimal(15), None, None, 7, "ok", None, None)
    someone = person(
        programme(block("fingers", *rows)),
        (MONDAY, plates),
        (MONDAY, Logged("half-crimp", None, (done,) * 5, (), None, "")),
    )
    targets = item_tonight(someone, "half-crimp", today=MONDAY + timedelta(days=2)).targets
    asked = {(t.exercise, t.sets, t.hold_s, t.rest_s, t.load_kg) for t in targets}
    # The greatest load of at most half of 15 kg is 5 kg.
    assert asked == {("three-finger-crimp", 3, 12, 90, Decimal(5))}
