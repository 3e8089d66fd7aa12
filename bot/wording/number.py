"""Numbers, loads, times and dates as a person reads them."""

from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from core.quantity import Unit, in_unit, own_unit, plain

MINUS = "−"
_CENT = Decimal("0.01")


def number(value: Decimal | int | float) -> str:
    """A number with at most two decimals and no trailing zeros, a real minus sign in front."""
    exact = value if isinstance(value, Decimal) else Decimal(str(value))
    shown = plain(exact.quantize(_CENT, rounding=ROUND_HALF_UP))
    return f"{shown:f}".replace("-", MINUS)


def mass(kg: Decimal, unit: Unit) -> str:
    """A mass with its unit: "22.5 kg"."""
    return f"{bare_mass(kg, unit)} {unit}"


def bare_mass(kg: Decimal, unit: Unit) -> str:
    """A mass without its unit."""
    return number(in_unit(kg, unit))


def plate_mass(kg: Decimal, unit: Unit) -> str:
    """A plate's mass in the unit it was told in: "5 lb" to somebody who loads in kilograms."""
    return mass(kg, own_unit(kg) or unit)


def plate_sum(plates_kg: tuple[Decimal, ...], unit: Unit) -> str:
    """Plates as they go on: "10 + 10 + 1.25"; with units where one is not the athlete's own."""
    if all(own_unit(kg) in (unit, None) for kg in plates_kg):
        return " + ".join(bare_mass(kg, unit) for kg in plates_kg)
    return " + ".join(plate_mass(kg, unit) for kg in plates_kg)


def signed_mass(kg: Decimal, unit: Unit) -> str:
    """A load on the body: "+5 kg", "−12 kg"."""
    sign = "+" if kg >= 0 else ""
    return f"{sign}{mass(kg, unit)}"


def duration(seconds: int) -> str:
    """A rest or a long time: "45 s", "2 min", "2:30"."""
    if seconds < 60:
        return f"{seconds} s"
    minutes, rest = divmod(seconds, 60)
    return f"{minutes}:{rest:02d}" if rest else f"{minutes} min"


def short_day(day: date) -> str:
    """A day: "Tue 1 Dec"."""
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def weekday_name(day: date) -> str:
    """A day within a week, in brief: "Tue"."""
    return _DAYS[day.weekday()]


def long_day(day: date) -> str:
    """A day within a week: "Tuesday"."""
    return _LONG_DAYS[day.weekday()]


def count(amount: int, one: str, many: str | None = None) -> str:
    """A number with its noun: "1 set", "4 sets"."""
    return f"{amount} {one if amount == 1 else many or one + 's'}"


def listed(words: list[str]) -> str:
    """Words joined for reading: "a, b and c"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_LONG_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
