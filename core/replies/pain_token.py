"""The words of a pain report, which is a language of its own: places, sides, a score.

Nobody who writes that something hurts means a set: a clause with such a word is a report,
unless it also holds what only a log or a command has.
"""

import re
from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from decimal import Decimal

from core.replies.grammar import grammar_words
from core.replies.normal import Normal
from core.replies.token import Token

_PAIN_WORDS = frozenset({"HURT", "SIGN"})
_NO_PAIN_WORDS = frozenset(
    {"TIMES", "KG", "LB", "SECOND", "REP", "SKIP", "FIX", "NEXT", "WHY", "SWAP", "MOVE", "START"}
)
_KEPT_IN_PAIN = frozenset(
    {"HURT", "SIGN", "NIGHT", "FELT", "SMALL_WORD", "A", "_THE", "OUT_OF", "AND", "NO"}
)
_SIDES = frozenset({"LEFT", "RIGHT", "BOTH"})
_BOTH_IN_WORDS = frozenset({"left", "right", "l", "r", "and"})


def is_pain(types: AbstractSet[str]) -> bool:
    """Whether a clause with these terminals is a pain report, and nothing else besides."""
    return bool(types & _PAIN_WORDS) and not types & _NO_PAIN_WORDS


def pain_tokens(tokens: list[Token], normal: Normal) -> list[Token]:
    """A pain report: sides and scores as they are, and the words that name a place."""
    found: list[Token] = []
    for index, token in enumerate(tokens):
        typed = normal.text[token.start_pos : token.end_pos]
        if token.type in _KEPT_IN_PAIN or _is_score(tokens, index, typed):
            found.append(token)
        elif token.type == "BOTH" and _BOTH_IN_WORDS.issuperset(typed.split()):
            # "left and right" names no place.
            found.append(token)
        elif token.type in _SIDES and typed.split()[1:]:
            # "left hand" is a side and a place.
            side, place = typed.split(maxsplit=1)
            end = token.start_pos + len(side)
            found.append(token._replace(text=side, end_pos=end))
            found.append(Token("PLACE", place, token.end_pos - len(place), token.end_pos))
        elif token.type in _SIDES or token.type == "PLACE":
            found.append(token)
        elif token.type == "BACK":
            found.append(token._replace(type="PLACE"))
        elif typed[0].isalpha():
            found.extend(_words_of(typed, token.start_pos))
        else:
            found.append(token)
    return found


def _words_of(typed: str, start: int) -> Iterator[Token]:
    """The single words of a name that means something else elsewhere, places as such."""
    for match in re.finditer(r"\S+", typed):
        if match[0].isdecimal():
            # "front 3" is no name of an exercise here.
            place = start + match.start()
            yield Token("NUMBER", match[0], place, start + match.end(), Decimal(match[0]))
            continue
        terminal = "PLACE" if grammar_words().get(match[0]) == "PLACE" else "WORD"
        yield Token(terminal, match[0], start + match.start(), start + match.end())


def _is_score(tokens: list[Token], index: int, typed: str) -> bool:
    """Figures are a score; a spoken number only beside "out of" or at the end."""
    if tokens[index].type != "NUMBER":
        return False
    beside = tokens[max(index - 1, 0) : index + 2]
    is_last = index + 1 == len(tokens)
    return typed.isdigit() or is_last or any(token.type == "OUT_OF" for token in beside)
