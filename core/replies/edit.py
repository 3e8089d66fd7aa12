"""Small changes to a reply at the place where it was not understood, each with a cost.

The costs are ours: a cut where a comma already stands comes before a name that
was meant, that before a spelling, that before leaving words out.
"""

import re
from collections.abc import Iterator
from functools import cache
from itertools import islice, pairwise
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA

from core.quantity import Unit
from core.replies.cut import Cut
from core.replies.grammar import grammar_words
from core.replies.normal import Normal
from core.replies.pain_token import is_pain
from core.replies.token import Token
from core.replies.trouble import Trouble
from core.replies.vocabulary import Vocabulary

_JOINED, _SURE, _SIGN, _SPELT = 0.0, 1.0, 1.9, 2.0
_CUT_APART, _SWAPPED, _LEFT_OUT, _SHORTENED = 3.0, 4.0, 6.0, 9.0
_UNLIKE = 6.0
"""Cost of a word that is not like what was typed at all."""

_MOST_NAMES = 3
_MOST_LIKE = 4
_MOST_SPELT = 3
_MOST_SIGNS = 3
_SHORTEST_WORD, _LONGEST_WORD = 2, 30
_LONGEST_ROW = 200
_LONG_WORD = 5
_LIKE_ENOUGH, _LIKE_TOGETHER = 0.6, 0.7
"""Likeness, 0 to 1, that a short word must have, and a long one or several together."""

_OF_PAIN = ("HURT", "SIGN", "NIGHT", "PLACE", "LEFT", "RIGHT", "BOTH")
_JUDGING = ("EASY", "OK", "HARD", "LIMIT", "FAIL")
"""Words that as a clause of their own would mean the set in hand."""

_UNITS = ("kg", "lb", "s", "min", "mm", "reps", "rpe", "x")
_FULL_STOPS = (".", "!", "?")
_GLUED = re.compile(r"([0-9]+(?:[.,][0-9]+)?)([^0-9]+)")
_PRODUCT = re.compile(r"([0-9]+)(\s*x\s*)([0-9.]+)(?![0-9.a-z])")
_ROW = re.compile(r"[0-9.]+(?: +[0-9.]+)+(?![0-9]*[x:])")


class Failed(NamedTuple):
    """A reply that was not understood: in which clause, and why."""

    normal: Normal
    cut: Cut
    trouble: Trouble


class Edit(NamedTuple):
    """A part of the normal text, what to put there, and how far-fetched that is."""

    start: int
    end: int
    text: str
    cost: float


def edits(failed: Failed, vocabulary: Vocabulary, units: Unit) -> Iterator[Edit]:
    """The small changes that may help."""
    text, cut, trouble = failed.normal.text, failed.cut, failed.trouble
    for index, instead in enumerate(trouble.instead):
        yield Edit(trouble.at, trouble.end, instead, _SURE + index / 100)
    in_pain = is_pain({token.type for token in cut.tokens})
    for index in _strange(cut.tokens, trouble):
        if not in_pain:
            yield from _named(cut.tokens[index], vocabulary)
        words = _pain_words() if in_pain else vocabulary.words
        yield from _spelt(text, cut.tokens, index, words)
    if not in_pain:
        yield from _numbers(text, cut, trouble, units)
    yield from _apart(cut.tokens, trouble)
    yield from _shorter(text, cut, trouble)


def _strange(tokens: tuple[Token, ...], trouble: Trouble) -> list[int]:
    """Where the first few words are that nobody knows, or that do not fit there."""
    place = (trouble.at, trouble.end)
    unknown = (
        index
        for index, token in enumerate(tokens)
        if (token.type == "WORD" or (token.start_pos, token.end_pos) == place)
        and token.text[0].isalnum()
        and token.type != "NUMBER"
        and _SHORTEST_WORD <= len(token.text) <= _LONGEST_WORD
    )
    return list(islice(unknown, _MOST_SPELT))


def _named(token: Token, vocabulary: Vocabulary) -> Iterator[Edit]:
    """The names that the word is part of."""
    for order, slug in enumerate(vocabulary.slugs_of(token.text)[:_MOST_NAMES]):
        name = slug.replace("-", " ")
        yield Edit(token.start_pos, token.end_pos, name, _SURE + order / 100)


@cache
def _pain_words() -> tuple[str, ...]:
    """What a word inside a pain report may have meant."""
    return tuple(word for word, terminal in grammar_words().items() if terminal in _OF_PAIN)


