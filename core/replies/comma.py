"""Commas between digits: one number, as in ``22,5kg``, or two sets, as in ``8,7``."""

from decimal import Decimal

from core.catalogue import get_exercise
from core.replies.token import Token

MASS_UNITS = frozenset({"KG", "LB"})
_WEIGHING = frozenset({"BODY_WEIGHT", "PLATES", "PIN", "BAR", "BAND", "START"})
_BEFORE_DECIMAL = frozenset({"PLUS", "MINUS", "AT", "AT_SIGN", "RPE"})
_LEAST_CHAIN = 4


def without_pairs(tokens: list[Token]) -> list[Token]:
    """``22,5`` is one number where a load is expected, and two numbers anywhere else."""
    weighed = tokens[0].type in _WEIGHING or _is_loaded_hold(tokens)
    found: list[Token] = []
    for index, token in enumerate(tokens):
        if token.type != "PAIR":
            found.append(token)
            continue
        before = tokens[index - 1].type if index else ""
        after = tokens[index + 1].type if index + 1 < len(tokens) else ""
        if tokens[0].type == "PLATES" and after == "TIMES":
            # "2x10,2x5": the next plates are counted.
            found.extend(_two_numbers(token))
            continue
        third = [t.type for t in tokens[max(index - 3, 0) : index]] == ["TIMES", "NUMBER", "TIMES"]
        if weighed or third or after in MASS_UNITS or before in _BEFORE_DECIMAL:
            number = Decimal(token.text.replace(",", "."))
            found.append(token._replace(type="NUMBER", number=number))
        else:
            found.extend(_two_numbers(token))
    return found


def without_doubtful_chains(tokens: list[Token]) -> list[Token]:
    """``22,5,22,5`` of loads may be two or four: its commas are kept as signs, and asked about."""
    if not _is_loaded_hold(tokens):
        return tokens
    found = list(tokens)
    start = 0
    for index in range(1, len(tokens) + 1):
        if index == len(tokens) or tokens[index].start_pos != tokens[index - 1].end_pos:
            if _is_doubtful(tokens[start:index]):
                found[start:index] = [_asked_about(token) for token in tokens[start:index]]
            start = index
    return found


def _is_doubtful(chain: list[Token]) -> bool:
    """Whether every second number is far below the one before it, as decimals are."""
    numbers = [token.number for token in chain[::2] if token.type == "NUMBER"]
    alternating = len(numbers) * 2 - 1 == len(chain)
    commas = all(token.type == "COMMA" for token in chain[1::2])
    if not (alternating and commas) or len(numbers) < _LEAST_CHAIN or len(numbers) % 2:
        return False
    return all(small * 2 < big for big, small in zip(numbers[::2], numbers[1::2], strict=True))


def _asked_about(token: Token) -> Token:
    return token._replace(type="DASH") if token.type == "COMMA" else token


def _is_loaded_hold(tokens: list[Token]) -> bool:
    named = next((token for token in tokens if token.type == "EXERCISE"), None)
    return named is not None and get_exercise(named.text).dose.kind == "loaded-hold"


def _two_numbers(pair: Token) -> tuple[Token, Token, Token]:
    first, _, second = pair.text.partition(",")
    comma = pair.start_pos + len(first)
    return (
        Token("NUMBER", first, pair.start_pos, comma, Decimal(first)),
        Token("COMMA", ",", comma, comma + 1),
        Token("NUMBER", second, comma + 1, pair.end_pos, Decimal(second)),
    )
