"""Small changes to the numbers, units and signs of a reply that was not understood."""

import re
from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

from rapidfuzz.distance import OSA

from core.catalogue import get_exercise
from core.facts import WEEKDAYS
from core.quantity import Unit
from core.replies.calendar import weekday_of
from core.replies.cut import Cut
from core.replies.token import Token
from core.replies.trouble import Trouble

_SIGN, _SPELT, _CUT_APART, _SWAPPED = 1.9, 2.0, 3.0, 4.0
_MOST_SIGNS = 3
_LONGEST_ROW = 200
_NOON = 12
_UNITS = ("kg", "lb", "s", "min", "mm", "reps", "rpe", "x", "kilos", "pounds", "seconds", "minutes")
_FULL_STOPS = (".", "!", "?")
_TIMED = frozenset({"MOVE", "QUIET", "EVENING"})
_GLUED = re.compile(r"([0-9]+(?:[.,][0-9]+)?)([^0-9]+)")
_PRODUCT = re.compile(r"([0-9]+)(\s*x\s*)([0-9.]+)(?![0-9.a-z])")
_ROW = re.compile(r"[0-9.]+(?: +[0-9.]+)+(?![0-9]*[x:])")
_COUNTED = re.compile(r"x *[0-9.]+\Z")
_CLOCK = re.compile(r"([0-9]{1,2})(?:[.h;]?([0-9]{2}))?h?(?![0-9])")
_LIKE_FIGURES = str.maketrans("oli", "011")


class Edit(NamedTuple):
    """A part of the normal text, what to put there, and how far-fetched that is."""

    start: int
    end: int
    text: str
    cost: float


def has_digit(text: str) -> bool:
    """Whether there is a figure in it."""
    return any(character.isdigit() for character in text)


def unit_edits(text: str, token: Token) -> Iterator[Edit]:
    """What a number with strange letters behind it may be: ``22kq``, ``4c22``, ``2o``."""
    glued = _GLUED.fullmatch(token.text)
    if glued is None:
        return
    number, unit = glued.groups()
    start, end = token.start_pos, token.end_pos
    figures = unit.translate(_LIKE_FIGURES)
    if figures.isdigit():
        yield Edit(start, end, number + figures, _SPELT)
    if len(unit) == 1 and text[end : end + 1].isdigit():
        yield Edit(start, end, f"{number}x", _SPELT)
    for word in _UNITS:
        distance = OSA.distance(unit, word)
        if distance * 2 <= max(len(unit), len(word)):
            yield Edit(start, end, number + word, _SPELT + distance / 10)


def number_edits(text: str, cut: Cut, trouble: Trouble, units: Unit) -> Iterator[Edit]:
    """Numbers the other way round, with a unit, or with a sign between them or without."""
    yield from _signs(text, cut, trouble)
    yield from _dashes(text, cut, trouble, units)
    if cut.end - cut.start > _LONGEST_ROW:
        return
    for match in _PRODUCT.finditer(text, cut.start, cut.end):
        if match.start() <= trouble.at < match.end():
            first, sign, second = match.groups()
            yield Edit(match.start(), match.end(), second + sign + first, _SWAPPED)
    row = next(
        (m for m in _ROW.finditer(text, cut.start, cut.end) if m.start() <= trouble.at < m.end()),
        None,
    )
    if row is not None:
        numbers = row[0].split()
        if len(numbers) == 2 and text[: row.start()].rstrip()[-1:] != "x":
            yield Edit(row.start(), row.end(), "x".join(numbers), _SWAPPED - 0.1)
        yield Edit(row.start(), row.end(), "/".join(numbers), _SWAPPED)
    if text[trouble.at : trouble.end] == "left":
        yield Edit(trouble.at, trouble.end, "in reserve", _SPELT)
        yield Edit(trouble.at, trouble.end, "left hand", _SPELT + 0.1)
    yield from _days_between(cut.tokens, trouble)
    if cut.tokens and cut.tokens[0].type in _TIMED:
        yield from _clocks(text, cut, trouble)
    if trouble.is_bound or not _is_number(cut, trouble):
        return
    if row is None:
        yield Edit(trouble.at, trouble.at, ", ", _SWAPPED + 0.2)
    if trouble.end > trouble.at and text[trouble.end - 1].isdigit() and not _glues(text, trouble):
        yield Edit(trouble.end, trouble.end, units, _SWAPPED + 0.5)


