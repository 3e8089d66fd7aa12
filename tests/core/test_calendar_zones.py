"""Local evenings in every zone of the tz database, 2025 to 2030, against another implementation.

python-dateutil reads the same tz database with code of its own, and says apart from us which
local times are missing or repeated; PEP 495 and RFC 5545 then give the same moment for both.
"""

from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from itertools import pairwise
from zoneinfo import available_timezones

import pytest
from dateutil import tz
from hypothesis import given, settings
from hypothesis import strategies as st

from core.calendar import DAY_STARTS_AT_H, instant, local, training_day

FIRST, LAST = date(2025, 1, 1), date(2030, 12, 31)
ZONES = sorted(
    zone
    for zone in available_timezones()
    if not zone.startswith(("posix", "right")) and zone not in {"localtime", "Factory"}
)


@cache
def independent(zone: str) -> tz.tzfile:
    found = tz.gettz(zone)
    assert isinstance(found, tz.tzfile | tz.tzutc | tz.tzlocal), zone
    return found


def expected(day: date, at: time, zone: str) -> datetime:
    """By RFC 5545, section 3.3.5: the first of two, and in a gap the offset from before it."""
    other = independent(zone)
    wall = datetime.combine(day, at)
    if tz.datetime_exists(wall, other):
        first = tz.enfold(wall.replace(tzinfo=other), fold=0)
        return first.astimezone(UTC)
    before = wall - timedelta(days=1)
    while not tz.datetime_exists(before, other):  # a zone may leave out a whole day
        before -= timedelta(days=1)
    return (wall - offset(before, other)).replace(tzinfo=UTC)


def offset(wall: datetime, zone: tz.tzfile) -> timedelta:
    found = wall.replace(tzinfo=zone).utcoffset()
    assert found is not None
    return found


def test_zones_are_all_there() -> None:
    # The tz database has had some 600 names with its links since the nineties.
    assert len(ZONES) > 550
    assert {"Europe/Oslo", "America/Nuuk", "Pacific/Easter", "Antarctica/Troll"} <= set(ZONES)


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(ZONES), st.dates(FIRST, LAST), st.times())
def test_instant_is_what_the_other_implementation_says(zone: str, day: date, at: time) -> None:
    at = at.replace(tzinfo=None, microsecond=0)
    assert instant(day, at, zone) == expected(day, at, zone)


def changes(zone: str) -> list[date]:
    """The days on which the zone's offset changes, looked for week by week, then day by day."""
    other = independent(zone)

    def noon(day: date) -> timedelta:
        return offset(datetime.combine(day, time(12)), other)

    weeks = [FIRST + timedelta(days=n) for n in range(0, (LAST - FIRST).days + 1, 7)]
    return [
        day
        for start, end in pairwise(weeks)
        if noon(start) != noon(end)
        for day in (start + timedelta(days=n) for n in range(1, 8))
        if noon(day) != noon(day - timedelta(days=1))
    ]


def test_instant_around_every_change_of_every_zone() -> None:
    looked_at = 0
    for zone in ZONES:
        for change in changes(zone):
            for quarter in range(-48, 49):  # from noon to noon, in steps of 15 minutes
                wall = datetime.combine(change, time()) + timedelta(minutes=15 * quarter)
                day, at = wall.date(), wall.time()
                assert instant(day, at, zone) == expected(day, at, zone), (zone, wall)
            looked_at += 1
    # Some 180 names, those of Europe and North America above all, change twice in each of 6 years.
    assert looked_at > 180 * 2 * 6


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(ZONES), st.dates(FIRST, LAST), st.integers(0, 23), st.integers(0, 59))
def test_instant_reads_back_as_the_same_wall_clock_unless_it_does_not_exist(
    zone: str, day: date, hour: int, minute: int
) -> None:
    wall = datetime.combine(day, time(hour, minute))
    back = local(instant(day, wall.time(), zone), zone).replace(tzinfo=None)
    if tz.datetime_exists(wall, independent(zone)):
        assert back == wall
    else:
        assert back > wall  # moved on by the gap


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(ZONES),
    st.integers(0, (LAST - FIRST).days * 86_400),
)
def test_training_day_begins_at_four_by_the_wall_clock(zone: str, second: int) -> None:
    now = datetime.combine(FIRST, time(), tzinfo=UTC) + timedelta(seconds=second)
    wall = now.astimezone(independent(zone)).replace(tzinfo=None)
    begins = timedelta(hours=DAY_STARTS_AT_H)
    day = training_day(now, zone)
    assert day == (wall - begins).date()


@pytest.mark.parametrize(
    ("zone", "day", "at", "utc"),
    [
        # By hand from the tz database (2025b), changes in the evening: at 22:00 on 5 September
        # 2026 Easter Island's clocks go from -06 to -05, so 22:30 is read with -06.
        ("Pacific/Easter", date(2026, 9, 5), time(22, 30), "2026-09-06T04:30Z"),
        ("Pacific/Easter", date(2026, 9, 5), time(21, 59), "2026-09-06T03:59Z"),
        ("Pacific/Easter", date(2026, 9, 5), time(23, 0), "2026-09-06T04:00Z"),
        # 23:00 on 28 March 2026 in Nuuk, -02 to -01: 23:30 is read with -02.
        ("America/Nuuk", date(2026, 3, 28), time(23, 30), "2026-03-29T01:30Z"),
        # Troll goes by two hours, from +00 to +02 at 01:00 UTC on 29 March 2026.
        ("Antarctica/Troll", date(2026, 3, 29), time(2, 30), "2026-03-29T02:30Z"),
        ("Antarctica/Troll", date(2026, 3, 29), time(3, 30), "2026-03-29T01:30Z"),
        # Midnight is missing in Beirut on 29 March 2026 (+02 to +03), 23:00 is repeated on
        # 24 October 2026 (+03 to +02): the first one.
        ("Asia/Beirut", date(2026, 3, 29), time(0, 30), "2026-03-28T22:30Z"),
        ("Asia/Beirut", date(2026, 10, 24), time(23, 30), "2026-10-24T20:30Z"),
        # Half an hour on Lord Howe: 01:30 to 02:00 is repeated on 5 April 2026 (+11 to +10:30).
        ("Australia/Lord_Howe", date(2026, 4, 5), time(1, 45), "2026-04-04T14:45Z"),
    ],
)
def test_instant_of_odd_changes(zone: str, day: date, at: time, utc: str) -> None:
    assert instant(day, at, zone) == datetime.fromisoformat(utc)
