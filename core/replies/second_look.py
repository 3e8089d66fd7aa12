"""Words whose meaning needs their neighbours, given it before the grammar sees them.

The word "left" (a side, or in reserve), a glued r (reps, or right), a comma between digits
(decimal, or between sets), the word in front of "band", and everything inside a pain report.
"""

import re
from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from decimal import Decimal

from core.catalogue import get_exercise
from core.replies.grammar import grammar_words
from core.replies.normal import Normal
from core.replies.token import Token
from core.replies.vocabulary import Vocabulary, spaced

_PAIN_WORDS = frozenset({"HURT", "SIGN"})
_NO_PAIN_WORDS = frozenset(
    {"TIMES", "KG", "LB", "SECOND", "REP", "SKIP", "FIX", "NEXT", "WHY", "SWAP", "MOVE", "START"}
)
_KEPT_IN_PAIN = frozenset(
    {"HURT", "SIGN", "NIGHT", "FELT", "SMALL_WORD", "_THE", "OUT_OF", "AND", "NO"}
)
_SIDES = frozenset({"LEFT", "RIGHT", "BOTH"})
_MASS_UNITS = frozenset({"KG", "LB"})
_WEIGHING = frozenset({"BODY_WEIGHT", "PLATES", "PIN", "BAR", "BAND", "START"})
_BEFORE_DECIMAL = frozenset({"PLUS", "MINUS", "AT", "AT_SIGN", "RPE"})
_DOSE_ENDS = frozenset(
    {"NUMBER", "KG", "LB", "SECOND", "MINUTE", "M", "REP", "SET", "BAND", "MM", "BOTH", "CLOCK"}
    | {"MINUTES_SECONDS", "EASY", "OK", "DONE", "HARD", "LIMIT", "FAIL"}
)
_NOT_A_NAME = frozenset(
    {"NUMBER", "NO", "_WITH", "TIMES", "COMMA", "PLUS", "MINUS", "SLASH", "EXERCISE", "AND"}
)
_LONGEST_BAND = 6
_EFFORTS = frozenset({"EASY", "OK", "HARD", "LIMIT", "FAIL"})
_MANY_LEFT = 10
"""More than this many is a load and a side, not repetitions or seconds left. House rule."""


def second_look(tokens: list[Token], normal: Normal, vocabulary: Vocabulary) -> tuple[Token, ...]:
    """The tokens of one clause, with the meaning that their neighbours give them."""
    types = {token.type for token in tokens}
    if is_pain(types):
        return tuple(_in_pain(tokens, normal))
    if tokens[0].type == "ZONE" and len(tokens) > 1:
        start, end = tokens[1].start_pos, tokens[-1].end_pos
        return tokens[0], Token("ZONE_TEXT", normal.said(start, end), start, end)
    if types & _EFFORTS:
        tokens = _once(tokens)
    if "PAIR" in types:
        tokens = _without_pairs(tokens)
    if "MINUS" in types or "PLUS" in types:
        tokens = _dashed(tokens)
    if "RIGHT" in types:
        tokens = _reps_glued(tokens, normal)
    if "LEFT" in types:
        tokens = _left_over(tokens, two_sided="RIGHT" in types)
    if "BAND" in types:
        tokens = _band_named(tokens, normal, vocabulary)
    if "TIMES" in types and "EXERCISE" in types:
        tokens = _sets_of_exercise(tokens)
    if "WORD" in types:
        tokens = _glued(tokens)
    return tuple(tokens)


def is_pain(types: AbstractSet[str]) -> bool:
    """Whether a clause with these terminals is a pain report, and nothing else besides."""
    return bool(types & _PAIN_WORDS) and not types & _NO_PAIN_WORDS


def _in_pain(tokens: list[Token], normal: Normal) -> list[Token]:
    """A pain report: sides and scores as they are, and the words that name a place."""
    found: list[Token] = []
    for index, token in enumerate(tokens):
        typed = normal.text[token.start_pos : token.end_pos]
        if token.type in _KEPT_IN_PAIN or _is_score(tokens, index, typed):
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
        terminal = "PLACE" if grammar_words().get(match[0]) == "PLACE" else "WORD"
        yield Token(terminal, match[0], start + match.start(), start + match.end())


def _is_score(tokens: list[Token], index: int, typed: str) -> bool:
    """Figures are a score; a spoken number only beside "out of" or at the end."""
    if tokens[index].type != "NUMBER":
        return False
    beside = tokens[max(index - 1, 0) : index + 2]
    is_last = index + 1 == len(tokens)
    return typed.isdigit() or is_last or any(token.type == "OUT_OF" for token in beside)


def _adjacent(first: Token, second: Token) -> bool:
    return first.end_pos == second.start_pos


def _without_pairs(tokens: list[Token]) -> list[Token]:
    """``22,5`` is one number where a load is expected, and two numbers anywhere else."""
    weighed = tokens[0].type in _WEIGHING or _is_loaded_hold(tokens)
    found: list[Token] = []
    for index, token in enumerate(tokens):
        if token.type != "PAIR":
            found.append(token)
            continue
        before = tokens[index - 1].type if index else ""
        after = tokens[index + 1].type if index + 1 < len(tokens) else ""
        third = [t.type for t in tokens[max(index - 3, 0) : index]] == ["TIMES", "NUMBER", "TIMES"]
        if weighed or third or after in _MASS_UNITS or before in _BEFORE_DECIMAL:
            number = Decimal(token.text.replace(",", "."))
            found.append(token._replace(type="NUMBER", number=number))
        else:
            found.extend(_two_numbers(token))
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


