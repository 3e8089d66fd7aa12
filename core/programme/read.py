"""From the text of a programme to the programme, or to everything that is wrong with it."""

import re
import tomllib

from core.programme.block import blocks_of
from core.programme.model import Programme
from core.programme.problem import Kind, Problem
from core.programme.table import Bounds, Fault, Table
from core.programme.warm_up import warm_up_of

LONGEST = 100_000
"""Most characters of a programme."""

LONGEST_NAME = 60
MINUTES = Bounds(10, 240)
DELOAD_WEEK = Bounds(4, 6)
OPTIONAL_DAYS = Bounds(1, 365)

_PLACE = r" \(at (?:line (\d+), column (\d+)|end of document)\)$"
_DIGITS = r"\d[\d_]{4000,}"


def read(text: str, *, usual: Programme | None) -> Programme | tuple[Problem, ...]:
    """The programme that a text stands for.

    Args:
        text: TOML.
        usual: Where what is left out comes from; None where nothing may be.

    Returns:
        The programme, or all that is wrong, by line.
    """
    try:
        return _read(text, usual)
    except RecursionError:
        return (_of_text("syntax", 1, "lists inside lists without end", "a few levels"),)


def _read(text: str, usual: Programme | None) -> Programme | tuple[Problem, ...]:
    if len(text) > LONGEST:
        allowed = f"at most {LONGEST} characters"
        return (_of_text("too-long", 1, f"{len(text)} characters", allowed),)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return (_syntax(text, str(error)),)
    except ValueError:
        # Python refuses to read numbers of so many digits.
        line = next((text.count("\n", 0, m.start()) + 1 for m in re.finditer(_DIGITS, text)), 1)
        return (_of_text("syntax", line, "a number of thousands of digits", "numbers people use"),)
    faults: list[Fault] = []
    programme = _programme(Table(data, (), (), faults), usual)
    return _placed(text, faults) if faults or programme is None else programme


def _programme(root: Table, usual: Programme | None) -> Programme | None:
    name = root.text("name", most=LONGEST_NAME)
    minutes = root.whole("minutes", MINUTES, usual=usual.minutes if usual else None)
    week = root.whole("deload_every_weeks", DELOAD_WEEK, usual=usual.deload_week if usual else None)
    days = root.whole("optional_days", OPTIONAL_DAYS, usual=usual.optional_days if usual else None)
    shares = root.flag("share_rests", usual=usual.shares_rests if usual else False)
    blocks = blocks_of(root, usual=usual)
    parts, ramp = warm_up_of(root, blocks, usual=usual)
    root.finish()
    if name is None or minutes is None or week is None or days is None:
        return None
    return Programme(name, minutes, week, shares, days, parts, ramp, blocks)


def _placed(text: str, faults: list[Fault]) -> tuple[Problem, ...]:
    # Loaded here: most programmes have no mistakes, and every start would wait for it.
    from core.programme.lines import lines_of, nearest_line

    lines = lines_of(text)
    problems = [
        Problem(f.kind, nearest_line(lines, f.path), None, f.field, f.found, f.allowed)
        for f in faults
    ]
    return tuple(sorted(problems, key=lambda p: p.line))


def _syntax(text: str, message: str) -> Problem:
    place = re.search(_PLACE, message)
    found = re.sub(_PLACE, "", message)
    if place is None or place[1] is None:
        last = text.split("\n")
        line, column = len(last), len(last[-1]) + 1
    else:
        line, column = int(place[1]), int(place[2])
    return Problem("syntax", line, column, "", found, "TOML 1.0")


def _of_text(kind: Kind, line: int, found: str, allowed: str) -> Problem:
    return Problem(kind, line, None, "", found, allowed)
