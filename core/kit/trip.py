"""A time away from the kit at home, and the kit that is there instead."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from core.facts import KitChanged, Paused
from core.kit.inventory import Inventory, inventory_after

NOTHING = Inventory(bar_limit_kg=Decimal(0))
"""The kit of somebody whose kit is at home, without a bar either."""


@dataclass(frozen=True, slots=True)
class Trip:
    """A time away.

    Attributes:
        since: Its first day.
        until: The first day after it; None until "back".
        said: Number of the entry that began it: what was noted before is from home.
        kit: The kit there; None while nothing was said of it, and nothing is there.
        back: Number of the entry that ended it early, if one did.
    """

    since: date
    until: date | None
    said: int
    kit: Inventory | None = None
    back: int | None = None

    def covers(self, day: date) -> bool:
        """True on a day of the trip."""
        return self.since <= day and (self.until is None or day < self.until)

    def holds(self, day: date, number: int) -> bool:
        """True for an entry of that day that was made on the trip."""
        if number < self.said or day < self.since:
            return False
        if self.back is not None:
            return number < self.back
        return self.covers(day)


def trip_on(trips: tuple[Trip, ...], day: date) -> Trip | None:
    """The trip that is on that day, None at home."""
    return next((trip for trip in reversed(trips) if trip.covers(day)), None)


def trips_after(
    trips: tuple[Trip, ...], pause: Paused, day: date, *, number: int
) -> tuple[Trip, ...]:
    """The trips once a pause begins on that day; one that is no trip ends the trip that is on.

    ``number`` is that of the entry which says so.
    """
    if pause.cause != "away":
        return home_on(trips, day, number=number)
    if trips and trips[-1].covers(day):
        # The same trip, longer or shorter: what is there stays there.
        return (*trips[:-1], replace(trips[-1], until=pause.until))
    return (*trips, Trip(day, pause.until, number))


def packed(trips: tuple[Trip, ...], change: KitChanged) -> tuple[Trip, ...]:
    """The trips once that was said of the kit on the last one; without one it is about nothing."""
    if not trips:
        return trips
    last = trips[-1]
    return (*trips[:-1], replace(last, kit=inventory_after(last.kit or NOTHING, change)))


def home_on(trips: tuple[Trip, ...], day: date, *, number: int) -> tuple[Trip, ...]:
    """The trips once the athlete is back on that day, as the entry of that number says."""
    return tuple(
        replace(trip, until=day, back=number) if trip.covers(day) else trip for trip in trips
    )
