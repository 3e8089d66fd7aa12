"""Commas between digits: one number, as in ``22,5kg``, or two sets, as in ``8,7``."""

from decimal import Decimal

from core.catalogue import get_exercise
from core.replies.token import Token

MASS_UNITS = frozenset({"KG", "LB"})
_WEIGHING = frozenset(
    {"BODY_WEIGHT", "PLATES", "PIN", "HANDLE", "BELT", "PULLEY", "BAR", "BAND", "START"}
)
_BEFORE_DECIMAL = frozenset({"PLUS", "MINUS", "AT", "AT_SIGN", "RPE"})


def without_pairs(tokens: list[Token]) -> list[Token]:
    """``22,5`` is one number where a load is expected, and two numbers anywhere else."""
    named = any(token.type == "EXERCISE" for token in tokens)
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
        if before == "TIMES" and not (named or weighed) and after not in MASS_UNITS:
            # "4x22,5" of nobody knows what: a load or two sets.
            first, comma, second = _two_numbers(token)
            found += [first, comma._replace(type="DASH"), second]
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
    for index in range(1, len(tokens) - 1):
        before, token, after = tokens[index - 1 : index + 2]
        between = before.type == after.type == "NUMBER" and token.type == "COMMA"
        glued = before.end_pos == token.start_pos and token.end_pos == after.start_pos
        # A number far below the one before it looks like its decimals.
        if between and glued and after.number * 2 < before.number:
            found[index] = token._replace(type="DASH")
    return found


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
