"""Small changes to a reply at the place where it was not understood, each with a cost.

The costs are ours: a cut where a comma already stands comes before a name that
was meant, that before a spelling, that before leaving words out. Changes to numbers
and signs are in ``edit_number``.
"""

from collections.abc import Iterator
from functools import cache, lru_cache
from itertools import islice, pairwise

from rapidfuzz import process
from rapidfuzz.distance import OSA

from core.quantity import Unit
from core.replies.cut import Cut
from core.replies.edit_number import Edit, has_digit, number_edits, unit_edits
from core.replies.grammar import grammar_words
from core.replies.pain_token import is_pain
from core.replies.token import Token
from core.replies.trouble import Failed, Trouble
from core.replies.vocabulary import Vocabulary

_JOINED, _SURE, _SPACED, _SPELT, _MOVED = 0.0, 1.0, 1.5, 2.0, 2.5
_CUT_APART, _LEFT_OUT, _CUT_OFF, _SHORTENED = 3.0, 6.0, 6.5, 9.0
_TOGETHER, _KNOWN = 1.0, 1.5
"""More for a change of two words at once, and of words that mean something as they are."""

_UNLIKE = 6.0
"""Cost of a word that is not like what was typed at all."""

_MOST_UNKNOWN = 4
_MOST_NAMES = 3
_MOST_LIKE = 4
_MOST_SPELT = 3
_SHORTEST_WORD, _LONGEST_WORD = 2, 30
_LONG_WORD = 5
_LIKE_ENOUGH, _LIKE_TOGETHER, _LIKE_KNOWN = 0.6, 0.7, 0.8
"""Likeness, 0 to 1, that a short word must have, a long one or two, and two known ones."""

_SLIPS = dict.fromkeys(("oj", "ol", "om", "oi", "ik", "pk", "lk"), "ok")
"""Too short to be like anything: the key beside the one that was meant."""

_BETWEEN = ("COMMA", "AND", "THEN")
_OF_PAIN = ("HURT", "SIGN", "NIGHT", "PLACE", "LEFT", "RIGHT", "BOTH")
_JUDGING = ("EASY", "OK", "HARD", "LIMIT", "FAIL")
"""Words that as a clause of their own would mean the set in hand."""

_OWN_WORDS = (*_JUDGING, "DONE")
_OWN = (*_OWN_WORDS, "NUMBER")
"""What is never taken for a slip of another word."""

_LEADING = ("BODY_WEIGHT", "PIN", "BAR", "SKIP", "WHY", "NEXT", "PROGRESS", "SWAP")
_ASKING = (*_LEADING[3:], "TONIGHT", "WEEK", "KIT", "HELP", "UNDO", "BACK", "DELOAD")
_TURNING = frozenset(
    ("no", "not", "never", "gone", "better", "without", "healed", "didn't", "don't", "dont")
) | {
    "nearly",
    "almost",
    "rest",
    "in",
    "assisted",
    "help",
    "stone",
    "stones",
    "doesn't",
    "doesnt",
    "cancelled",
}
"""Words that turn a reply round: it is not offered without them."""


def edits(failed: Failed, vocabulary: Vocabulary, units: Unit) -> Iterator[Edit]:
    """The small changes that may help."""
    text, cut, trouble = failed.normal.text, failed.cut, failed.trouble
    for index, instead in enumerate(trouble.instead):
        yield Edit(trouble.at, trouble.end, instead, _SURE + index / 100)
    in_pain = is_pain({token.type for token in cut.tokens})
    unknown = sum(token.type in ("WORD", "SIGN_UNKNOWN") for token in cut.tokens)
    if unknown > _MOST_UNKNOWN:
        # A story: no few changes make a reply of it.
        yield from _shorter(text, cut, trouble)
        return
    for index in _strange(cut.tokens, trouble):
        if not in_pain:
            yield from _named(cut.tokens[index], vocabulary)
            yield from unit_edits(text, cut.tokens[index])
        yield from _spaced(text, cut.tokens[index], vocabulary)
        words = _pain_words() if in_pain else vocabulary.words
        yield from _spelt(text, cut.tokens, index, words)
    if not in_pain:
        yield from number_edits(text, cut, trouble, units)
        yield from _moved(text, cut, trouble)
        yield from _pained(cut)
    yield from _apart(cut.tokens, trouble, in_pain=in_pain)
    yield from _shorter(text, cut, trouble)


