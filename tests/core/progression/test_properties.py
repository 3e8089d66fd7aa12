"""What holds whatever was logged: makeable loads, small steps, reasons, determinism."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.athlete import Athlete, DatedLog, DatedPain, Illness
from core.catalogue import HoldRange, LoadedHold, RepRange, get_exercise, logged_exercises
from core.facts import (
    Asked,
    BandOwned,
    Logged,
    PainFelt,
    PlateCount,
    SetDone,
    StartLoadStated,
    WallVisited,
)
from core.history import Stream, stream_of
from core.kit.help import body_loads
from core.kit.inventory import Inventory
from core.kit.loads import loads_from_floor
from core.physiology.effort import reserve
from core.physiology.short_hold import maximum_kg, share_held_frac
from core.progression import RULES, next_targets
from core.target import Target

GREEN = BandOwned("green", Decimal(14))
DAY_0 = date(2026, 12, 1)
SLUGS = [exercise.slug for exercise in logged_exercises()]
FLOOR = [exercise.slug for exercise in logged_exercises() if exercise.from_floor]

efforts = st.sampled_from(["easy", "ok", "hard", "limit", "fail", None])
half_kg = st.integers(1, 80).map(lambda n: Decimal(n) / 2)
kits = st.builds(
    Inventory,
    plates=st.dictionaries(
        st.sampled_from(["0.5", "1", "1.25", "2.5", "5", "10", "20"]).map(Decimal),
        st.integers(1, 4),
        max_size=5,
    ).map(lambda d: tuple(PlateCount(kg, n) for kg, n in sorted(d.items(), reverse=True))),
    pin_kg=st.sampled_from(["0", "1.25", "1.3"]).map(Decimal),
    pin_limit_kg=st.one_of(st.none(), st.integers(5, 60).map(Decimal)),
    bar_limit_kg=st.one_of(st.none(), st.integers(60, 130).map(Decimal)),
    edges_mm=st.sampled_from([(), (20,), (20, 15, 10)]),
    bands=st.sampled_from(
        [
            (),
            (BandOwned("red", Decimal(5)),),
            (BandOwned("red", Decimal(5)), BandOwned("green", Decimal(14))),
        ]
    ),
)


sets_done = st.builds(
    SetDone,
    side=st.sampled_from(["both", "left", "right"]),
    load_kg=st.one_of(half_kg, st.none(), half_kg.map(lambda kg: -kg / 2)),
    band=st.sampled_from([None, None, "red", "blue"]),
    reps=st.one_of(st.none(), st.integers(1, 20)),
    hold_s=st.one_of(st.none(), st.integers(1, 60)),
    effort=efforts,
    rpe=st.sampled_from([None, None, Decimal("8.5"), Decimal(6)]),
    left=st.sampled_from([None, None, 0, 9]),
)


@st.composite
def sessions(draw: st.DrawFn, slug: str, day: int, number: int) -> DatedLog:
    """Some sets alike and perhaps an odd one, asked for or not."""
    alike = draw(sets_done)
    sets = (alike,) * draw(st.integers(0, 4)) + (draw(sets_done),)
    asked = Asked(
        alike.side,
        draw(st.integers(0, 4)),
        draw(st.sampled_from([None, 6, 8])),
        draw(st.sampled_from([None, 7, 10, 15])),
        alike.load_kg,
    )
    edge = draw(st.sampled_from([None, 20, 15]))
    log = Logged(slug, edge, sets, draw(st.sampled_from([(), (asked,)])), None, "")
    return DatedLog(number, DAY_0 + timedelta(days=day), log)


@st.composite
def athletes(draw: st.DrawFn, slugs: list[str]) -> tuple[Athlete, str, date]:
    """Any athlete with any record, an exercise, and a day to ask on."""
    slug = draw(st.sampled_from(slugs))
    days = sorted(draw(st.lists(st.integers(0, 120), max_size=6)))
    others = st.sampled_from([slug, slug, slug, *SLUGS])
    logs = tuple(draw(sessions(draw(others), day, n)) for n, day in enumerate(days))
    last = DAY_0 + timedelta(days=days[-1] if days else 0)
    some_day = st.integers(0, 120).map(lambda n: DAY_0 + timedelta(days=n))
    pains = st.builds(
        DatedPain,
        day=some_day,
        pain=st.builds(
            PainFelt,
            site=st.sampled_from(["finger", "elbow", "knee", None]),
            side=st.none(),
            score=st.one_of(st.none(), st.integers(0, 10)),
            flags=st.sampled_from([(), (), ("pop",)]),
        ),
        cleared=st.one_of(st.none(), some_day),
    )
    athlete = Athlete(
        age=draw(st.sampled_from([None, 15, 17, 30])),
        body_kg=draw(st.one_of(st.none(), st.integers(45, 100).map(Decimal))),
        kit=draw(kits),
        logs=logs,
        pains=tuple(sorted(draw(st.lists(pains, max_size=2)), key=lambda p: p.day)),
        walls=tuple(WallVisited(d, None, None) for d in draw(st.lists(some_day, max_size=2))),
        starts=draw(st.sampled_from([(), (StartLoadStated("half-crimp", Decimal(18), "both"),)])),
        deloads=tuple(sorted(draw(st.lists(some_day, max_size=2)))),
        illnesses=draw(st.sampled_from([(), (Illness(DAY_0, DAY_0 + timedelta(days=9)),)])),
    )
    return athlete, slug, last + timedelta(days=draw(st.sampled_from([0, 1, 3, 12, 25, 60])))


def check_load(target: Target, athlete: Athlete) -> None:
    """The load exists, within the limits, and the plates and band make it exactly."""
    exercise = get_exercise(target.exercise)
    if target.load_kg is None:
        assert target.plates_kg == ()
        return
    if exercise.from_floor:
        loads = loads_from_floor(athlete.kit)
        if athlete.kit.pin_limit_kg is not None:
            assert target.load_kg <= athlete.kit.pin_limit_kg
        if not loads.known:
            assert (target.plates_kg, target.pin_kg) == ((), None)
            return
        assert target.load_kg in loads.totals_kg
        assert target.pin_kg is not None
        assert sum(target.plates_kg, target.pin_kg) == target.load_kg
        return
    used = [s.load_kg for d in athlete.logs for s in d.log.sets if s.load_kg is not None]
    body = body_loads(
        athlete.kit, takes_help=exercise.takes_help, body_kg=athlete.body_kg, used_kg=used
    )
    if not body.is_known(target.load_kg):
        assert target.load_kg in used
        assert (target.plates_kg, target.band) == ((), None)
        return
    assert target.load_kg in body.totals_kg
    assert sum(target.plates_kg) == max(target.load_kg, 0)
    assert (target.band is not None) == (target.load_kg < 0)
    if athlete.body_kg is not None and athlete.kit.bar_limit_kg is not None:
        assert athlete.body_kg + target.load_kg <= athlete.kit.bar_limit_kg


@given(athletes(SLUGS))
@settings(max_examples=200, deadline=None)
def test_every_target_can_be_loaded_and_is_explained(drawn) -> None:
    athlete, slug, today = drawn
    targets = next_targets(athlete, slug, today=today)
    assert targets
    for target in targets:
        assert target.reasons
        for reason in target.reasons:
            rule = RULES[reason.rule]
            names = {name for name, _ in reason.facts}
            assert set(rule.facts) <= names <= {*rule.facts, *rule.may}
        check_load(target, athlete)
        assert (target.sets == 0) == (target.change == "stopped")
        assert target.sets <= get_exercise(target.exercise).dose.sets
        assert not target.by_set or len(target.by_set) == target.sets
        aims = target.by_set or (target.reps if target.hold_s is None else target.hold_s,)
        assert all(aim is not None and aim >= 1 for aim in aims)


@given(athletes(SLUGS))
@settings(max_examples=40, deadline=None)
def test_the_same_record_gives_the_same_answer(drawn) -> None:
    athlete, slug, today = drawn
    assert next_targets(athlete, slug, today=today) == next_targets(athlete, slug, today=today)
    shuffled = replace(athlete, logs=tuple(reversed(athlete.logs)))
    ordered = replace(shuffled, logs=tuple(sorted(shuffled.logs, key=lambda d: (d.day, d.number))))
    assert next_targets(ordered, slug, today=today) == next_targets(athlete, slug, today=today)


@given(athletes(FLOOR))
@settings(max_examples=200, deadline=None)
def test_no_load_from_the_floor_steps_up_more_than_five_percent_unbridged(drawn) -> None:
    athlete, slug, today = drawn
    for target in next_targets(athlete, slug, today=today):
        moved = target.exercise != slug
        stream = stream_of(athlete, target.exercise, side=target.side, edge_mm=target.edge_mm)
        loads = [s.top_load_kg for s in stream.sessions if s.top_load_kg is not None]
        held = [load for load in loads if load > 0]
        if target.change in ("first", "stopped", "harder-variation") or moved or not held:
            continue
        assert target.load_kg is not None
        shown = max(held) if athlete.deloads or athlete.illnesses else held[-1]
        known = any(r.rule == "known-step" for r in target.reasons) and target.load_kg <= max(held)
        allowed = known or is_bridged(target) or is_found(target, stream)
        assert target.load_kg <= shown * Decimal("1.05") or allowed


def is_bridged(target: Target) -> bool:
    """A bigger step at a hold that the curve of short holds predicts."""
    bridge = next((r for r in target.reasons if r.rule == "step-bridged"), None)
    if bridge is None or target.load_kg is None or target.hold_s is None:
        return False
    from_kg, hold_s = bridge.get("from_kg"), bridge.get("hold_s")
    assert isinstance(from_kg, Decimal)
    assert isinstance(hold_s, int)
    most = maximum_kg(float(from_kg), held_s=hold_s, reserve_s=0)
    holdable = most * share_held_frac(target.hold_s)
    return target.hold_s < hold_s and float(target.load_kg) <= holdable * (1 + 1e-9)


@dataclass
class Obedient:
    """Somebody who does what is asked, and says how it went."""

    athlete: Athlete
    slug: str

    def evening(self, today: date, effort: str) -> tuple[Target, ...]:
        targets = next_targets(self.athlete, self.slug, today=today)
        for target in targets:
            aims = target.by_set or (target.reps if target.hold_s is None else target.hold_s,) * (
                target.sets
            )
            held = target.hold_s is not None
            sets = tuple(
                SetDone(target.side, target.load_kg, band=target.band, effort=effort,  # type: ignore[arg-type]
                        hold_s=aim if held else None, reps=target.reps if held else aim)
                for aim in aims
            )  # fmt: skip
            if not sets:
                continue
            asked = Asked(target.side, target.sets, target.reps, target.hold_s, target.load_kg)
            log = Logged(target.exercise, target.edge_mm, sets, (asked,), None, "")
            dated = DatedLog(len(self.athlete.logs) + 1, today, log)
            self.athlete = replace(self.athlete, logs=(*self.athlete.logs, dated))
        return targets


@given(kits, st.sampled_from(FLOOR), st.lists(efforts, min_size=8, max_size=24), st.integers(2, 4))
@settings(max_examples=60, deadline=None)
def test_fingers_never_exceed_ten_percent_over_the_load_of_28_days_ago(
    kit, slug, said, gap
) -> None:
    person = Obedient(Athlete(kit=kit, body_kg=Decimal(70)), slug)
    record: dict[tuple[str, str, int | None], list[tuple[date, Decimal]]] = {}
    for n, effort in enumerate(said):
        today = DAY_0 + timedelta(days=gap * n)
        for target in person.evening(today, effort):
            line = record.setdefault((target.exercise, target.side, target.edge_mm), [])
            assert target.load_kg is not None or target.change == "stopped"
            if target.load_kg is None:
                continue
            old = [(day, kg) for day, kg in line[3:] if (today - day).days >= 28]
            used_to = [kg for day, kg in old if (old[-1][0] - day).days <= 14]
            if used_to:
                assert target.load_kg <= max(used_to) * Decimal("1.10")
            # The loads of an easier week are not what the fingers are used to.
            if target.sets and target.change != "deload":
                line.append((today, target.load_kg))


@pytest.mark.parametrize("slug", SLUGS)
def test_steady_ok_evenings_lead_upwards_and_never_past_what_the_kit_allows(slug) -> None:
    """Twenty weeks of ok evenings: something has gone up, everything could be loaded."""
    plates = tuple(PlateCount(Decimal(kg), 4) for kg in ("10", "5", "2.5", "1.25", "0.5"))
    kit = Inventory(plates=plates, bands=(BandOwned("red", Decimal(6)),), edges_mm=(20, 15))
    person = Obedient(Athlete(kit=kit, body_kg=Decimal(70)), slug)
    dose = get_exercise(slug).dose
    seen = []
    for week in range(20):
        for day in (0, 3):
            targets = person.evening(DAY_0 + timedelta(days=7 * week + day), "ok")
            seen.append(targets[0])
            for target in targets:
                check_load(target, person.athlete)
    assert {t.change for t in seen} & {"up", "longer", "harder-variation"}
    assert not {t.change for t in seen} & {"down", "stopped", "easier-variation", "return"}
    if isinstance(dose, LoadedHold) or (isinstance(dose, RepRange | HoldRange) and dose.share > 0):
        full = [t for t in seen if t.change != "deload"]
        first, last = full[0], full[-1]
        assert first.load_kg is not None
        assert last.load_kg is not None
        assert last.load_kg > first.load_kg or last.exercise != slug


def is_found(target: Target, stream: Stream) -> bool:
    """A load of the first four sessions that by the curve and the best set leaves three seconds."""
    if all(r.rule != "level-by-curve" for r in target.reasons) or target.hold_s is None:
        return False
    best_kg = max(
        maximum_kg(float(done.load_kg), held_s=done.hold_s, reserve_s=left_in(done))
        for session in stream.sessions
        for done in session.sets
        if done.load_kg and done.load_kg > 0 and done.hold_s
    )
    assert target.load_kg is not None
    return float(target.load_kg) <= best_kg * share_held_frac(target.hold_s + 3) * (1 + 1e-9)


def left_in(done: SetDone) -> float:
    """Seconds left in a set, as they were said."""
    return float(reserve(done.effort, rpe=done.rpe, left=done.left) or 0)
