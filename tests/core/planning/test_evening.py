"""Tonight: order, minutes, what gives way to what, what is left."""

from datetime import UTC, date, datetime
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from core.athlete import Athlete, athlete_from_facts
from core.facts import (
    Entry,
    EveningsPlanned,
    Fact,
    KitChanged,
    Logged,
    PlateCount,
    SetDone,
    Side,
    Skipped,
    StartLoadStated,
    Swapped,
    TimeLimited,
    WallVisited,
)
from core.kit.loads import loads_from_floor
from core.planning import evening, item_tonight, ramp_kg, standing_targets

TODAY = date(2026, 12, 1)
NOW = datetime(2026, 12, 1, 19, 0, tzinfo=UTC)
PLATES = tuple(
    PlateCount(Decimal(kg), count)
    for kg, count in (("10", 2), ("5", 2), ("2.5", 2), ("1.25", 4), ("0.5", 2))
)
KIT = KitChanged(plates=PLATES, pin_kg=Decimal("1.25"))
BLOCKS = ["fingers", "pull", "trunk", "hips", "balance"]


def athlete(*facts: Fact, day: date = TODAY) -> Athlete:
    return athlete_from_facts(tuple(Entry(n, n, NOW, day, f) for n, f in enumerate(facts, start=1)))


def crimps(count: int, side: Side = "both") -> Logged:
    sets = (SetDone(side, Decimal("22.5"), hold_s=10, effort="ok"),) * count
    return Logged("half-crimp", None, sets, (), None, "")


def minutes(amount: int) -> EveningsPlanned:
    return EveningsPlanned(("tue",), "20:30", amount)


def slugs(person: Athlete) -> list[str]:
    return [i.exercise.slug for i in evening(person, today=TODAY).items]


@given(amount=st.integers(10, 180))
@settings(max_examples=60, deadline=None)
def test_blocks_keep_their_order_and_the_time_there_is(amount: int) -> None:
    tonight = evening(athlete(KIT, minutes(amount)), today=TODAY)
    places = [BLOCKS.index(i.exercise.block) for i in tonight.items]
    assert places == sorted(places)
    assert tonight.items
    assert tonight.warm_up
    assert tonight.seconds <= amount * 60 or len(tonight.items) == 1


@given(amount=st.integers(20, 170))
@settings(max_examples=30, deadline=None)
def test_more_minutes_never_mean_less_training(amount: int) -> None:
    shorter = evening(athlete(KIT, minutes(amount)), today=TODAY)
    longer = evening(athlete(KIT, minutes(amount + 10)), today=TODAY)
    assert len(longer.items) >= len(shorter.items) - 1
    assert longer.seconds >= shorter.seconds - 300


def test_nothing_cut_would_still_fit() -> None:
    tonight = evening(athlete(KIT, minutes(60)), today=TODAY)
    assert tonight.cut
    free_s = 60 * 60 - tonight.seconds
    whole = evening(athlete(KIT, minutes(600)), today=TODAY)
    assert not whole.cut
    assert free_s < 5 * 60  # the shortest exercise that was cut takes longer than what is left


def test_the_first_grip_comes_every_evening_and_the_others_take_turns() -> None:
    grips = KitChanged(
        grips=("half-crimp", "open-hand", "wide-pinch", "narrow-pinch", "rolling-handle")
    )
    yesterday = date(2026, 11, 28)
    pinched = Logged("wide-pinch", None, crimps(4).sets, (), None, "")
    entries = tuple(
        Entry(n, n, NOW, d, f)
        for n, (d, f) in enumerate(
            [(TODAY, KIT), (TODAY, grips), (TODAY, minutes(90)), (yesterday, pinched)], start=1
        )
    )
    fingers = [s for s in slugs(athlete_from_facts(entries)) if s in (grips.grips or ())]
    assert fingers[0] == "half-crimp"
    assert "wide-pinch" not in fingers
    assert len(fingers) == 3


def test_the_wall_takes_the_place_of_fingers_and_pull_and_hips_stay() -> None:
    tonight = evening(athlete(KIT, minutes(90), WallVisited(TODAY, 90, None)), today=TODAY)
    blocks = {i.exercise.block for i in tonight.items}
    assert tonight.at_wall
    assert "hips" in blocks
    assert not blocks & {"fingers", "pull"}


def test_without_plates_no_finger_lift_is_made_up() -> None:
    assert not any(s in slugs(athlete(minutes(90))) for s in ("half-crimp", "open-hand"))
    assert "half-crimp" in slugs(athlete(minutes(90), crimps(4)))


def test_without_a_bar_nothing_is_pulled() -> None:
    tonight = evening(athlete(KIT, minutes(90), KitChanged(bar_limit_kg=Decimal(0))), today=TODAY)
    assert not any(
        "bar" in e.needs for e in (*tonight.warm_up, *(i.exercise for i in tonight.items))
    )


def test_sets_done_are_counted_off_per_hand() -> None:
    item = item_tonight(athlete(KIT, crimps(2), crimps(1, "left")), "half-crimp", today=TODAY)
    assert [t.side for t in item.targets] == ["left", "right"]
    assert item.left == (1, 2)
    assert item.is_begun
    assert item.is_open


def test_standing_targets_are_the_rest_of_tonight_then_the_next_time() -> None:
    half_way = standing_targets(athlete(KIT, crimps(3)), "half-crimp", today=TODAY)
    assert [t.sets for t in half_way] == [1, 1]
    complete = standing_targets(athlete(KIT, crimps(4)), "half-crimp", today=TODAY)
    assert [t.sets for t in complete] == [4, 4]
    assert {t.change for t in complete} == {"up"}


def test_a_skipped_exercise_stays_listed_and_is_not_current() -> None:
    tonight = evening(athlete(KIT, minutes(60), Skipped("half-crimp")), today=TODAY)
    item = tonight.find("half-crimp")
    assert item is not None
    assert item.skipped
    assert tonight.current is not None
    assert tonight.current.exercise.slug != "half-crimp"


def test_a_swapped_exercise_makes_room_for_another() -> None:
    before = slugs(athlete(KIT, minutes(60)))
    after = slugs(athlete(KIT, minutes(60), Swapped("cossack-squat")))
    assert "cossack-squat" in before
    assert "cossack-squat" not in after


def test_a_time_limit_holds_for_its_own_day_only() -> None:
    person = athlete(KIT, minutes(60), TimeLimited(25))
    assert evening(person, today=TODAY).minutes == 25
    assert evening(person, today=date(2026, 12, 3)).minutes == 60


def test_ramp_lifts_rise_under_the_top_load_and_can_be_made() -> None:
    person = athlete(KIT, minutes(60), StartLoadStated("half-crimp", Decimal(20), "both"))
    ramp = ramp_kg(person, evening(person, today=TODAY))
    loads = loads_from_floor(person.kit)
    # Common practice, no source: about 40, 60 and 80 % of the top load; here of 20 kg.
    assert len(ramp) == 3
    for kg, wanted in zip(ramp, (8, 12, 16), strict=True):
        assert wanted - 1 <= kg <= wanted
        assert loads.at_most(kg) == kg
