"""Words whose meaning needs their neighbours, given it before the grammar sees them.

The word "left" (a side, or in reserve), a glued r (reps, or right), a comma between digits
(``comma``), two times that are one, the name of a band (``band_name``), and everything inside
a pain report (``pain_token``).
"""

from itertools import pairwise

from core.replies.band_name import band_named
from core.replies.comma import MASS_UNITS, without_doubtful_chains, without_pairs
from core.replies.normal import Normal
from core.replies.pain_token import is_pain, pain_tokens
from core.replies.token import Token
from core.replies.vocabulary import Vocabulary

_ONE_SIDE = frozenset({"LEFT", "RIGHT"})
_DOSE_ENDS = frozenset(
    {"NUMBER", "KG", "LB", "SECOND", "MINUTE", "REP", "SET", "BAND", "MM", "BOTH", "CLOCK"}
    | {"MINUTES_SECONDS", "EASY", "OK", "DONE", "HARD", "LIMIT", "FAIL"}
)
_EFFORTS = frozenset({"EASY", "OK", "HARD", "LIMIT", "FAIL"})
_JUDGING = _EFFORTS | {"FELT", "DONE"}
_DONE_WORDS = _JUDGING | {"ALL", "COMMA", "SIGN_UNKNOWN"}
_JOINTS = frozenset({"SIGN_UNKNOWN", "MINUS", "SLASH"})
_TIMED = {
    ("MINUTE", "SECOND"): ("MINUTES_SECONDS", "m"),
    ("HOUR", "MINUTE"): ("HOURS_MINUTES", "h"),
}
_SIXTY = 60
_MANY_LEFT = 10
"""More than this many is a load and a side, not repetitions or seconds left. House rule."""


def second_look(tokens: list[Token], normal: Normal, vocabulary: Vocabulary) -> tuple[Token, ...]:
    """The tokens of one clause, with the meaning that their neighbours give them."""
    types = {token.type for token in tokens}
    if is_pain(types):
        return tuple(pain_tokens(tokens, normal))
    if tokens[0].type == "ZONE" and len(tokens) > 1:
        start, end = tokens[1].start_pos, tokens[-1].end_pos
        return tokens[0], Token("ZONE_TEXT", normal.said(start, end), start, end)
    if types <= _DONE_WORDS:
        tokens = _once(tokens)
    if types & _JOINTS and types & _JUDGING:
        tokens = _punctuated(tokens)
    if "SLASH" in types and types & _ONE_SIDE:
        tokens = _sides_apart(tokens)
    if "RESERVE" in types:
        tokens = _reserve_behind(tokens)
    if "PAIR" in types:
        tokens = without_pairs(tokens)
    if "COMMA" in types and "EXERCISE" in types:
        tokens = without_doubtful_chains(tokens)
    if types & {"MINUTE", "HOUR"}:
        tokens = _one_time(tokens)
    if "WEEKDAY" in types:
        tokens = _days_dashed(tokens, normal)
    if "MINUS" in types or "PLUS" in types:
        tokens = _dashed(tokens)
    if "RIGHT" in types:
        tokens = _reps_glued(tokens, normal)
    if "LEFT" in types:
        tokens = _left_over(tokens, two_sided="RIGHT" in types)
    if "PLACE" in types:
        tokens = _no_places(tokens)
    if "BAND" in types:
        tokens = band_named(tokens, normal, vocabulary)
    if "TIMES" in types and "EXERCISE" in types:
        tokens = _sets_of_exercise(tokens)
    if "WORD" in types:
        tokens = _glued(tokens)
    return tuple(tokens)


def _adjacent(first: Token, second: Token) -> bool:
    return first.end_pos == second.start_pos


def _once(tokens: list[Token]) -> list[Token]:
    """An effort said twice, as in "ok 👍", is said once; commas between say nothing."""
    found: list[Token] = []
    for index, token in enumerate(tokens):
        if token.text in (",", ".") and 0 < index < len(tokens) - 1:
            continue
        if found and token.type in _EFFORTS and token.type == found[-1].type:
            found[-1] = found[-1]._replace(end_pos=token.end_pos)
        else:
            found.append(token)
    return found


def _punctuated(tokens: list[Token]) -> list[Token]:
    """A full stop or a dash in front of an effort, and a slash behind one, are commas."""
    found = list(tokens)
    for index in range(1, len(tokens) - 1):
        before, token, after = tokens[index - 1 : index + 2]
        in_front = token.text in (".", "-") and after.type in _JUDGING
        behind = token.type == "SLASH" and before.type in _EFFORTS and after.type not in _EFFORTS
        if in_front or behind:
            found[index] = token._replace(type="COMMA")
    return found


