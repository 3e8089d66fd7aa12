"""The grammar file itself: LALR without conflicts, and every word of it within reach."""

import logging

import lark
import pytest
from lark.lexer import Lexer

from core.packaged import packaged_text
from core.replies import grammar, read
from core.replies.grammar import grammar_words
from core.replies.parse_table import ParseTable


class _Unused(Lexer):
    def __init__(self, _: object) -> None:
        pass

    def lex(self, *_: object) -> object:
        raise NotImplementedError


def built(text, caplog):
    lark.logger.setLevel(logging.DEBUG)
    try:
        with caplog.at_level(logging.DEBUG, logger=lark.logger.name):
            lark.Lark(text, parser="lalr", lexer=_Unused, start=["clause", "pain"], debug=True)
    finally:
        lark.logger.setLevel(logging.CRITICAL)
    return caplog.text


def test_grammar_has_no_conflicts(caplog):
    assert "onflict" not in built(packaged_text("core.replies", "reply.lark"), caplog)


def test_conflict_check_sees_a_conflict(caplog):
    dangling = 'clause: "i" clause | "i" clause "e" clause | "s"\npain: "p"\n'
    assert "onflict" in built(dangling, caplog)


def test_grammar_words_are_found_in_the_file():
    words = grammar_words()
    assert words["all out"] == "LIMIT"
    assert words["👍"] == "OK"
    assert words['"'] == "SECOND"
    assert words["*"] == "TIMES"
    assert len(words) > 250


def test_no_word_of_the_grammar_makes_the_reader_fail(context):
    for word in grammar_words():
        for text in (word, f"crimp 4x22kg {word}", f"{word} 4", f"{word} crimp"):
            assert read(text, context).text == text


def test_shipped_table_was_made_from_the_grammar():
    assert grammar.is_table_current(), "the grammar has changed: run deploy/grammar"


@pytest.mark.parametrize(
    "reply",
    ["crimp 4x22kg ok last fail 7s", "left ring finger hurts 4/10", "crimp 4x22 24", "plates 2x"],
)
def test_shipped_table_reads_as_the_grammar_does(monkeypatch, context, reply):
    shipped = read(reply, context)
    made = grammar._made()
    table = ParseTable(made)
    monkeypatch.setattr(grammar, "_table", lambda: table)
    assert read(reply, context) == shipped


def test_table_of_another_grammar_is_not_used(monkeypatch, context):
    monkeypatch.setattr(grammar, "packaged_bytes", lambda *_: b"0" * 32 + b"not a table")
    grammar._parser.cache_clear()
    grammar._table.cache_clear()
    try:
        assert not grammar.is_table_current()
        assert read("crimp 4x22kg ok", context).misread is None
    finally:
        grammar._parser.cache_clear()
        grammar._table.cache_clear()


def test_parser_is_built_once():
    assert grammar._parser() is grammar._parser()
