"""Which time zone a person means: a name of the tz database, a city in it, or the time it is."""

from datetime import UTC, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo, available_timezones

from core.calendar import clock_time

# Well-known places, so that an offset can be offered as a city. Any tz name may be typed instead.
_FAMILIAR = (
    "Pacific/Honolulu",
    "America/Anchorage",
    "America/Los_Angeles",
    "America/Denver",
    "America/Chicago",
    "America/Mexico_City",
    "America/New_York",
    "America/Bogota",
    "America/Halifax",
    "America/Santiago",
    "America/St_Johns",
    "America/Sao_Paulo",
    "America/Argentina/Buenos_Aires",
    "Atlantic/Azores",
    "Europe/London",
    "Europe/Lisbon",
    "Europe/Berlin",
    "Europe/Paris",
    "Europe/Madrid",
    "Africa/Lagos",
    "Europe/Athens",
    "Africa/Johannesburg",
    "Africa/Cairo",
    "Europe/Istanbul",
    "Africa/Nairobi",
    "Asia/Tehran",
    "Asia/Dubai",
    "Asia/Kabul",
    "Asia/Karachi",
    "Asia/Kolkata",
    "Asia/Kathmandu",
    "Asia/Dhaka",
    "Asia/Yangon",
    "Asia/Bangkok",
    "Asia/Shanghai",
    "Asia/Singapore",
    "Asia/Tokyo",
    "Asia/Seoul",
    "Australia/Perth",
    "Australia/Adelaide",
    "Australia/Brisbane",
    "Australia/Sydney",
    "Pacific/Noumea",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "Pacific/Apia",
)

_QUARTER_S = 15 * 60


def is_zone(name: str) -> bool:
    """True for a name of the tz database."""
    return name in _zones()


def find_zone(text: str) -> str | None:
    """The zone of a tz name or of a city in the tz database, whatever the case; else None."""
    return _names().get(" ".join(text.replace("_", " ").split()).casefold())


def zones_at(text: str, now: datetime) -> tuple[str, ...]:
    """Familiar zones whose wall clock shows that time now, to the nearest quarter of an hour.

    Raises:
        ValueError: The text is not "HH:MM".
    """
    shown = clock_time(text)
    utc = now.astimezone(UTC)
    ahead_s = (shown.hour - utc.hour) * 3600 + (shown.minute - utc.minute) * 60
    ahead_s = round(ahead_s / _QUARTER_S) * _QUARTER_S
    offsets = {timedelta(seconds=ahead_s + turn * 86400) for turn in (-1, 0, 1)}
    return tuple(z for z in _FAMILIAR if utc.astimezone(ZoneInfo(z)).utcoffset() in offsets)


@cache
def _zones() -> frozenset[str]:
    return frozenset(available_timezones())


@cache
def _names() -> dict[str, str]:
    names: dict[str, str] = {}
    for zone in sorted(_zones()):
        if zone.startswith(("Etc/", "posix", "right", "SystemV")):
            continue
        city = zone.rpartition("/")[2].replace("_", " ").casefold()
        names.setdefault(city, zone)
        names[zone.replace("_", " ").casefold()] = zone
    return names
