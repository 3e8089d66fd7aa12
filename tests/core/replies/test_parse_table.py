"""The loop of our own against the library's: the same values, the same stops, the same choices."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lark.exceptions import UnexpectedToken

from core.replies import grammar
from core.replies.cut import clauses_in
from core.replies.normal import normal_from
from core.replies.parse_table import ParseTable, Stuck
from core.replies.vocabulary import vocabulary_of

TEXTS = """crimp|plank|4|22|4x22kg|22kg|10s|ok|hard|fail|last|L|R|20mm|green band|rpe 8|,|/|@|at|on
and|then|help|all|done|next|skip|wall|tonight|plates|2x10|+|-|evenings|tue|20:30|60 min|move|to
pause|2 weeks|start|fix"""
WORDS = st.sampled_from(TEXTS.replace("\n", "|").split("|"))


@pytest.fixture(scope="module")
def library():
    """The grammar as the library parses it."""
    return grammar._made()


@pytest.fixture(scope="module")
def table(library):
    return ParseTable(library)


def parsed_by(library, tokens):
    """The library's value, or its error."""
    try:
        return library.parse(tokens, start="clause")
    except UnexpectedToken as error:
        return error


@given(words=st.lists(WORDS, min_size=1, max_size=9))
def test_walk_agrees_with_the_librarys_own_loop(library, table, words):
    for cut in clauses_in(normal_from(" ".join(words)), vocabulary_of((), ())):
        ours = table.walk(cut.tokens, start="clause")
        theirs = parsed_by(library, cut.tokens)
        assert isinstance(ours, Stuck) == isinstance(theirs, UnexpectedToken)
        if isinstance(ours, Stuck):
            assert ours.token == (None if theirs.token.type == "$END" else theirs.token)
            assert table.accepted(ours, start="clause") == theirs.accepts
        else:
            assert ours == theirs
