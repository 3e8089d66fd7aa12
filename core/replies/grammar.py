"""The grammar: the words written in it, and the parser made of it.

Making the parser of ``reply.lark`` takes a third of a second, loading one that was made
before a fiftieth. So ``reply.table`` ships beside the grammar, stamped with what it was
made from; where the stamp does not fit (the grammar was edited, or another version of the
parser library is installed) the parser is made anew, and means the same.
"""

import re
from collections.abc import Iterator, Sequence
from functools import cache
from hashlib import sha256
from io import BytesIO
from typing import NamedTuple, cast

import lark
from lark import Lark
from lark.common import LexerConf
from lark.lexer import Lexer

from core.packaged import packaged_bytes, packaged_text
from core.replies.act import Ask, Done
from core.replies.builder import Builder
from core.replies.node import Clause, Lasting, LogSaid
from core.replies.parse_table import ParseTable, Stuck
from core.replies.token import Token

Parsed = Ask | Done | LogSaid | Lasting | Clause
"""What a clause can be before its meaning is worked out."""


_GRAMMAR = ("core.replies", "reply.lark")
_TABLE = ("core.replies", "reply.table")


class Unexpected(NamedTuple):
    """A token that the grammar has no place for; ``token`` is None at the end of the clause."""

    token: Token | None
    stuck: Stuck
    start: str

    def accepted(self) -> frozenset[str]:
        """The terminals that would have fitted; worked out when asked for."""
        return _table().accepted(self.stuck, start=self.start)


class _Ready(Lexer):
    """Hands the parser tokens that were made beforehand."""

    def __init__(self, _: LexerConf) -> None:
        pass

    def lex(self, tokens: Sequence[Token]) -> Iterator[Token]:  # type: ignore[override]
        return iter(tokens)


def grammar_table() -> bytes:
    """What ``reply.table`` has to hold: the stamp, then the parser as the library saves it."""
    table = BytesIO()
    _made().save(table)
    return _stamp() + table.getvalue()


def is_table_current() -> bool:
    """True when the ``reply.table`` that ships was made from this grammar and library."""
    return packaged_bytes(*_TABLE).startswith(_stamp())


@cache
def _parser() -> Lark:
    table = packaged_bytes(*_TABLE)
    stamp = _stamp()
    return Lark.load(BytesIO(table[len(stamp) :])) if table.startswith(stamp) else _made()


def _made() -> Lark:
    return Lark(
        packaged_text(*_GRAMMAR),
        parser="lalr",
        lexer=_Ready,
        start=["clause", "pain"],
        transformer=Builder(),
        maybe_placeholders=False,
    )


def _stamp() -> bytes:
    made_from = f"{lark.__version__}\n{packaged_text(*_GRAMMAR)}"
    return sha256(made_from.encode()).digest()


@cache
def grammar_words() -> dict[str, str]:
    """Every word and phrase written in the grammar, with its terminal."""
    words: dict[str, str] = {}
    for terminal in _parser().terminals:
        if terminal.pattern is not None:
            written = terminal.pattern.to_regexp().removeprefix("(?:").removesuffix(")")
            for word in written.split("|"):
                words[re.sub(r"\\(.)", r"\1", word)] = terminal.name
    return words


@cache
def _table() -> ParseTable:
    return ParseTable(_parser())


def parsed(tokens: Sequence[Token], *, start: str) -> Parsed | Unexpected:
    """The clause that these tokens make, or the token that makes it none."""
    made = _table().walk(tokens, start=start)
    if isinstance(made, Stuck):
        return Unexpected(made.token, made, start)
    # The builder makes nothing else of a whole clause.
    return cast(Parsed, made)
