"""Replies that would have been understood, near one that was not.

A search, cheapest first, over small changes at the place of the trouble; each
result was read and found whole. Suggestions are shown, never taken.
"""

import math
import re
from collections.abc import Callable, Iterator
from heapq import heappop, heappush
from itertools import islice, pairwise
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA

from core.quantity import Unit
from core.replies.cut import Cut
from core.replies.normal import Normal
from core.replies.token import Token
from core.replies.trouble import Trouble
from core.replies.vocabulary import Vocabulary

_MOST = 3
_MOST_READINGS = 40
_MOST_READ = 1200
"""Characters read while searching: keeps the longest reply inside its time."""

_LIKE_ENOUGH = 0.5
_LONGEST_WORD = 30
_MOST_SPELT = 3
_LONGEST_ROW = 200
_UNITS = ("kg", "lb", "s", "min", "mm", "reps", "rpe", "x")
_GLUED = re.compile(r"([0-9]+(?:[.,][0-9]+)?)([^0-9]+)")
_PRODUCT = re.compile(r"([0-9]+)(\s*x\s*)([0-9.]+)(?![0-9.a-z])")
_ROW = re.compile(r"[0-9.]+(?: +[0-9.]+)+(?![0-9]*[x:])")

_FURTHER = 1.5
"""How much dearer than the first a suggestion may be."""

_SURE, _SPELT, _CUT_APART, _SWAPPED, _LEFT_OUT, _SHORTENED = 1.0, 2.0, 3.0, 4.0, 6.0, 9.0


class Failed(NamedTuple):
    """A reply that was not understood: where, and in which clause."""

    normal: Normal
    cut: Cut
    trouble: Trouble


class _Edit(NamedTuple):
    start: int
    end: int
    text: str
    cost: float


Reader = Callable[[str], Failed | None]
"""Reads a reply and gives its first trouble; None where all of it was understood."""


def suggestions(
    failed: Failed, read: Reader, *, vocabulary: Vocabulary, units: Unit
) -> tuple[str, ...]:
    """Up to three replies that are understood whole, nearest first."""
    original = failed.normal.original
    heap: list[tuple[float, int, str]] = []
    seen = {original}
    found: list[str] = []
    most = math.inf

    def expand(failed: Failed, cost: float) -> None:
        normal = failed.normal
        for edit in _edits(failed, vocabulary, units):
            start, end = normal.column(edit.start), normal.column(edit.end)
            text = (normal.original[:start] + edit.text + normal.original[end:]).strip()
            if text and text not in seen:
                seen.add(text)
                heappush(heap, (cost + edit.cost, len(seen), text))

    expand(failed, 0.0)
    readings, budget = _MOST_READINGS, _MOST_READ
    while heap and len(found) < _MOST and readings and budget > 0:
        cost, _, text = heappop(heap)
        if cost > most:
            break
        readings, budget = readings - 1, budget - len(text)
        again = read(text)
        if again is None:
            found.append(text)
            most = min(most, cost + _FURTHER)
        else:
            expand(again, cost)
    return tuple(found)


def _edits(failed: Failed, vocabulary: Vocabulary, units: Unit) -> Iterator[_Edit]:
    """Small changes that may help, each with its cost."""
    text, cut, trouble = failed.normal.text, failed.cut, failed.trouble
    for index, instead in enumerate(trouble.instead):
        yield _Edit(trouble.at, trouble.end, instead, _SURE + index / 100)
    for index in _strange(cut.tokens):
        yield from _spelt(text, cut.tokens, index, vocabulary)
    yield from _apart(cut.tokens, trouble)
    yield from _numbers(text, cut, trouble, units)
    if any(character.isdigit() for character in text[trouble.at : trouble.end]):
        # A number is never left out: it was what the reply is about.
        return
    if trouble.end > trouble.at:
        end = trouble.end
        while text[end : end + 1] == " ":
            end += 1
        yield _Edit(trouble.at, end, "", _LEFT_OUT)
    if trouble.at > cut.start:
        yield _Edit(trouble.at, cut.end, "", _SHORTENED)