def _spelt(
    text: str, tokens: tuple[Token, ...], index: int, words: tuple[str, ...]
) -> Iterator[Edit]:
    """The word as a unit, or as a word that is like it."""
    token = tokens[index]
    glued = _GLUED.fullmatch(token.text)
    if glued is not None:
        number, unit = glued.groups()
        for word in _UNITS:
            distance = OSA.distance(unit, word)
            if distance < max(len(unit), len(word)):
                yield Edit(token.start_pos, token.end_pos, number + word, _SPELT + distance / 10)
        return
    for first, last in ((index, index), (index, index + 1), (index - 1, index)):
        if first < 0 or last >= len(tokens):
            continue
        start, end = tokens[first].start_pos, tokens[last].end_pos
        if not _has_digit(text[start:end]):
            is_short = first == last and end - start < _LONG_WORD
            least = _LIKE_ENOUGH if is_short else _LIKE_TOGETHER
            for word, likeness in _alike(text[start:end], words, least):
                yield Edit(start, end, word, _SPELT + _UNLIKE * (1 - likeness))


def _alike(typed: str, words: tuple[str, ...], least: float) -> list[tuple[str, float]]:
    """Words of the vocabulary that look like what was typed, with how much, from 0 to 1."""
    scorer = OSA.normalized_similarity
    found = process.extract(typed, words, scorer=scorer, limit=_MOST_LIKE, score_cutoff=least)
    return [(word, likeness) for word, likeness, _ in found]


def _apart(tokens: tuple[Token, ...], trouble: Trouble) -> Iterator[Edit]:
    """A new clause where one seems to begin, and signs left out."""
    for before, token in pairwise(tokens):
        if token.start_pos == trouble.at and token.text[0].isalpha() and token.type not in _JUDGING:
            joined = before.type in ("COMMA", "AND", "THEN")
            start = before.start_pos if joined else before.end_pos
            yield Edit(start, token.start_pos, "; ", _JOINED if joined else _CUT_APART)
    signs = (t for t in tokens if t.type in ("SIGN_UNKNOWN", "MINUS") and t.end_pos > t.start_pos)
    for token in islice(signs, _MOST_SIGNS):
        cost = _SIGN if token.start_pos == trouble.at else _CUT_APART
        yield Edit(token.start_pos, token.end_pos, "", cost)
        if token.text in _FULL_STOPS and token is not tokens[-1]:
            yield Edit(token.start_pos, token.end_pos, ";", cost + 0.1)


def _numbers(text: str, cut: Cut, trouble: Trouble, units: Unit) -> Iterator[Edit]:
    """Numbers the other way round, with a unit, or with slashes or a comma between them."""
    if cut.end - cut.start > _LONGEST_ROW:
        return
    for match in _PRODUCT.finditer(text, cut.start, cut.end):
        if match.start() <= trouble.at < match.end():
            first, sign, second = match.groups()
            yield Edit(match.start(), match.end(), second + sign + first, _SWAPPED)
    for match in _ROW.finditer(text, cut.start, cut.end):
        if match.start() <= trouble.at < match.end():
            yield Edit(match.start(), match.end(), re.sub(" +", "/", match[0]), _SWAPPED)
            return
    if _is_numeric(text, cut, trouble):
        yield Edit(trouble.at, trouble.at, ", ", _SWAPPED + 0.2)
    if text[trouble.at : trouble.end] in ("-", "+"):
        yield Edit(trouble.at, trouble.end, "/", _SPELT)
    elif text[trouble.at : trouble.at + 1] in ("-", "+"):
        yield Edit(trouble.at, trouble.at + 1, "", _SWAPPED)
    if trouble.end > trouble.at and text[trouble.end - 1].isdigit():
        yield Edit(trouble.end, trouble.end, units, _SWAPPED + 0.5)


def _shorter(text: str, cut: Cut, trouble: Trouble) -> Iterator[Edit]:
    """The clause without what did not fit; numbers and efforts are never left out."""
    judging = any(t.start_pos == trouble.at and t.type in _JUDGING for t in cut.tokens)
    if judging or _is_numeric(text, cut, trouble):
        return
    first = cut.tokens[0] if cut.tokens else None
    if trouble.at == trouble.end and first is not None and first.type == "EXERCISE":
        # "crimp ok": the exercise is in hand.
        yield Edit(first.start_pos, first.end_pos, "", _LEFT_OUT)
    if trouble.end > trouble.at:
        end = trouble.end
        while text[end : end + 1] == " ":
            end += 1
        yield Edit(trouble.at, end, "", _LEFT_OUT)
    if trouble.at > cut.start and not _has_digit(text[trouble.at : cut.end]):
        yield Edit(trouble.at, cut.end, "", _SHORTENED)


def _is_numeric(text: str, cut: Cut, trouble: Trouble) -> bool:
    """Whether there is a number, in figures or spoken, at the trouble."""
    if _has_digit(text[trouble.at : trouble.end]):
        return True
    return any(t.type == "NUMBER" and t.start_pos == trouble.at for t in cut.tokens)


def _has_digit(text: str) -> bool:
    return any(character.isdigit() for character in text)