def _is_number(cut: Cut, trouble: Trouble) -> bool:
    at, end = trouble.at, trouble.end
    return any(t.type == "NUMBER" and at <= t.start_pos and t.end_pos <= end for t in cut.tokens)


def _glues(text: str, trouble: Trouble) -> bool:
    """Whether a unit there would run into what follows."""
    return text[trouble.end : trouble.end + 1].isalnum()


def _signs(text: str, cut: Cut, trouble: Trouble) -> Iterator[Edit]:
    """The reply without signs that nobody knows, or cut apart at a full stop."""
    known = ("SIGN_UNKNOWN", "MINUS")
    signs = (t for t in cut.tokens if t.type in known and t.end_pos > t.start_pos)
    for token in islice(signs, _MOST_SIGNS):
        cost = _SIGN if token.start_pos == trouble.at else _CUT_APART
        start, end = token.start_pos, token.end_pos
        before, after = text[max(start - 1, 0) : start], text[end : end + 1]
        stops = token.text in _FULL_STOPS and token is not cut.tokens[-1]
        if (before.isdigit() and after.isdigit()) or (token.type == "MINUS" and _helped(cut)):
            continue
        glued = before.isalnum() and after.isalnum()
        yield Edit(start, end, " " if glued else "", cost)
        if stops and before.isalnum() and after in (" ", ""):
            yield Edit(start, end, ";", cost + 0.1)


def _helped(cut: Cut) -> bool:
    """Whether a minus may mean help: without it the reply would say the opposite."""
    named = next((token for token in cut.tokens if token.type == "EXERCISE"), None)
    return named is not None and get_exercise(named.text).takes_help


def _dashes(text: str, cut: Cut, trouble: Trouble, units: Unit) -> Iterator[Edit]:
    """What a dash, a plus or a comma between two numbers, or two days, may be."""
    at, end = trouble.at, trouble.end
    sign, after = text[at:end], text[end : end + 1]
    if sign == "'":
        yield Edit(at, end, ".", _SPELT)
    if text[at : at + 1] not in ("-", "+", ","):
        return
    digits = re.match(r"[0-9]+", text[end:])
    if sign == ",":
        if not (text[at - 1 : at].isdigit() and after.isdigit()):
            return
        yield Edit(at, end, ".", _SPELT)
        yield Edit(at, end, ", ", _SPELT + 0.1)
    elif len(sign) == 1:
        glued = text[at - 1 : at].isalpha() and after.isalpha()
        if glued or text[cut.start : at].rstrip()[-1:].isdigit():
            yield Edit(at, end, "/", _SPELT)
        if digits is not None and _COUNTED.search(text, cut.start, at):
            stop = end + digits.end()
            yield Edit(at, stop, f" {sign}{digits[0]}{units}", _SPELT + 0.1)
    elif not text[at - 1 : at].isdigit() and not after.isdigit():
        yield Edit(at, at + 1, "", _SWAPPED)


def _days_between(tokens: tuple[Token, ...], trouble: Trouble) -> Iterator[Edit]:
    """``mon-wed`` as all the days from the one to the other."""
    for index in range(1, len(tokens) - 1):
        before, token, after = tokens[index - 1 : index + 2]
        if token.start_pos == trouble.at and before.type == after.type == "WEEKDAY":
            first, last = (WEEKDAYS.index(weekday_of(day)) for day in (before, after))
            many = (last - first) % len(WEEKDAYS)
            days = (WEEKDAYS[(first + step) % len(WEEKDAYS)] for step in range(1, many))
            yield Edit(token.start_pos, token.end_pos, f" {' '.join(days)} ", _SPELT + 0.1)


def _clocks(text: str, cut: Cut, trouble: Trouble) -> Iterator[Edit]:
    """A time of day with its colon: ``20.30``, ``2030``, ``22``."""
    at = trouble.at if has_digit(text[trouble.at : trouble.end]) else cut.tokens[-1].start_pos
    match = _CLOCK.match(text, at)
    if match is not None:
        hours, minutes = match.groups()
        if minutes is None and int(hours) < _NOON and cut.tokens[0].type != "QUIET":
            # Evenings are in the second half of the day.
            yield Edit(at, match.end(), f"{int(hours) + _NOON}:00", _SPELT)
        yield Edit(at, match.end(), f"{hours}:{minutes or '00'}", _SPELT + 0.1)