def _pained(cut: Cut) -> Iterator[Edit]:
    """A place of the body alone: what hurts there was not said."""
    first = cut.tokens[0] if cut.tokens else None
    types = {token.type for token in cut.tokens}
    begins = first is not None and first.type in ("PLACE", "LEFT", "RIGHT")
    if begins and "PLACE" in types and types.isdisjoint(_OWN_WORDS):
        yield Edit(cut.start, cut.start, "pain ", _SURE)


def _strange(tokens: tuple[Token, ...], trouble: Trouble) -> list[int]:
    """Where the first few words are that nobody knows, or that do not fit there."""
    place = (trouble.at, trouble.end)
    unknown = (
        index
        for index, token in enumerate(tokens)
        if (token.type == "WORD" or (token.start_pos, token.end_pos) == place)
        and token.text[0].isalnum()
        and token.type not in (*_OWN, "DASH")
        and token.text not in _TURNING
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


def _spaced(text: str, token: Token, vocabulary: Vocabulary) -> Iterator[Edit]:
    """Two words that were run together: "oklast", "22kgok"; and a slip of the thumb."""
    if token.type != "WORD":
        return
    if token.text in _SLIPS:
        yield Edit(token.start_pos, token.end_pos, _SLIPS[token.text], _SPELT)
    typed = text[token.start_pos : token.end_pos]
    letters = len(typed) - len(typed.lstrip("0123456789.,"))
    for middle in range(letters + 1, len(typed)):
        halves = (typed[letters:middle], typed[middle:])
        if all(len(half) >= _SHORTEST_WORD and vocabulary.is_word(half) for half in halves):
            place = token.start_pos + middle
            yield Edit(place, place, " ", _SPACED)


def _spelt(
    text: str, tokens: tuple[Token, ...], index: int, words: tuple[str, ...]
) -> Iterator[Edit]:
    """The word, alone or with its neighbour, as a word that is like it."""
    for first, last in ((index, index), (index, index + 1), (index - 1, index)):
        if first < 0 or last >= len(tokens):
            continue
        start, end = tokens[first].start_pos, tokens[last].end_pos
        meant = tokens[first : last + 1]
        if has_digit(text[start:end]) or any(token.type in _OWN for token in meant):
            continue
        known = all(token.type != "WORD" for token in meant)
        cost = _SPELT + (_KNOWN if known else 0) + (_TOGETHER if first != last else 0)
        least = _least_likeness(end - start, alone=first == last, known=known)
        for word, likeness in _alike(text[start:end], words, least):
            yield Edit(start, end, word, cost + _UNLIKE * (1 - likeness))


def _least_likeness(length: int, *, alone: bool, known: bool) -> float:
    if not alone:
        return _LIKE_KNOWN if known else _LIKE_TOGETHER
    return _LIKE_ENOUGH if length < _LONG_WORD else _LIKE_TOGETHER


@lru_cache(maxsize=4096)
def _alike(typed: str, words: tuple[str, ...], least: float) -> tuple[tuple[str, float], ...]:
    """Words of the vocabulary that look like what was typed, with how much, from 0 to 1."""
    scorer = OSA.normalized_similarity
    found = process.extract(typed, words, scorer=scorer, limit=_MOST_LIKE, score_cutoff=least)
    return tuple((word, likeness) for word, likeness, _ in found)


def _moved(text: str, cut: Cut, trouble: Trouble) -> Iterator[Edit]:
    """The word that a reply begins with, where it stands at the end: "71.4kg bw"."""
    last = cut.tokens[-1] if cut.tokens else None
    if last is not None and last.type in _LEADING and len(cut.tokens) > 1:
        front = text[cut.start : last.start_pos].rstrip(" ,")
        turned = f"{text[last.start_pos : last.end_pos]} {front}"
        yield Edit(cut.start, last.end_pos, turned, _MOVED)
    named = next((token for token in cut.tokens if token.type == "BAND"), None)
    if named is not None and trouble.at == cut.start and trouble.end == named.end_pos:
        band = text[trouble.at : named.start_pos].strip()
        yield Edit(trouble.at, trouble.end, f"band {band}", _MOVED)


def _apart(tokens: tuple[Token, ...], trouble: Trouble, *, in_pain: bool) -> Iterator[Edit]:
    """A new clause where one seems to begin."""
    for before, token in pairwise(tokens):
        if token.start_pos != trouble.at or not token.text[0].isalpha() or token.type in _JUDGING:
            continue
        if token.type == "EXERCISE":
            # "8 pull ups, 20 push ups": the number in front belongs to the name.
            commas = [t for t in tokens if t.type in _BETWEEN and t.end_pos <= before.start_pos]
            for comma in commas[-1:]:
                yield Edit(comma.start_pos, comma.end_pos, ";", _JOINED)
        joined = before.type in _BETWEEN
        start = before.start_pos if joined else before.end_pos
        cost = _JOINED if joined else _CUT_APART if token.type == "EXERCISE" else _CUT_OFF
        yield Edit(start, token.start_pos, "; pain " if in_pain else "; ", cost)


def _shorter(text: str, cut: Cut, trouble: Trouble) -> Iterator[Edit]:
    """The clause without what did not fit; numbers and efforts are never left out."""
    first = cut.tokens[0] if cut.tokens else None
    names = any(token.type == "EXERCISE" for token in cut.tokens)
    asking = first is not None and first.type in _ASKING and not names
    if asking and first is not None and trouble.at >= first.end_pos:
        # A plain word is whole without anything behind it.
        yield Edit(first.end_pos, cut.end, "", _LEFT_OUT)
    kept = (*_JUDGING, "DASH")
    judging = any(t.start_pos == trouble.at and t.type in kept for t in cut.tokens)
    words_end = _end_of_words(cut.tokens, trouble)
    turning = not _TURNING.isdisjoint(text[trouble.at : words_end].split())
    # "plank 1h": a unit that does not fit is no word too many.
    turning = turning or text[max(trouble.at - 1, 0) : trouble.at].isdigit()
    signed = text[trouble.at : trouble.end] == "-"
    if judging or turning or signed or _is_numeric(text, cut, trouble):
        return
    if trouble.at == trouble.end and first is not None and first.type == "EXERCISE":
        # "crimp ok": the exercise is in hand.
        yield Edit(first.start_pos, first.end_pos, "", _LEFT_OUT)
    if trouble.end > trouble.at and not _may_be_a_name(cut, trouble):
        yield Edit(trouble.at, words_end, "", _LEFT_OUT)
    rest = text[trouble.at : cut.end]
    if trouble.at > cut.start and not has_digit(rest) and _TURNING.isdisjoint(rest.split()):
        yield Edit(trouble.at, cut.end, "", _SHORTENED)


def _may_be_a_name(cut: Cut, trouble: Trouble) -> bool:
    """Whether the word in front of a dose is unknown: without it the sets are of anything."""
    first = cut.tokens[0] if cut.tokens else None
    if first is None or first.type != "WORD" or trouble.at != cut.start:
        return False
    types = {token.type for token in cut.tokens}
    return "EXERCISE" not in types and not types.isdisjoint(("TIMES", "KG", "LB", "REP", "SLASH"))


def _end_of_words(tokens: tuple[Token, ...], trouble: Trouble) -> int:
    """Where the words end that nobody knows, from the trouble on."""
    end = trouble.end
    for token in tokens:
        if token.start_pos >= end:
            if token.type != "WORD" or has_digit(token.text):
                break
            end = token.end_pos
    return end


def _is_numeric(text: str, cut: Cut, trouble: Trouble) -> bool:
    """Whether there is a number, in figures or spoken, at the trouble."""
    if has_digit(text[trouble.at : trouble.end]):
        return True
    return any(t.type == "NUMBER" and t.start_pos == trouble.at for t in cut.tokens)
