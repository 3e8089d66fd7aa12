"""The line of every part of a TOML text: by hand, and by what tomllib makes of the same text."""

import tomllib
from typing import Any

from hypothesis import example, given
from hypothesis import strategies as st

from core.programme.lines import lines_of, nearest_line
from core.programme.table import Path

TEXT = '''\
# "not a key" = 1
plain = 1  # [[not.a.table]]
"quoted key" = "a # in a string"
dotted . "part two" = 2
lines = """
[not.a.table]
x = \\"""
end"""""
literal = \'\'\'
y = 1
\'\'\'
list = [  # a comment, with ] and }
    1, "two, ]",
    { a = 1, b.c = [2, 3] },
]
[table]
when = 1979-05-27 07:32:00
[[many]]
a = 1
[[many]]
a = 2
[many.inner]
b = 3
[[many.deep]]
c = 4
[[many.deep]]
c = 5
'''

BY_HAND: dict[Path, int] = {
    ("plain",): 2,
    ("quoted key",): 3,
    ("dotted",): 4,
    ("dotted", "part two"): 4,
    ("lines",): 5,
    ("literal",): 9,
    ("list",): 12,
    ("list", 0): 13,
    ("list", 1): 13,
    ("list", 2): 14,
    ("list", 2, "a"): 14,
    ("list", 2, "b"): 14,
    ("list", 2, "b", "c"): 14,
    ("list", 2, "b", "c", 0): 14,
    ("list", 2, "b", "c", 1): 14,
    ("table",): 16,
    ("table", "when"): 17,
    ("many",): 18,
    ("many", 0): 18,
    ("many", 0, "a"): 19,
    ("many", 1): 20,
    ("many", 1, "a"): 21,
    ("many", 1, "inner"): 22,
    ("many", 1, "inner", "b"): 23,
    ("many", 1, "deep"): 24,
    ("many", 1, "deep", 0): 24,
    ("many", 1, "deep", 0, "c"): 25,
    ("many", 1, "deep", 1): 26,
    ("many", 1, "deep", 1, "c"): 27,
}


def paths(data: Any, path: Path = ()) -> set[Path]:
    """Every part of what tomllib made of a text."""
    if isinstance(data, dict):
        inner = {(*path, key): one for key, one in data.items()}
    elif isinstance(data, list):
        inner = {(*path, place): one for place, one in enumerate(data)}
    else:
        inner = {}
    return set(inner).union(*(paths(one, at) for at, one in inner.items()))


def test_lines_by_hand() -> None:
    assert lines_of(TEXT) == BY_HAND
    assert lines_of(TEXT.replace("\n", "\r\n")) == BY_HAND


def test_a_part_that_is_missing_is_looked_for_around_it() -> None:
    lines = lines_of(TEXT)
    assert nearest_line(lines, ("many", 1, "zzz")) == 20
    assert nearest_line(lines, ("zzz",)) == 1


SIGNS = ("a", ".", " = ", "=", "\n", "\r\n", "[", "]", "[[", "]]", "{", "}", ",", "#", " ", "\\")
SCRAPS = ('"k.k"', "'l'", "1", "true", "1.5", "2020-01-01", '"\\""', "'#'", '"""', "'''", "x]\n")
LINES = (
    "a = 1\n",
    "[t]\n",
    "[t.w]\n",
    "[[u]]\n",
    "[[u.v]]\n",
    "b = [1, [2]]\n",
    "c = {d = 1, e.f = 2}\n",
    'g = """\n""""\n',
    "h.i = 1\n",
)
PIECES = st.sampled_from((*SIGNS, *SCRAPS, *LINES))


@given(st.lists(PIECES, max_size=25).map("".join))
@example(TEXT)
@example('a = """"""""\nb = [[], {}, [{}]]\n')
def test_every_part_that_tomllib_sees_has_a_line(text: str) -> None:
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    lines = lines_of(text)
    assert set(lines) == paths(data)
    last = text.count("\n") + 1
    assert all(1 <= line <= last for line in lines.values())


keys = st.text("ab-_0 .'é\"\\#[", min_size=1, max_size=4)
values = st.recursive(
    st.integers() | st.booleans() | st.text("x#]}\"'\\\n", max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=3),
    max_leaves=6,
)


def written(value: Any) -> str:
    """A value as TOML, lists and tables inline."""
    match value:
        case bool():
            return "true" if value else "false"
        case int():
            return str(value)
        case str():
            plain = value.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
            return f'"{plain}"'
        case list():
            return f"[{', '.join(map(written, value))}]"
    return f"{{{', '.join(f'{written(k)} = {written(v)}' for k, v in value.items())}}}"


@given(st.lists(st.tuples(keys, values), max_size=6, unique_by=lambda pair: pair[0]))
def test_a_key_written_on_a_line_is_found_on_it(pairs: list[tuple[str, Any]]) -> None:
    text = "".join(f"{written(key)} = {written(value)}\n" for key, value in pairs)
    data = tomllib.loads(text)
    lines = lines_of(text)
    assert set(lines) == paths(data)
    for number, (key, _) in enumerate(pairs, start=1):
        assert {line for path, line in lines.items() if path[0] == key} == {number}