def _strange(tokens: tuple[Token, ...]) -> list[int]:
    """Where the first few words are that nobody knows."""
    unknown = (
        index
        for index, token in enumerate(tokens)
        if token.type == "WORD" and len(token.text) <= _LONGEST_WORD
    )
    return list(islice(unknown, _MOST_SPELT))


def _spelt(
    text: str, tokens: tuple[Token, ...], index: int, vocabulary: Vocabulary
) -> Iterator[_Edit]:
    """The word as a unit, as part of a name, or as a word that is like it."""
    token = tokens[index]
    glued = _GLUED.fullmatch(token.text)
    if glued is not None:
        number, unit = glued.groups()
        for word in _UNITS:
            distance = OSA.distance(unit, word)
            if distance < max(len(unit), len(word)):
                yield _Edit(token.start_pos, token.end_pos, number + word, _SPELT + distance / 10)
        return
    slugs = vocabulary.slugs_of(token.text)
    for order, slug in enumerate(slugs[:_MOST]):
        name = slug.replace("-", " ")
        yield _Edit(token.start_pos, token.end_pos, name, _SURE + order / 100)
    if slugs:
        return
    for first, last in ((index, index), (index, index + 1), (index - 1, index)):
        if first < 0 or last >= len(tokens):
            continue
        start, end = tokens[first].start_pos, tokens[last].end_pos
        if not any(character.isdigit() for character in text[start:end]):
            for word, likeness in _alike(text[start:end], vocabulary):
                yield _Edit(start, end, word, _SPELT + 1 - likeness)


def _alike(typed: str, vocabulary: Vocabulary) -> list[tuple[str, float]]:
    """Words of the vocabulary that look like what was typed, with how much, from 0 to 1."""
    scorer = OSA.normalized_similarity
    found = process.extract(
        typed, vocabulary.words, scorer=scorer, limit=_MOST + 1, score_cutoff=_LIKE_ENOUGH
    )
    # One of "crimp" and "crimps" is enough.
    return list(
        {word.removesuffix("s"): (word, much) for word, much, _ in reversed(found)}.values()
    )


def _apart(tokens: tuple[Token, ...], trouble: Trouble) -> Iterator[_Edit]:
    """A new clause where one seems to begin."""
    for before, token in pairwise(tokens):
        if token.start_pos > trouble.at:
            return
        if token.start_pos == trouble.at and token.text[0].isalpha():
            joined = before.type in ("COMMA", "AND", "THEN") or before.text in (".", "!", "?")
            start = before.start_pos if joined else before.end_pos
            yield _Edit(start, token.start_pos, "; ", _CUT_APART)
    last = tokens[-1]
    for token in tokens:
        if token.start_pos == trouble.at and token is not last and not token.text[0].isalnum():
            yield _Edit(token.start_pos, token.end_pos, ";", _CUT_APART)


def _numbers(text: str, cut: Cut, trouble: Trouble, units: Unit) -> Iterator[_Edit]:
    """Numbers the other way round, with a unit, or with slashes between them."""
    if cut.end - cut.start > _LONGEST_ROW:
        return
    for match in _PRODUCT.finditer(text, cut.start, cut.end):
        if match.start() <= trouble.at < match.end():
            first, sign, second = match.groups()
            yield _Edit(match.start(), match.end(), second + sign + first, _SWAPPED)
    for match in _ROW.finditer(text, cut.start, cut.end):
        if match.start() <= trouble.at < match.end():
            yield _Edit(match.start(), match.end(), re.sub(" +", "/", match[0]), _SWAPPED)
    if text[trouble.at : trouble.at + 1] in ("-", "+"):
        yield _Edit(trouble.at, trouble.at + 1, "", _SWAPPED)
    if trouble.end > trouble.at and text[trouble.end - 1].isdigit():
        yield _Edit(trouble.end, trouble.end, units, _SWAPPED + 0.5)
