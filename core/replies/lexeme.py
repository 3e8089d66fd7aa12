"""The first cut of a reply: words, numbers, clock times and signs, without meaning."""

import re
from typing import NamedTuple

_LEXEME = re.compile(
    r"""
    (?P<date>[0-9]{4}-[0-9]{2}-[0-9]{2}(?![0-9]))
  | (?P<clock>[0-9]{1,2}:[0-9]{2}(?![0-9:]))
  | (?P<minutes_seconds>[0-9]{1,3}m[0-9]{1,2}(?:s(?![a-z]))?(?![0-9a-z]))
  | (?P<hours_minutes>[0-9]{1,2}h[0-9]{1,2}(?:m|min)?(?![0-9a-z]))
  | (?<![0-9],)(?P<pair>[0-9]+,[0-9]+)(?!,?[0-9])
  | (?P<number>[0-9]*\.[0-9]+|[0-9]+)(?:(?:st|nd|rd|th)(?![a-z]))?
  | (?P<unit>(?:kgs?|lbs?|secs?|s|reps?|mins?|m)(?=x\s?[0-9]))
  | (?P<word>[^\W\d_]+(?:'[^\W\d_]+)*)
  | (?P<sign>\n|\S)
    """,
    re.VERBOSE,
)


class Lexeme(NamedTuple):
    """A piece of normal text. ``kind`` is date, clock, …, pair, number, word or sign."""

    kind: str
    text: str
    start: int
    end: int


def lexemes_in(text: str) -> list[Lexeme]:
    """The lexemes of a normal text, in order; hyphens inside a word are left out."""
    found: list[Lexeme] = []
    for match in _LEXEME.finditer(text):
        kind = match.lastgroup or "sign"
        start, end = match.span()
        if kind == "sign" and match[0] == "-" and _joins(text, start):
            continue
        # "kgx4" is a unit and the sign for "times".
        found.append(Lexeme("word" if kind == "unit" else kind, match[kind], start, end))
    return found


def _joins(text: str, place: int) -> bool:
    """Whether the hyphen there ties a word or number to a word: l-sit, 3-finger."""
    return 0 < place < len(text) - 1 and text[place - 1].isalnum() and text[place + 1].isalpha()
