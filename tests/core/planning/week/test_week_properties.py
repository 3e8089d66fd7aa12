"""What no sequence of facts may break: the rules of spacing, and the calm of the week."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from itertools import combinations, pairwise, product
from typing import Any
from zoneinfo import ZoneInfo

from dateutil import rrule
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from core.athlete import Athlete
from core.facts import (
    WEEKDAYS,
    CameBack,
    DeloadAsked,
    EveningDropped,
    EveningMoved,
    EveningsPlanned,
    Fact,
    PainFelt,
    Paused,
    WallDaysPlanned,
    WallVisited,
)
from core.planning.week import DayPlan, days_ahead, home_evenings

Begin = Callable[..., Any]
MONDAY = date(2026, 11, 30)
OSLO = ZoneInfo("Europe/Oslo")
HORIZON = 21
TRAINED = "trained"


def on(day: int) -> date:
    return MONDAY + timedelta(days=day)


NAMES = st.lists(st.sampled_from(WEEKDAYS), unique=True, max_size=5).map(tuple)


@st.composite
def happenings(draw: st.DrawFn) -> tuple[int, Fact | str]:
    """One fact on one of twenty days, or fingers trained on it."""
    day = draw(st.integers(0, 20))
    other = st.integers(-2, 9).map(lambda ahead: on(day + ahead))
    hour = st.sampled_from(["06:00", "18:30", "20:30", "23:45", "01:15"])
    fact = draw(
        st.one_of(
            st.builds(EveningsPlanned, NAMES, hour, st.just(60)),
            st.builds(WallDaysPlanned, NAMES),
            st.builds(WallVisited, other, st.none(), st.none()),
            st.builds(
                EveningMoved, other, st.tuples(other, hour).map(lambda t: f"{t[0]}T{t[1]}")
            ),
            st.builds(EveningDropped, other),
            st.builds(Paused, other | st.none(), st.sampled_from(["rest", "sick", "away"])),
            st.just(CameBack()),
            st.just(DeloadAsked()),
            st.builds(PainFelt, st.sampled_from(["finger", "elbow"]), st.none(),
                      st.integers(0, 6), st.sampled_from([(), ("pop",)])),
            st.just(TRAINED),
        )
    )  # fmt: skip
    return day, fact


def lived(life: Begin, facts: list[tuple[int, Fact | str]]) -> Any:
    someone = life("mon tue thu sat")
    for day, fact in sorted(facts, key=lambda pair: pair[0]):
        if isinstance(fact, str):
            someone.crimped(day)
        else:
            someone.on(day, fact)
    return someone


def begun(plan: DayPlan) -> datetime:
    assert plan.evening is not None
    return plan.evening.begins.astimezone(OSLO).replace(tzinfo=None)


def loads_fingers(plan: DayPlan) -> bool:
    return plan.fingers != "none"


def walls_of(athlete: Athlete, plans: tuple[DayPlan, ...]) -> set[date]:
    """Wall days to keep free beside: visits, and the planned ones the plan itself shows."""
    return {w.on for w in athlete.walls} | {p.day for p in plans if p.kind == "wall"}


@given(facts=st.lists(happenings(), max_size=14), today=st.integers(0, 24))
@settings(max_examples=150, deadline=None)
def test_no_plan_breaks_a_rule_of_spacing(
    life: Begin, facts: list[tuple[int, Fact | str]], today: int
) -> None:
    athlete = lived(life, [(day, fact) for day, fact in facts if day <= today]).athlete
    plans = days_ahead(athlete, today=on(today), days=HORIZON)
    evenings = [p for p in plans if loads_fingers(p) and p.evening is not None]
    for one, other in combinations(evenings, 2):
        assert abs(begun(other) - begun(one)) >= timedelta(hours=48)
    done = {d.day for d in athlete.logs}
    walls = walls_of(athlete, plans)
    for plan in plans:
        if loads_fingers(plan):
            assert plan.kind in ("home", "rest")
            assert not any(abs((plan.day - wall).days) <= 1 for wall in walls)
            assert not any(abs((plan.day - day).days) == 1 for day in done)
            if plan.evening is None and plan.day not in done:
                assert not any(abs((plan.day - e.day).days) == 1 for e in evenings)
        if plan.fingers == "none" and plan.kind == "home":
            assert plan.reasons
        if plan.kind == "wall":
            assert not {"fingers", "pull"} & set(plan.blocks)


@given(
    facts=st.lists(happenings(), max_size=8),
    trains=st.lists(st.booleans(), min_size=30, max_size=30),
)
@settings(max_examples=20, deadline=None)
def test_who_follows_the_plan_never_loads_fingers_on_two_days_running(
    life: Begin, facts: list[tuple[int, Fact | str]], trains: list[bool]
) -> None:
    someone = life("mon tue wed fri sun")
    trained = []
    for today, goes in enumerate(trains):
        someone.on(today, *(f for d, f in facts if d == today and not isinstance(f, str)))
        if goes and loads_fingers(someone.days(today, 1)[0]):
            someone.crimped(today)
            trained.append(today)
    assert all(b - a >= 2 for a, b in pairwise(trained))


# A Monday called off in the week after next, once planned around and once not.
@example(
    facts=[
        (0, EveningsPlanned(("mon", "wed", "sun", "thu"), "06:00", 60)),
        (5, EveningDropped(date(2026, 12, 14))),
    ],
    missed=set(),
)
@given(facts=st.lists(happenings(), max_size=8), missed=st.sets(st.integers(0, 13)))
@settings(max_examples=50, deadline=None)
def test_a_day_that_goes_as_planned_moves_nothing(
    life: Begin, facts: list[tuple[int, Fact | str]], missed: set[int]
) -> None:
    someone = lived(life, [(day, fact) for day, fact in facts if day < 7])
    for today in range(7, 14):
        plans = someone.days(today, 8)
        if loads_fingers(plans[0]) and plans[0].evening is not None:
            if today in missed:
                continue
            someone.crimped(today)
        later = someone.days(today + 1, 7)
        assert [p.fingers == "none" for p in plans[1:]] == [p.fingers == "none" for p in later]


WEEK_DAYS = st.lists(st.sampled_from(WEEKDAYS), unique=True, min_size=1, max_size=3)


@given(days=WEEK_DAYS, walls=st.lists(st.sampled_from(WEEKDAYS), max_size=1), change=st.data())
@settings(max_examples=60, deadline=None)
def test_one_change_moves_as_little_as_the_rules_allow(
    life: Begin, days: list[str], walls: list[str], change: st.DataObject
) -> None:
    someone = life(" ".join(days), " ".join(walls))
    before = someone.days(0, HORIZON)
    day = change.draw(st.sampled_from([p.day for p in before[:14] if p.evening is not None]))
    to = day + timedelta(days=change.draw(st.integers(-2, 4)))
    assume(to >= MONDAY)
    fact = change.draw(
        st.sampled_from(
            [WallVisited(to, None, None), EveningDropped(day), EveningMoved(day, f"{to}T20:30")]
        )
    )
    after = someone.on(0, fact).days(0, HORIZON)
    then = {p.evening.planned for p in before if p.evening is not None and loads_fingers(p)}
    held = [p for p in after if p.evening is not None]
    now = tuple(loads_fingers(p) for p in held)
    off = walls_of(someone.athlete, after)
    # The Sunday before and the Monday after the horizon may be wall days too.
    off |= {on(n) for n in (-1, HORIZON) if WEEKDAYS[on(n).weekday()] in walls}
    free = [not any(abs((p.day - w).days) <= 1 for w in off) for p in held]
    gone = {fact.on} if isinstance(fact, EveningDropped) else set()
    best: tuple[int, int] | None = None
    for taken in product((True, False), repeat=len(held)):
        picked = [p.day for p, t in zip(held, taken, strict=True) if t]
        if all(f or not t for f, t in zip(free, taken, strict=True)) and can_stand(
            picked, [d for d in gone if d in then]
        ):
            moved = sum(t != (p.evening.planned in then) for p, t in zip(held, taken, strict=True))
            best = max(best or (-1, 0), (len(picked), -moved))
    mine = sum(t != (p.evening.planned in then) for p, t in zip(held, now, strict=True))
    assert (sum(now), -mine) == best


def can_stand(picked: list[date], called_off: list[date]) -> bool:
    """Two days apart; and each week so that it could be repeated, what was called off included."""
    for one, other in combinations(sorted(picked), 2):
        if (other - one).days < 2:
            return False
    for week in range(3):
        days = [on(week * 7 + n) for n in range(7)]
        inside = [d for d in picked if d in days]
        first = min([*inside, *(d for d in called_off if d in days)], default=None)
        if first is not None and any(7 - (d - first).days < 2 for d in inside if d > first):
            return False
    return True


FROM = datetime(2025, 1, 1)  # noqa: DTZ001 - hypothesis wants it bare
TO = datetime(2030, 12, 31)  # noqa: DTZ001
ZONES = ["Europe/Oslo", "America/New_York", "Australia/Lord_Howe", "Pacific/Auckland", "UTC"]


@given(
    start=st.dates(FROM.date(), TO.date()),
    zone=st.sampled_from(ZONES),
    names=st.sets(st.sampled_from(WEEKDAYS), min_size=1),
    minute=st.integers(4 * 60, 24 * 60 - 1),
)
@settings(max_examples=200, deadline=None)
def test_home_evenings_are_those_of_dateutil(
    start: date, zone: str, names: set[str], minute: int
) -> None:
    # Independent: dateutil's weekly rule on wall-clock time, the zone put on afterwards.
    at = f"{minute // 60:02d}:{minute % 60:02d}"
    planned = tuple(d for d in WEEKDAYS if d in names)
    athlete = Athlete(zone=zone)
    plan = type(athlete.plan)(days=planned, at=at)
    until = start + timedelta(days=20)
    found = home_evenings(Athlete(zone=zone, plan=plan), since=start, until=until)
    rule = rrule.rrule(
        rrule.WEEKLY,
        dtstart=datetime(start.year, start.month, start.day, minute // 60, minute % 60),  # noqa: DTZ001
        until=datetime(until.year, until.month, until.day, 23, 59),  # noqa: DTZ001
        byweekday=[WEEKDAYS.index(d) for d in planned],
    )
    assert [e.begins for e in found] == [
        moment.replace(tzinfo=ZoneInfo(zone)).astimezone(UTC) for moment in rule
    ]
    assert [e.day for e in found] == [moment.date() for moment in rule]


def test_the_weeks_in_which_the_clocks_change_are_weeks_like_others(life: Begin) -> None:
    # tz database: Oslo puts its clocks forward on Sunday 28 March 2027 and back on 31 October.
    # Saturday to Monday evening is then 47 and 49 hours long, and 48 on the wall clock.
    for sunday in (date(2027, 3, 28), date(2027, 10, 31)):
        someone = life("mon wed sat")
        begin = (sunday - MONDAY).days - 6
        assert someone.fingers(begin, 14) == [begin + n for n in (0, 2, 5, 7, 9, 12)]
        plans = someone.days(begin, 14)
        saturday, monday = (plans[n].evening for n in (5, 7))
        assert (monday.begins - saturday.begins) != timedelta(hours=48)