def _sides_apart(tokens: list[Token]) -> list[Token]:
    """``L 3x24 / R 3x22``: a slash in front of a side is a comma."""
    found = list(tokens)
    for index, (token, after) in enumerate(pairwise(tokens)):
        if token.type == "SLASH" and after.type in _ONE_SIDE and index:
            found[index] = token._replace(type="COMMA")
    return found


def _reserve_behind(tokens: list[Token]) -> list[Token]:
    """``2 rir`` is ``rir 2``."""
    found = list(tokens)
    for index, token in enumerate(tokens):
        after = tokens[index + 1].type if index + 1 < len(tokens) else ""
        if token.type == "RESERVE" and after != "NUMBER" and index:
            found[index] = token._replace(type="IN_RESERVE")
    return found


def _one_time(tokens: list[Token]) -> list[Token]:
    """``1 min 30 s`` and ``1 hour 30 minutes`` as one time each."""
    found: list[Token] = []
    for token in tokens:
        found.append(token)
        first, unit, second, last = found[-4:] if len(found) > 3 else (token,) * 4
        longer = _TIMED.get((unit.type, last.type))
        if longer is None or not (first.type == second.type == "NUMBER"):
            continue
        numbers = (first.number, second.number)
        if second.number < _SIXTY and all(n == n.to_integral_value() for n in numbers):
            terminal, sign = longer
            text = f"{first.number:f}{sign}{second.number:f}"
            found[-4:] = [Token(terminal, text, first.start_pos, last.end_pos)]
    return found


def _days_dashed(tokens: list[Token], normal: Normal) -> list[Token]:
    """``tue-thu`` may be two days or three: the sign is kept, and asked about."""
    found = tokens[:1]
    for before, token in pairwise(tokens):
        between = normal.text[before.end_pos : token.start_pos]
        if before.type == token.type == "WEEKDAY" and between.strip() == "-":
            place = before.end_pos + between.index("-")
            found.append(Token("DASH", "-", place, place + 1))
        found.append(token)
    return found


def _dashed(tokens: list[Token]) -> list[Token]:
    """``8-7-6`` and ``8+8+7`` may be lists or loads: signs the grammar does not know."""
    found = list(tokens)
    for index in range(1, len(tokens) - 1):
        before, token, after = tokens[index - 1 : index + 2]
        unit = tokens[index + 2].type if index + 2 < len(tokens) else ""
        glued = _adjacent(before, token) and _adjacent(token, after)
        counts = after.type == "NUMBER" and unit == "TIMES" and tokens[0].type != "PLATES"
        if token.type == "MINUS" and counts:
            # "pull-ups - 3x8": no help of three kilos.
            found[index] = token._replace(type="DASH" if _adjacent(token, after) else "COMMA")
            continue
        between = before.type == after.type == "NUMBER"
        if token.type in ("MINUS", "PLUS") and glued and between and unit not in MASS_UNITS:
            found[index] = token._replace(type="DASH")
        elif token.type == "PLUS" and unit == "TIMES" and tokens[0].type != "PLATES":
            # "2x20 + 2x22": more sets.
            found[index] = token._replace(type="COMMA")
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
    if len(tokens) == 2 and tokens[0].type == "NUMBER" and tokens[0].number <= _MANY_LEFT:
        # "2 left" of sets that were told before, or two kilos on the left.
        return [tokens[0], tokens[1]._replace(type="DASH")]
    for index, token in enumerate(tokens):
        if token.text != "left" or index == 0:
            continue
        place = index - 2 if tokens[index - 1].type in ("REP", "SECOND") else index - 1
        if place < 1 or tokens[place].type != "NUMBER":
            continue
        if two_sided and tokens[place].number > _MANY_LEFT:
            continue
        before = tokens[place - 1].type
        if before in _ONE_SIDE and place > 1:
            # "4x22kg left 2 left": the side is said, so this is the other meaning.
            sided = _has_dose(tokens[:place]) and tokens[place].number <= _MANY_LEFT
            before = tokens[place - 2].type if sided else before
        joined = before == "COMMA" and not two_sided and _has_dose(tokens[: place - 1])
        if before == "COMMA" and not (two_sided or joined) and tokens[place].number <= _MANY_LEFT:
            # "8,7,6, 2 left": on the left, or left over.
            found[index] = token._replace(type="DASH")
        if before in _DOSE_ENDS or joined:
            found[index] = token._replace(type="LEFT_OVER")
    return found


def _has_dose(tokens: list[Token]) -> bool:
    return any(t.type in ("TIMES", "KG", "LB", "SECOND", "REP") for t in tokens)


def _no_places(tokens: list[Token]) -> list[Token]:
    """A pulley that is owned, and the top of a movement: pain reports were told apart before."""
    first = tokens[0].type
    return [
        token._replace(type="PULLEY")
        if token.text == "pulley" and (index == 0 or (index == 1 and first == "NO"))
        else token._replace(type="TOP")
        if token.text == "top" and first == "BAND"
        else token
        for index, token in enumerate(tokens)
    ]


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
