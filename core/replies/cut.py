"""A reply cut into clauses of tokens, notes taken off.

Clauses end at line breaks, ``;``, and at ``,``, ``and`` or ``then`` in front of an exercise.
"""

import re
from decimal import Decimal
from typing import NamedTuple

from core.replies.lexeme import Lexeme, lexemes_in
from core.replies.normal import Normal
from core.replies.number_word import number_at
from core.replies.second_look import second_look
from core.replies.token import Token
from core.replies.vocabulary import Vocabulary

_NOTE = re.compile(r"(?:#|//|\bnote\s*:)([^\n]*)")
_ADDRESS = re.compile(r"\s*(/)[a-z]+(@\w+)?")
_JOINING = frozenset({"COMMA", "AND", "THEN"})
_LISTING = frozenset({"GRIP"})
_CARRIED = frozenset({"SKIP", "WHY", "PROGRESS", "SWAP"})
_FINAL = frozenset("?!.")
_BULLETS = frozenset("-•*")
_BREAKS = frozenset("\n;")
_KINDS = {
    "date": "DATE",
    "clock": "CLOCK",
    "minutes_seconds": "MINUTES_SECONDS",
    "hours_minutes": "HOURS_MINUTES",
    "pair": "PAIR",
    "word": "WORD",
    "sign": "SIGN_UNKNOWN",
}


class Cut(NamedTuple):
    """One clause: its tokens, where it starts and ends in the normal text, and its note."""

    tokens: tuple[Token, ...]
    start: int
    end: int
    note: str | None


def clauses_in(normal: Normal, vocabulary: Vocabulary) -> list[Cut]:
    """The clauses of a reply, empty ones left out."""
    text, notes = _without_notes(_without_address(normal.text))
    clauses = [
        Cut(second_look(tokens, normal, vocabulary), tokens[0].start_pos, end, None)
        for tokens, end in _split(_tokens(lexemes_in(text), vocabulary), text)
    ]
    for start, begin, end in notes:
        clauses = _with_note(clauses, normal, start=start, said=normal.said(begin, end))
    return clauses


def _without_address(text: str) -> str:
    """The text without a slash in front, and without "@name" behind a first word that had one."""
    if "/" not in text:
        return text
    match = _ADDRESS.match(text)
    if match is None:
        return text
    blank = list(text)
    for group in (1, 2):
        for place in range(*match.span(group)):
            blank[place] = " "
    return "".join(blank)


def _without_notes(text: str) -> tuple[str, list[tuple[int, int, int]]]:
    """The text with its notes blanked, and for each its start, its first letter and its end."""
    if "#" not in text and "//" not in text and "note" not in text:
        return text, []
    notes = [(m.start(), *m.span(1)) for m in _NOTE.finditer(text)]
    return _NOTE.sub(lambda match: " " * len(match[0]), text), notes


def _with_note(clauses: list[Cut], normal: Normal, *, start: int, said: str) -> list[Cut]:
    """The clauses with a note given to the one in front of it on the same line."""
    for index in reversed(range(len(clauses))):
        clause = clauses[index]
        if clause.start < start:
            if "\n" not in normal.text[clause.start : start]:
                clauses[index] = clause._replace(note=said or None)
            break
    return clauses


def _tokens(lexemes: list[Lexeme], vocabulary: Vocabulary) -> list[Token]:
    """The lexemes with their meaning; the longest name that fits wins."""
    tokens: list[Token] = []
    index = 0
    while index < len(lexemes):
        lexeme = lexemes[index]
        hundred = lexeme.text == "a" and index + 1 < len(lexemes)
        hundred = hundred and lexemes[index + 1].text == "hundred"
        if lexeme.text in vocabulary.entries and not hundred:
            taken = _entry_at(lexemes, index, vocabulary, opening=_opens(tokens))
            if taken is not None:
                token, used = taken
                if token.type != "PLEASE":
                    tokens.append(token)
                elif tokens and tokens[-1].type == "COMMA":
                    tokens.pop()
                index += used
                continue
        if lexeme.kind == "number":
            number = Decimal(lexeme.text)
            tokens.append(Token("NUMBER", lexeme.text, lexeme.start, lexeme.end, number))
            index += 1
            continue
        spoken = number_at(lexemes, index) if lexeme.kind == "word" else None
        if spoken is not None:
            number, used = spoken
            end = lexemes[index + used - 1].end
            tokens.append(Token("NUMBER", str(number), lexeme.start, end, number))
            index += used
            continue
        tokens.append(Token(_KINDS[lexeme.kind], lexeme.text, lexeme.start, lexeme.end))
        index += 1
    return tokens


def _opens(tokens: list[Token]) -> bool:
    return not tokens or tokens[-1].text in _BREAKS


def _entry_at(
    lexemes: list[Lexeme], index: int, vocabulary: Vocabulary, *, opening: bool
) -> tuple[Token, int] | None:
    """The longest entry that begins there, and how many lexemes it takes."""
    first = lexemes[index]
    for rest, terminal, text, figures in vocabulary.entries[first.text]:
        # A name of figures alone, such as 7:3, counts only where a clause begins.
        if figures and not opening:
            continue
        if not rest:
            return Token(terminal, text, first.start, first.end), 1
        after = lexemes[index + 1 : index + 1 + len(rest)]
        if after and after[0].text == rest[0] and tuple(lexeme.text for lexeme in after) == rest:
            return Token(terminal, text, first.start, after[-1].end), 1 + len(rest)
    return None


def _split(tokens: list[Token], text: str) -> list[tuple[list[Token], int]]:
    """The tokens of each clause, and where its text ends."""
    clauses: list[tuple[list[Token], int]] = []
    current: list[Token] = []
    for index, token in enumerate(tokens):
        if token.text in _BREAKS:
            while current and current[-1].type == "COMMA" and token.text == "\n":
                current.pop()
            _close(clauses, current, token.start_pos)
            current = []
        elif not current and token.text in _BULLETS and _leads_to_exercise(tokens, index + 1):
            continue
        elif token.type in _JOINING and _leads_to_exercise(tokens, index):
            if current and current[0].type in _LISTING:
                current.append(token)
            elif current:
                carried = _carried(current, tokens, index)
                _close(clauses, current, token.start_pos)
                current = carried
        else:
            current.append(token)
    _close(clauses, current, len(text.rstrip()))
    return clauses


def _carried(current: list[Token], tokens: list[Token], index: int) -> list[Token]:
    """The word that also holds for the next name: skip, in ``skip crimp and roller``."""
    after = tokens[index + 2] if index + 2 < len(tokens) else None
    alone = after is None or after.text in (_BREAKS | _FINAL) or after.type in _JOINING
    if not alone or len(current) != 2 or current[0].type not in _CARRIED:
        return []
    place = tokens[index + 1].start_pos
    return [current[0]._replace(start_pos=place, end_pos=place)]


def _leads_to_exercise(tokens: list[Token], index: int) -> bool:
    while index < len(tokens) and tokens[index].type in _JOINING:
        index += 1
    return index < len(tokens) and tokens[index].type == "EXERCISE"


def _close(clauses: list[tuple[list[Token], int]], current: list[Token], end: int) -> None:
    while current and current[-1].text in _FINAL:
        end = current.pop().start_pos
    if current:
        clauses.append((current, end))
