"""The words beside "band" as the name of a band, or of two with a plus between them."""

from core.facts import paired
from core.replies.normal import Normal
from core.replies.token import Token
from core.replies.vocabulary import Vocabulary, spaced

_NOT_A_NAME = frozenset(
    {"NUMBER", "NO", "_WITH", "TIMES", "COMMA", "PLUS", "MINUS", "SLASH", "EXERCISE", "AND"}
)
_MEASURES = frozenset({"KG", "LB", "SECOND", "MINUTE", "REP", "SET", "MM"})
_LONGEST_BAND = 6


def band_named(tokens: list[Token], normal: Normal, vocabulary: Vocabulary) -> list[Token]:
    """The words beside "band" as one name."""
    if tokens[0].type == "BAND":
        end = _end_of_name(tokens)
        typed = (normal.text[t.start_pos] for t in tokens[1:end] if t.type != "PLUS")
        # "band ten 12kg": a spoken number may be a name, one in figures may not.
        if end == 1 or not all(letter.isalpha() for letter in typed):
            return tokens
        return [tokens[0], _name(tokens[1:end], normal), *tokens[end:]]
    found: list[Token] = []
    for token in tokens:
        if token.type == "BAND" and found:
            _name_last(found, normal, vocabulary)
        found.append(token)
    return found


def _end_of_name(tokens: list[Token]) -> int:
    """Where the name behind the word "band" ends: before the scale, or what is measured."""
    types = [token.type for token in tokens]
    if "SCALE" in types:
        return types.index("SCALE")
    numbers = [i for i, terminal in enumerate(types) if terminal == "NUMBER"]
    if "BOTTOM" in types:
        numbers = [i for i in numbers if i < types.index("BOTTOM")]
    return numbers[-1] if numbers else len(tokens)


def _name_last(tokens: list[Token], normal: Normal, vocabulary: Vocabulary) -> None:
    """Makes one name of the last tokens: any one word where no bands are known."""
    _one_name_last(tokens, normal, vocabulary)
    if len(tokens) < 3 or tokens[-1].type != "BAND_NAME" or tokens[-2].type != "PLUS":
        return
    first = tokens[:-2]
    if first[-1].type not in _MEASURES:
        _one_name_last(first, normal, vocabulary)
    if first[-1].type == "BAND_NAME":
        tokens[:] = [*first[:-1], _both(first[-1], tokens[-1])]


def _one_name_last(tokens: list[Token], normal: Normal, vocabulary: Vocabulary) -> None:
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
    """The name of a band, or of two with a plus between them."""
    plus = [i for i, token in enumerate(tokens) if token.type == "PLUS"]
    if len(plus) == 1 and 0 < plus[0] < len(tokens) - 1:
        one, other = tokens[: plus[0]], tokens[plus[0] + 1 :]
        return _both(_name(one, normal), _name(other, normal))
    start, end = tokens[0].start_pos, tokens[-1].end_pos
    return Token("BAND_NAME", spaced(normal.text[start:end]), start, end)


def _both(one: Token, other: Token) -> Token:
    return Token("BAND_NAME", paired(one.text, other.text), one.start_pos, other.end_pos)
