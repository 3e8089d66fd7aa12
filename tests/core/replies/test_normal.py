"""One form of each sign, and the way back to the columns of the original."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.replies.normal import normal_from


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("Crimp 4X22KG", "crimp 4x22kg"),
        ("４×２２ｋｇ", "4x22kg"),
        ("٤x٢٢", "4x22"),
        ("a\u00a0b\u2009c\td", "a b c d"),
        ("−12 –12 —12 ‑12", "-12 -12 -12 -12"),
        ("it’s “10”", 'it\'s "10"'),
        ("10″", '10"'),
        ("👍🏽 ✔️", "👍 ✔"),
        ("cr\u200bim\u200fp", "crimp"),
        ("a\r\nb\u2028c", "a\n\nb\nc"),
        ("ok…", "ok."),
    ],
)
def test_normal_from_makes_one_form(typed, plain):
    assert normal_from(typed).text == plain


@given(text=st.text(max_size=200))
def test_normal_from_knows_where_each_character_came_from(text):
    normal = normal_from(text)
    columns = [normal.column(place) for place in range(len(normal.text) + 1)]
    assert columns == sorted(columns)
    assert columns[-1] == len(text)


@given(text=st.text(max_size=200))
def test_normal_from_leaves_no_capitals_and_no_strange_space(text):
    plain = normal_from(text).text
    assert plain == plain.lower() or not plain.isascii()
    assert not any(character.isspace() and character not in " \n" for character in plain)


def test_said_is_the_original_text():
    normal = normal_from("zone\u00a0 Europe/Oslo ")
    assert normal.said(5, len(normal.text)) == "Europe/Oslo"
