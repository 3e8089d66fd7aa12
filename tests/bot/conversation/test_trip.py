"""On a trip with a kit of its own: what is noted, what is planned, and home again."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest

from core.planning import evening, standing_targets
from core.progression import next_targets

HOME = (
    "zone Europe/Oslo",
    "plates 2x10 2x5 2x2.5 4x1.25 2x0.5",
    "pin 1.25kg",
    "bw 71",
    "age 34",
    "edges 20",
    "bar 120kg",
    "band green 12kg",
    "evenings tue thu 20:30 60 min",
    "crimp 4x20kg ok",
)
WEDNESDAY, NEXT_TUESDAY = date(2026, 12, 2), date(2026, 12, 15)


@pytest.fixture
def says(talker: Callable[..., Callable[..., str]]) -> Callable[..., str]:
    return talker(*HOME)


def test_what_is_packed_is_said_and_leaves_the_kit_at_home_alone(says) -> None:
    answer = says("away until 14 dec with green band, a bar and edge 25")
    assert "Kit for this trip: green band, edge 25 mm and a bar" in answer
    assert "Your kit at home stays as it was." in answer
    assert "Type tonight for an evening with that kit." in answer
    assert says.athlete.kit.edges_mm == (20,)
    assert says.athlete.kit.bar_limit_kg == 120


def test_kit_lines_on_a_trip_are_about_the_trip(says) -> None:
    answer = says("away until 14 dec", "plates 2x5")
    assert answer.splitlines()[:2] == [
        "On this trip: plates 2x5 kg.",
        "Your kit at home stays as it was.",
    ]
    # By hand: at home 20 + 10 + 5 + 5 + 1 = 41 kg of plates; there 10.
    assert sum(p.kg * p.count for p in says.athlete.kit.plates) == 41
    answer = says("kit")
    assert "Kit for this trip: plates 2x5 kg." in answer
    assert "Your kit at home:\n· plates 2x10" in answer


def test_a_band_nobody_measured_is_asked_about(talker) -> None:
    says = talker(*HOME[:6])
    assert "How much does the red band take off?" in says("away with red band")


def test_away_with_more_while_away_keeps_the_end(says) -> None:
    says("away until 14 dec with edge 25")
    answer = says("away with green band")
    assert "Paused" not in answer
    assert says.athlete.pause[1].until == date(2026, 12, 14)
    assert "green band and edge 25 mm" in answer


def test_a_longer_trip_is_the_same_trip(says) -> None:
    says("away until 14 dec with edge 25", "away until 16 dec")
    (trip,) = says.athlete.trips
    assert (trip.until, trip.kit.edges_mm) == (date(2026, 12, 16), (25,))


def test_without_a_kit_a_trip_is_planned_without_any(says) -> None:
    says("away until 14 dec")
    tonight = evening(says.athlete, today=WEDNESDAY)
    assert {i.exercise.block for i in tonight.items} <= {"trunk", "hips", "balance"}


def test_the_evening_of_a_trip_is_made_of_what_is_there(says) -> None:
    says("away until 14 dec with green band, a bar and edge 25", days=1)
    tonight = evening(says.athlete, today=date(2026, 12, 3))
    slugs = [i.exercise.slug for i in tonight.items]
    # An edge and a bar, no plates: fingers hang, nothing is lifted from the floor.
    assert slugs[:2] == ["dead-hang", "wide-pull-up"]
    assert not any(i.exercise.from_floor for i in tonight.items)


def test_lighter_plates_on_a_trip_do_not_lower_the_level_at_home(says) -> None:
    says("away until 14 dec", "plates 2x5", days=1)
    assert "Next time" in says("crimp 4x10kg ok")
    says("back", days=8)
    target = standing_targets(says.athlete, "half-crimp", today=date(2026, 12, 12))[0]
    # Loaded ten days before, so no time off; at home the load goes on from 20 kg, by one step.
    assert (target.change, target.load_kg) == ("up", Decimal("20.5"))


def test_a_failed_set_on_a_trip_counts_at_home(says) -> None:
    says("away until 14 dec", "plates 2x5", "crimp 10kg fail, 10kg fail, 10kg fail", days=2)
    says("back", days=8)
    target = next_targets(says.athlete, "half-crimp", today=NEXT_TUESDAY)[0]
    assert target.load_kg < 20


def test_an_edge_held_on_a_trip_is_not_the_one_at_home(says) -> None:
    says("away until 14 dec with edge 25", "plates 2x5", "crimp 4x10kg ok", days=2)
    logged = says.athlete.logs[-1].log
    assert logged.edge_mm == 25
    says("back")
    # The trip's evening and the return on one day: what was lifted before is the trip's.
    assert next_targets(says.athlete, "half-crimp", today=NEXT_TUESDAY)[0].edge_mm == 20


def test_what_was_lifted_at_home_before_leaving_is_from_home(talker) -> None:
    says = talker(*HOME)
    says("away until 14 dec with edge 25")
    assert next_targets(says.athlete, "half-crimp", today=NEXT_TUESDAY)[0].edge_mm == 20


def test_a_borrowed_kit_leads_to_no_harder_grip(says) -> None:
    says("away until 14 dec", "plates 2x5", days=2)
    says("crimp 4x10kg ok")
    target = standing_targets(says.athlete, "half-crimp", today=date(2026, 12, 8))[0]
    assert target.exercise == "half-crimp"
    assert target.load_kg == 10


def test_back_brings_the_kit_at_home_back(says) -> None:
    says("away until 14 dec with edge 25")
    assert "Your kit at home holds again." in says("back", days=2)
    assert "Your kit:\n" in says("kit")


def test_the_end_of_the_trip_brings_it_back_without_a_word(says) -> None:
    says("away until 14 dec with edge 25")
    assert "Your kit:\n" in says("kit", days=13)


def test_undo_unpacks(says) -> None:
    says("away until 14 dec", "plates 2x5")
    assert "the kit for the trip" in says("undo")
    assert says.athlete.trips[0].kit is None


def test_week_offers_fingers_on_a_trip_with_a_kit(says) -> None:
    says("away until 14 dec with edge 25 and a bar", days=1)
    week = says("week")
    assert "· away until Mon 14 Dec" in week
    assert "· Thu 3 Dec: fingers if you like" in week


def test_trips_without_plates_ask_for_none(says) -> None:
    says("away until 14 dec with green band and a bar", days=1)
    assert "tell me your plates" not in says("tonight")
