"""Numbers spoken as words, up to one hundred: "twenty two", "ten", "two point five"."""

from decimal import Decimal

from core.replies.lexeme import Lexeme

_SMALL = """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen
fifteen sixteen seventeen eighteen nineteen"""
_ROUND = "twenty thirty forty fifty sixty seventy eighty ninety"

_ONES = {word: value for value, word in enumerate(_SMALL.split())}
_TENS = {word: 10 * value for value, word in enumerate(_ROUND.split(), start=2)}
_HUNDRED = 100
_DIGITS = 10


def number_at(lexemes: list[Lexeme], index: int) -> tuple[Decimal, int] | None:
    """The number spoken from that lexeme on, and how many lexemes it takes."""
    words = [lexeme.text for lexeme in lexemes[index : index + 6]]
    whole = _whole(words)
    if whole is None:
        return None
    value, used = whole
    after = words[used:]
    if len(after) > 1 and after[0] == "point" and _ONES.get(after[1], _DIGITS) < _DIGITS:
        return value + Decimal(_ONES[after[1]]) / _DIGITS, used + 2
    if after[:3] == ["and", "a", "half"]:
        return value + Decimal("0.5"), used + 3
    return Decimal(value), used


def _whole(words: list[str]) -> tuple[int, int] | None:
    first, second = words[0], words[1] if len(words) > 1 else ""
    if first == "hundred" or (first in ("one", "a") and second == "hundred"):
        return _HUNDRED, 1 if first == "hundred" else 2
    if first in _TENS:
        ones = _ONES.get(second, 0)
        return (_TENS[first] + ones, 2) if 0 < ones < _DIGITS else (_TENS[first], 1)
    return (_ONES[first], 1) if first in _ONES else None
