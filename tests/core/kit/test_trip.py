"""Trips and the kit on them. Days are those of December 2026."""

from datetime import date
from decimal import Decimal

from core.facts import BandOwned, KitChanged, Paused
from core.kit.trip import Trip, home_on, packed, trip_on, trips_after


def december(day: int) -> date:
    return date(2026, 12, day)


AWAY = Paused(december(14), "away")
EDGE = KitChanged(edges_mm=(25,), for_trip=True)


def test_a_trip_covers_its_days_and_not_the_day_of_the_return() -> None:
    trips = trips_after((), AWAY, december(3), number=7)
    assert [d for d in range(1, 20) if trip_on(trips, december(d))] == list(range(3, 14))


def test_a_trip_holds_what_was_noted_after_it_began_and_before_the_return() -> None:
    (trip,) = home_on(trips_after((), AWAY, december(3), number=7), december(9), number=20)
    assert not trip.holds(december(3), 6)
    assert trip.holds(december(3), 8)
    assert trip.holds(december(9), 19)
    assert not trip.holds(december(9), 21)


def test_nothing_is_there_but_what_is_said() -> None:
    trips = packed(trips_after((), AWAY, december(3), number=7), EDGE)
    kit = trips[0].kit
    assert kit is not None
    assert (kit.edges_mm, kit.plates, kit.bar_limit_kg) == ((25,), (), 0)
    trips = packed(trips, KitChanged(bar=True, for_trip=True))
    band = BandOwned("green", Decimal(12))
    kit = packed(trips, KitChanged(band=band, for_trip=True))[0].kit
    assert kit is not None
    # A bar whose rating nobody knows.
    assert (kit.bar_limit_kg, kit.bands, kit.edges_mm) == (None, (band,), (25,))


def test_kit_for_a_trip_without_a_trip_is_about_nothing() -> None:
    assert packed((), EDGE) == ()


def test_another_pause_ends_the_trip() -> None:
    trips = packed(trips_after((), AWAY, december(3), number=7), EDGE)
    trips = trips_after(trips, Paused(None, "rest"), december(5), number=9)
    assert trip_on(trips, december(5)) is None


def test_a_second_trip_begins_with_nothing() -> None:
    trips = packed(trips_after((), AWAY, december(3), number=7), EDGE)
    trips = trips_after(trips, Paused(december(25), "away"), december(20), number=30)
    assert trips[-1] == Trip(december(20), december(25), 30)


def test_the_entries_that_begin_and_end_a_trip_are_its_bounds() -> None:
    (open_trip,) = trips_after((), AWAY, december(3), number=7)
    assert open_trip.holds(december(3), 7)
    assert not open_trip.holds(december(2), 8)
    assert [open_trip.holds(december(d), 8) for d in (13, 14)] == [True, False]
    (ended,) = home_on((open_trip,), december(9), number=20)
    assert not ended.holds(december(9), 20)
    assert (ended.until, ended.back) == (december(9), 20)


def test_a_return_ends_the_trip_that_is_on_and_no_other() -> None:
    past = Trip(december(1), december(3), 2)
    on = Trip(december(5), None, 7)
    assert home_on((past, on), december(9), number=20) == (
        past,
        Trip(on.since, december(9), 7, back=20),
    )
    assert trip_on((past, on), december(2)) == past
    assert trip_on((past, on), december(4)) is None
    assert trip_on((past, on), december(28)) == on


def test_a_trip_told_anew_while_it_lasts_is_the_same_one_with_another_end() -> None:
    trips = packed(trips_after((), AWAY, december(3), number=7), EDGE)
    longer = trips_after(trips, Paused(december(20), "away"), december(10), number=12)
    assert [(t.since, t.until, t.said, t.kit) for t in longer] == [
        (december(3), december(20), 7, trips[0].kit)
    ]
