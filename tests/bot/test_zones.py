"""Zones by name, city and clock."""

from datetime import UTC, datetime
from zoneinfo import available_timezones

import pytest

from bot.zones import find_zone, is_zone, zones_at

NOON = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "zone"),
    [
        ("Europe/Oslo", "Europe/Oslo"),
        ("oslo", "Europe/Oslo"),
        ("new york", "America/New_York"),
        ("New_York", "America/New_York"),
        ("  Lord  Howe ", "Australia/Lord_Howe"),
        ("Atlantis", None),
        ("", None),
    ],
)
def test_find_zone_takes_names_and_cities(text: str, zone: str | None) -> None:
    assert find_zone(text) == zone


def test_find_zone_knows_every_zone_with_a_city() -> None:
    named = [z for z in available_timezones() if "/" in z and not z.startswith("Etc/")]
    assert len(named) > 300
    assert all(is_zone(find_zone(z) or "") for z in named)


@pytest.mark.parametrize(
    ("clock", "zone"),
    [
        # By hand, from the offsets in December: +1, -5, +5:45, -10 (the day before), +13 (after).
        ("13:00", "Europe/Berlin"),
        ("12:59", "Europe/Berlin"),
        ("07:00", "America/New_York"),
        ("17:45", "Asia/Kathmandu"),
        ("02:00", "Pacific/Honolulu"),
        ("01:00", "Pacific/Auckland"),
    ],
)
def test_zones_at_offers_places_with_that_clock(clock: str, zone: str) -> None:
    assert zone in zones_at(clock, NOON)


def test_zones_at_refuses_what_is_no_time() -> None:
    with pytest.raises(ValueError):
        zones_at("noonish", NOON)
