"""Reads the fields of one table by what each may be, and notes every mistake with its place."""

from dataclasses import dataclass
from datetime import date, time
from typing import Any, NamedTuple

from core.programme.problem import Kind, one_of

Path = tuple[str | int, ...]
"""The way to a part of the text: keys, and places in lists from 0."""

LONGEST_SHOWN = 40
"""Most characters of a wrong text that are shown again."""

_MANY_DIGITS = 10**12


class Bounds(NamedTuple):
    """Whole numbers from low to high, and why no others where that is not plain."""

    low: int
    high: int
    why: str = ""

    @property
    def numbers(self) -> str:
        """The numbers in words."""
        return f"from {self.low} to {self.high}{f' ({self.why})' if self.why else ''}"


@dataclass(frozen=True, slots=True)
class Fault:
    """A mistake at a place in the data; ``Problem`` without its line."""

    kind: Kind
    path: Path
    field: str
    found: str
    allowed: str


class Table:
    """One table of the text.

    Attributes:
        path: Where it stands.
        name: What it is called in messages.
    """

    def __init__(
        self, data: dict[str, Any], path: Path, name: tuple[str, ...], faults: list[Fault]
    ) -> None:
        self.path = path
        self.name = name
        self._data = data
        self._faults = faults
        self._known: list[str] = []

    def called(self, *name: str) -> None:
        """Use that name in messages from here on."""
        self.name = name

    def has(self, key: str) -> bool:
        """True when the field is there."""
        self._known.append(key)
        return key in self._data

    def fault(self, kind: Kind, key: str, *, found: str, allowed: str) -> None:
        """Note a mistake in that field; of the table itself where the field's name is empty."""
        path = (*self.path, key) if key else self.path
        field = " > ".join((*self.name, key) if key else self.name)
        self._faults.append(Fault(kind, path, field, found, allowed))

    def text(self, key: str, *, most: int) -> str | None:
        """A text on one line that is not blank; None after a mistake."""
        allowed = f"a text on one line, at most {most} characters"
        value = self._value(key, allowed)
        if value is None:
            return None
        if not isinstance(value, str):
            self.fault("wrong-type", key, found=shown(value), allowed=allowed)
            return None
        if not value.strip() or len(value) > most or not value.isprintable():
            self.fault("out-of-bounds", key, found=shown(value), allowed=allowed)
            return None
        return value.strip()

    def whole(self, key: str, bounds: Bounds, *, usual: int | None = None) -> int | None:
        """A whole number inside its bounds, ``usual`` where none is there; None after a mistake."""
        if usual is not None and not self.has(key):
            return usual
        allowed = f"a whole number {bounds.numbers}"
        value = self._value(key, allowed)
        return None if value is None else self._inside(key, value, bounds, allowed)

    def flag(self, key: str, *, usual: bool) -> bool:
        """True or false, ``usual`` where it is not said."""
        value = self._data[key] if self.has(key) else usual
        if not isinstance(value, bool):
            self.fault("wrong-type", key, found=shown(value), allowed="true or false")
            return usual
        return value

    def numbers(self, key: str, bounds: Bounds, *, what: str) -> tuple[int, ...] | None:
        """A list of whole numbers, each inside its bounds; None after a mistake."""
        allowed = f"{what}, whole numbers {bounds.numbers}"
        value = self._value(key, allowed)
        if value is None:
            return None
        if not isinstance(value, list) or not value:
            self.fault("wrong-type", key, found=shown(value), allowed=allowed)
            return None
        found = [self._inside(key, one, bounds, allowed) for one in value]
        inside = tuple(one for one in found if one is not None)
        return inside if len(inside) == len(found) else None

    def tables(self, key: str, *, allowed: str) -> tuple["Table", ...]:
        """The tables of a list, those that are none noted as mistakes."""
        value = self._value(key, allowed)
        if value is None:
            return ()
        if not isinstance(value, list) or not value:
            self.fault("wrong-type", key, found=shown(value), allowed=allowed)
            return ()
        kind = key.removesuffix("s")
        tables: list[Table] = []
        for place, one in enumerate(value):
            name, path = (*self.name, f"{kind} {place + 1}"), (*self.path, key, place)
            if isinstance(one, dict):
                tables.append(Table(one, path, name, self._faults))
            else:
                fault = Fault("wrong-type", path, " > ".join(name), shown(one), allowed)
                self._faults.append(fault)
        return tuple(tables)

    def table(self, key: str) -> "Table | None":
        """The table under that key; None where it is not there, or after a mistake."""
        if not self.has(key):
            return None
        value, name = self._data[key], (*self.name, key)
        if isinstance(value, dict):
            return Table(value, (*self.path, key), name, self._faults)
        self.fault("wrong-type", key, found=shown(value), allowed=f"a table [{key}]")
        return None

    def finish(self) -> None:
        """Note every field that was not asked for."""
        known = dict.fromkeys(self._known)
        for key in self._data:
            if key not in known:
                self.fault("unknown-field", key, found="no such field", allowed=one_of(known))

    def _value(self, key: str, allowed: str) -> Any:
        if self.has(key):
            return self._data[key]
        self.fault("missing", key, found="", allowed=allowed)
        return None

    def _inside(self, key: str, value: object, bounds: Bounds, allowed: str) -> int | None:
        if type(value) is not int:
            self.fault("wrong-type", key, found=shown(value), allowed=allowed)
            return None
        if not bounds.low <= value <= bounds.high:
            self.fault("out-of-bounds", key, found=shown(value), allowed=allowed)
            return None
        return value


def shown(value: object) -> str:
    """A value as a message names it."""
    match value:
        case bool():
            return "true" if value else "false"
        case int():
            return str(value) if abs(value) < _MANY_DIGITS else "a number of many digits"
        case str():
            return f'"{printable(value)}"'
        case list():
            few = 0 < len(value) <= 4 and all(type(one) is int for one in value)
            return f"[{', '.join(map(shown, value))}]" if few else "a list"
        case dict():
            return "a table"
        case date() | time():
            return "a date or a time"
    return str(value)


def printable(text: str) -> str:
    """A text in one short line."""
    line = "".join(sign if sign.isprintable() else " " for sign in text)
    return line if len(line) <= LONGEST_SHOWN else f"{line[:LONGEST_SHOWN]}…"