def _once(tokens: list[Token]) -> list[Token]:
    """An effort said twice in a row, as in "ok 👍", is said once."""
    found: list[Token] = []
    for token in tokens:
        if found and token.type in _EFFORTS and token.type == found[-1].type:
            found[-1] = found[-1]._replace(end_pos=token.end_pos)
        else:
            found.append(token)
    return found


def _dashed(tokens: list[Token]) -> list[Token]:
    """``8-7-6`` and ``8+8+7`` may be lists or loads: signs the grammar does not know."""
    found = list(tokens)
    for index in range(1, len(tokens) - 1):
        before, token, after = tokens[index - 1 : index + 2]
        unit = tokens[index + 2].type if index + 2 < len(tokens) else ""
        glued = _adjacent(before, token) and _adjacent(token, after)
        between = before.type == after.type == "NUMBER"
        if token.type in ("MINUS", "PLUS") and glued and between and unit not in _MASS_UNITS:
            found[index] = token._replace(type="DASH")
    return found


def _reps_glued(tokens: list[Token], normal: Normal) -> list[Token]:
    """``8r`` is 8 reps; ``20R``, and any r beside an l, is the right side."""
    if any(token.type == "LEFT" for token in tokens):
        return tokens
    found = list(tokens)
    for index, token in enumerate(tokens):
        if token.text != "r" or index == 0 or tokens[index - 1].type != "NUMBER":
            continue
        small = normal.said(token.start_pos, token.end_pos) == "r"
        if small and _adjacent(tokens[index - 1], token):
            found[index] = token._replace(type="REP")
    return found


def _left_over(tokens: list[Token], *, two_sided: bool) -> list[Token]:
    """The word "left" behind a number of its own, after a dose, is what was left."""
    found = list(tokens)
    for index, token in enumerate(tokens):
        if token.text != "left" or index == 0:
            continue
        place = index - 2 if tokens[index - 1].type in ("REP", "SECOND") else index - 1
        if place < 1 or tokens[place].type != "NUMBER":
            continue
        if two_sided and tokens[place].number > _MANY_LEFT:
            continue
        before = tokens[place - 1].type
        joined = before == "COMMA" and not two_sided and _has_dose(tokens[: place - 1])
        if before in _DOSE_ENDS or joined:
            found[index] = token._replace(type="LEFT_OVER")
    return found


def _has_dose(tokens: list[Token]) -> bool:
    return any(t.type in ("TIMES", "KG", "LB", "SECOND", "REP") for t in tokens)


def _band_named(tokens: list[Token], normal: Normal, vocabulary: Vocabulary) -> list[Token]:
    """The words beside "band" as one name."""
    if tokens[0].type == "BAND":
        end = next((i for i, t in enumerate(tokens) if t.type == "NUMBER"), len(tokens))
        if end == 1 or not all(token.text[0].isalpha() for token in tokens[1:end]):
            return tokens
        return [tokens[0], _name(tokens[1:end], normal), *tokens[end:]]
    found: list[Token] = []
    for token in tokens:
        if token.type == "BAND" and found:
            _name_last(found, normal, vocabulary)
        found.append(token)
    return found


def _name_last(tokens: list[Token], normal: Normal, vocabulary: Vocabulary) -> None:
    """Makes one name of the last tokens: any one word where no bands are known."""
    if not vocabulary.bands:
        if tokens[-1].type not in _NOT_A_NAME:
            tokens[-1:] = [_name(tokens[-1:], normal)]
        return
    for many in range(min(len(tokens), _LONGEST_BAND), 0, -1):
        name = _name(tokens[-many:], normal)
        if name.text in vocabulary.bands:
            tokens[-many:] = [name._replace(text=vocabulary.bands[name.text])]
            return


def _name(tokens: list[Token], normal: Normal) -> Token:
    start, end = tokens[0].start_pos, tokens[-1].end_pos
    return Token("BAND_NAME", spaced(normal.text[start:end]), start, end)


def _sets_of_exercise(tokens: list[Token]) -> list[Token]:
    """``4 sets of crimp``: the sign for "times" in front of a name counts sets."""
    found = list(tokens)
    for index in range(len(tokens) - 1):
        if tokens[index].type == "TIMES" and tokens[index + 1].type == "EXERCISE":
            found[index] = tokens[index]._replace(type="SET")
    return found


def _glued(tokens: list[Token]) -> list[Token]:
    """``22kq`` as one piece, so that the whole of it is what was not understood."""
    found: list[Token] = []
    for token in tokens:
        if token.type == "WORD" and found and found[-1].type == "NUMBER":
            before = found[-1]
            if _adjacent(before, token):
                text = before.text + token.text
                found[-1] = Token("WORD", text, before.start_pos, token.end_pos)
                continue
        found.append(token)
    return found
