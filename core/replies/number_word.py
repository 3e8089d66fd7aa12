"""Numbers spoken as words: "twenty two", "two point two five", "one hundred and ten"."""

from decimal import Decimal

from core.replies.lexeme import Lexeme

_SMALL = """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen
fifteen sixteen seventeen eighteen nineteen"""
_ROUND = "twenty thirty forty fifty sixty seventy eighty ninety"

_ONES = {word: value for value, word in enumerate(_SMALL.split())}
_TENS = {word: 10 * value for value, word in enumerate(_ROUND.split(), start=2)}
_HUNDRED = 100
_DIGITS = 10
_LONGEST = 9


def number_at(lexemes: list[Lexeme], index: int) -> tuple[Decimal, int] | None:
    """The number spoken from that lexeme on, and how many lexemes it takes."""
    words = [lexeme.text for lexeme in lexemes[index : index + _LONGEST]]
    whole = _whole(words)
    if whole is None:
        return None
    value, used = whole
    after = words[used:]
    decimals = _decimals(after)
    if decimals:
        return Decimal(f"{value}.{decimals}"), used + 1 + len(decimals)
    if after[:3] == ["and", "a", "half"]:
        return value + Decimal("0.5"), used + 3
    return Decimal(value), used


def _whole(words: list[str]) -> tuple[int, int] | None:
    first, second = words[0], words[1] if len(words) > 1 else ""
    hundreds = 1 if first == "a" else _ONES.get(first, 0)
    if first == "hundred" or (second == "hundred" and 0 < hundreds < _DIGITS):
        used = 1 if first == "hundred" else 2
        return _beyond(words[used:], (hundreds or 1) * _HUNDRED, used)
    return _below_hundred(first, second)


def _beyond(words: list[str], hundreds: int, used: int) -> tuple[int, int]:
    """Hundreds, and what follows them: "one hundred and fifty seven"."""
    joined = words[1:] if words[:1] == ["and"] else words
    rest = _below_hundred(joined[0], joined[1] if len(joined) > 1 else "") if joined else None
    if rest is None or rest[0] == 0:
        return hundreds, used
    return hundreds + rest[0], used + len(words) - len(joined) + rest[1]


def _decimals(after: list[str]) -> str:
    """The digits spoken behind "point"."""
    digits = ""
    for word in after[1:] if after[:1] == ["point"] else ():
        if _ONES.get(word, _DIGITS) >= _DIGITS:
            break
        digits += str(_ONES[word])
    return digits


def _below_hundred(first: str, second: str) -> tuple[int, int] | None:
    if first in _TENS:
        ones = _ONES.get(second, 0)
        return (_TENS[first] + ones, 2) if 0 < ones < _DIGITS else (_TENS[first], 1)
    return (_ONES[first], 1) if first in _ONES else None
