"""Every number up to one hundred in words, against a second way to spell them."""

import pytest

from core.replies.lexeme import lexemes_in
from core.replies.number_word import number_at

ONES = """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen
fifteen sixteen seventeen eighteen nineteen""".split()  # noqa: SIM905 - a sentence to read aloud
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()  # noqa: SIM905 - as above


def spelt(number):
    if number < 20:
        return ONES[number]
    tens, ones = divmod(number, 10)
    return TENS[tens - 2] + (f" {ONES[ones]}" if ones else "")


def spoken(text):
    number, used = number_at(lexemes_in(text), 0)
    assert used == len(lexemes_in(text))
    return number


@pytest.mark.parametrize("number", range(100))
def test_number_at_reads_every_number_below_one_hundred(number):
    assert spoken(spelt(number)) == number
    assert spoken(spelt(number).replace(" ", "-")) == number
    if number:
        assert spoken(f"one hundred and {spelt(number)}") == 100 + number


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("hundred", "100"),
        ("a hundred", "100"),
        ("two hundred and five", "205"),
        ("two point five", "2.5"),
        ("one point two five", "1.25"),
        ("twelve and a half", "12.5"),
    ],
)
def test_number_at_reads_hundreds_and_parts(text, number):
    assert str(spoken(text)) == number


@pytest.mark.parametrize("text", ["point five", "and", "crimp", "x"])
def test_number_at_is_none_where_no_number_begins(text):
    assert number_at(lexemes_in(text), 0) is None
