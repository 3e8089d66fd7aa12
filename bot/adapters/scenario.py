"""Scenario files: a dialogue a person can read, as values. See ``replay`` for running one."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Literal
from zoneinfo import ZoneInfo

from bot.errors import BotError
from bot.zones import is_zone

STAMP = "%Y-%m-%d %H:%M"
_LINE = re.compile(r"(\d{4}-\d\d-\d\d \d\d:\d\d) (>>|>|<)(?: (.*))?$")
_HEAD = re.compile(r"(zone|from|until):\s*(.+?)\s*$")


class BadScenario(BotError):
    """A line of a scenario that cannot be understood, with its number."""

    def __init__(self, line: int, why: str) -> None:
        super().__init__(f"line {line}: {why}")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of dialogue.

    Attributes:
        number: Where it stands in the file, from 1.
        at: Local wall-clock moment, aware.
        who: ``types`` (>), ``presses`` (>>) or ``says`` (<, the companion).
        text: What; line breaks where it went on.
    """

    number: int
    at: datetime
    who: Literal["types", "presses", "says"]
    text: str


@dataclass(frozen=True, slots=True)
class Scenario:
    """A scenario: where and when it plays, and its lines in order."""

    zone: str
    begins: datetime
    ends: datetime | None
    lines: tuple[Line, ...]


_WHO: dict[str, Literal["types", "presses", "says"]] = {
    ">": "types",
    ">>": "presses",
    "<": "says",
}


def parse_scenario(text: str) -> Scenario:
    """The scenario that the text describes.

    Raises:
        BadScenario: A line is malformed; the message names it.
    """
    head: dict[str, tuple[int, str]] = {}
    rows: list[tuple[int, str, str, list[str]]] = []
    for number, raw in enumerate(text.splitlines(), start=1):
        line = raw.rstrip()
        if not line or line.startswith("#"):
            continue
        if match := _LINE.match(line):
            words = match[3] or ""
            if match[2] != "<":
                # A comment may stand behind a typed line; "#" begins a note only without space.
                words = re.split(r"\s{2,}#", words)[0].rstrip()
            rows.append((number, match[1], match[2], [words]))
        elif raw[0].isspace() and rows:
            rows[-1][3].append(line.strip())
        elif not rows and (match := _HEAD.match(line)):
            head[match[1]] = (number, match[2])
        else:
            raise BadScenario(
                number, f"not understood: {line[:60]!r}; expected 'YYYY-MM-DD HH:MM > text'"
            )
    return _scenario(head, rows)


def _scenario(
    head: dict[str, tuple[int, str]], rows: list[tuple[int, str, str, list[str]]]
) -> Scenario:
    zone_line, zone = head.get("zone", (1, ""))
    if not is_zone(zone):
        raise BadScenario(zone_line, "the head needs 'zone: ' and a tz name, as in Europe/Oslo")
    lines = tuple(
        Line(number, _moment(at, zone, number), _WHO[sign], "\n".join(words).strip())
        for number, at, sign, words in rows
    )
    typed = [line for line in lines if line.who != "says"]
    for earlier, later in pairwise(typed):
        if later.at < earlier.at:
            raise BadScenario(later.number, "goes back in time")
    begins = _head_moment(head, "from", zone)
    if begins is None:
        if not lines:
            raise BadScenario(1, "the head needs 'from: YYYY-MM-DD HH:MM'")
        begins = lines[0].at
    if typed and typed[0].at < begins:
        raise BadScenario(typed[0].number, "lies before 'from'")
    return Scenario(zone, begins, _head_moment(head, "until", zone), lines)


def _head_moment(head: dict[str, tuple[int, str]], name: str, zone: str) -> datetime | None:
    if name not in head:
        return None
    number, text = head[name]
    return _moment(text, zone, number)


def _moment(text: str, zone: str, number: int) -> datetime:
    try:
        naive = datetime.strptime(text, STAMP)  # noqa: DTZ007 - the zone is put on below
    except ValueError:
        raise BadScenario(number, f"{text!r} is no date and time; use YYYY-MM-DD HH:MM") from None
    return naive.replace(tzinfo=ZoneInfo(zone))


def line_text(at: datetime, sign: str, text: str) -> str:
    """A line of dialogue as it stands in a file; what follows a line break is indented."""
    first, *more = text.split("\n")
    head = f"{at:%Y-%m-%d %H:%M} {sign} {first}".rstrip()
    indent = " " * 19
    return "\n".join([head, *(f"{indent}{line}".rstrip() for line in more if line)])


def head_text(scenario: Scenario) -> str:
    """The head of a scenario file."""
    lines = [f"zone: {scenario.zone}", f"from: {scenario.begins:%Y-%m-%d %H:%M}"]
    if scenario.ends is not None:
        lines.append(f"until: {scenario.ends:%Y-%m-%d %H:%M}")
    return "\n".join(lines)


def expected_dialogue(lines: Sequence[Line]) -> list[str]:
    """The lines of a file as ``replay`` would print them."""
    signs = {"types": ">", "presses": ">>", "says": "<"}
    return [line_text(line.at, signs[line.who], line.text) for line in lines]
