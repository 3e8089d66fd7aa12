"""The grammar, built once: the words written in it, and the parser made of it."""

import re
from collections.abc import Iterator, Sequence
from functools import cache
from typing import cast

from lark import Lark
from lark.common import LexerConf
from lark.exceptions import UnexpectedToken
from lark.lexer import Lexer

from core.packaged import packaged_text
from core.replies.act import Ask, Done
from core.replies.builder import Builder
from core.replies.node import Clause, Lasting, LogSaid
from core.replies.token import Token

Parsed = Ask | Done | LogSaid | Lasting | Clause
"""What a clause can be before its meaning is worked out."""


class Unexpected(Exception):
    """A token that the grammar has no place for; ``token`` is None at the end of the clause."""

    def __init__(self, error: UnexpectedToken) -> None:
        super().__init__("the clause does not fit the grammar")
        self._error = error
        is_end = error.token.type == "$END"
        self.token: Token | None = None if is_end else cast(Token, error.token)

    def accepted(self) -> frozenset[str]:
        """The terminals that would have fitted; worked out when asked for."""
        return frozenset(self._error.accepts)


class _Ready(Lexer):
    """Hands the parser tokens that were made beforehand."""

    def __init__(self, _: LexerConf) -> None:
        pass

    def lex(self, tokens: Sequence[Token]) -> Iterator[Token]:  # type: ignore[override]
        return iter(tokens)


@cache
def _parser() -> Lark:
    return Lark(
        packaged_text("core.replies", "reply.lark"),
        parser="lalr",
        lexer=_Ready,
        start=["clause", "pain"],
        transformer=Builder(),
        maybe_placeholders=False,
    )


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


def parsed(tokens: Sequence[Token], *, start: str) -> Parsed:
    """The clause that these tokens make.

    Raises:
        Unexpected: They make none.
    """
    try:
        # The parser takes any input its lexer can read; the types say text only.
        return cast(Parsed, _parser().parse(tokens, start=start))
    except UnexpectedToken as error:
        raise Unexpected(error) from None
