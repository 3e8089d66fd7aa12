"""The first cut of a reply: words, numbers, clock times and signs, without meaning."""

import re
from typing import NamedTuple

_LEXEME = re.compile(
    r"""
    (?P<date>[0-9]{4}-[0-9]{2}-[0-9]{2}(?![0-9]))
  | (?P<half_day>(?P<hour>[0-9]{1,2})(?::(?P<minute>[0-9]{2}))?[ ]?(?P<half>[ap])m(?![a-z]))
  | (?P<clock>[0-9]{1,2}:[0-9]{2}(?![0-9:]))
  | (?P<minutes_seconds>[0-9]{1,3}m(?:in)?[0-9]{1,2}(?:s(?![a-z]))?(?![0-9a-z]))
  | (?P<hours_minutes>[0-9]{1,2}h[0-9]{1,2}(?:m|min)?(?![0-9a-z]))
  | (?<![0-9],)(?P<pair>[0-9]+,[0-9]+)(?!,?[0-9])
  | (?P<number>[0-9]*\.[0-9]+|[0-9]+)(?:(?:st|nd|rd|th)(?![a-z]))?
  | (?P<unit>(?:kgs?|lbs?|secs?|s|reps?|mins?|m)(?=x\s?[0-9]))
  | (?P<word>(?:[^\W\d_]['\u0300-\u036f]*)+(?<!'))
  | (?P<sign>\n|\S)
    """,
    re.VERBOSE,
)


_HOURS = 12


class Lexeme(NamedTuple):
    """A piece of normal text. ``kind`` is date, clock, …, pair, number, word or sign."""

    kind: str
    text: str
    start: int
    end: int


def lexemes_in(text: str) -> list[Lexeme]:
    """The lexemes of a normal text, in order.

    Brackets, hyphens inside a word and a colon behind a word or number say nothing, as in
    "crimp: 4x22 (ok)" and "l-sit".
    """
    found: list[Lexeme] = []
    for match in _LEXEME.finditer(text):
        kind = match.lastgroup or "sign"
        start, end = match.span()
        if kind == "sign" and _is_silent(text, start):
            continue
        if kind == "half_day":
            found.append(Lexeme("clock", _on_24_hours(match), start, end))
            continue
        # "kgx4" is a unit and the sign for "times".
        found.append(Lexeme("word" if kind == "unit" else kind, match[kind], start, end))
    return found


def _on_24_hours(match: re.Match[str]) -> str:
    """8pm and 8:30 pm as 20:00 and 20:30; an hour that no such clock has stays past 24."""
    hour = int(match["hour"])
    if not 1 <= hour <= _HOURS:
        return f"{hour + 2 * _HOURS}:00"
    hour = hour % _HOURS + (_HOURS if match["half"] == "p" else 0)
    return f"{hour}:{match['minute'] or '00'}"


def _is_silent(text: str, place: int) -> bool:
    """Whether the sign there only holds words together."""
    sign, before, after = text[place], text[place - 1 : place], text[place + 1 : place + 2]
    if sign in "()[]":
        return True
    if sign == "-":
        return before.isalnum() and after.isalpha()
    return sign == ":" and before.isalnum() and not (before.isdigit() and after.isdigit())
