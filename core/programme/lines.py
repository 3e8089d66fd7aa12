"""On which line each part of a TOML text stands.

``tomllib`` keeps no positions and neither do the libraries that write TOML back, so this walks
over text that ``tomllib`` has accepted. Valid text needs little: where strings, keys, lists
and tables begin and end. A test holds its paths equal to what ``tomllib`` makes of the text.
"""

import re
import tomllib
from bisect import bisect_left

from core.programme.table import Path

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_STRING = re.compile(
    r'"""(?:\\[\s\S]|[^\\])*?"""(?:"{0,2})'
    r"|'''[\s\S]*?'''(?:'{0,2})"
    r'|"(?:\\.|[^"\\\n])*"'
    r"|'[^'\n]*'"
)
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_PLAIN = re.compile(r"[^,\]}\n#]+")


def lines_of(text: str) -> dict[Path, int]:
    """The line, from 1, of every table, key and list entry.

    Args:
        text: TOML that ``tomllib`` reads without an error.

    Returns:
        By path; a table that is opened several times has the first line.
    """
    return _Walk(text).whole()


def nearest_line(lines: dict[Path, int], path: Path) -> int:
    """The line of that part, or of the innermost part around it that is there."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 1)


class _Walk:
    """A place in the text, and what was passed on the way there."""

    def __init__(self, text: str) -> None:
        self.text = text.replace("\r\n", "\n")
        self.at = 0
        self.lines: dict[Path, int] = {}
        self._ends = [m.start() for m in re.finditer("\n", self.text)]
        self._entries: dict[Path, int] = {}
        """How many tables each list that is written as [[…]] has so far."""

    def whole(self) -> dict[Path, int]:
        inside: Path = ()
        while sign := self._next():
            if sign == "[":
                inside = self._header()
            else:
                self._pair(inside)
        return self.lines

    def _header(self) -> Path:
        """The table that [a.b] or [[a.b]] opens."""
        begin, is_entry = self.at, self.text.startswith("[[", self.at)
        self.at += 1 + is_entry
        keys = self._keys()
        self.at += 1 + is_entry
        path: Path = ()
        for key in keys[:-1]:
            path = self._last_entry((*path, key), begin)
        path = (*path, keys[-1])
        if is_entry:
            self._entries[path] = self._entries.get(path, 0) + 1
        return self._last_entry(path, begin)

    def _last_entry(self, path: Path, begin: int) -> Path:
        self._mark(path, begin)
        if path in self._entries:
            path = (*path, self._entries[path] - 1)
            self._mark(path, begin)
        return path

    def _pair(self, inside: Path) -> None:
        begin = self.at
        path = inside
        for key in self._keys():
            path = (*path, key)
            self._mark(path, begin)
        self.at += 1  # the sign between key and value
        self._value(path)

    def _keys(self) -> list[str]:
        """The parts of a dotted key, up to the sign behind it."""
        keys: list[str] = []
        while True:
            self._pass(_SPACE)
            if self.text[self.at] in "\"'":
                quoted = self._pass(_STRING)
                keys.append(tomllib.loads(f"key = {quoted}")["key"])
            else:
                keys.append(self._pass(_BARE_KEY))
            self._pass(_SPACE)
            if self.text[self.at] != ".":
                return keys
            self.at += 1

    def _value(self, path: Path) -> None:
        self._pass(_SPACE)
        match self.text[self.at]:
            case "[":
                self._list(path)
            case "{":
                self._inline(path)
            case '"' | "'":
                self._pass(_STRING)
            case _:
                self._pass(_PLAIN)

    def _list(self, path: Path) -> None:
        self.at += 1
        place = 0
        while self._next() != "]":
            self._mark((*path, place), self.at)
            self._value((*path, place))
            self.at += self._next() == ","
            place += 1
        self.at += 1

    def _inline(self, path: Path) -> None:
        self.at += 1
        while self._next() != "}":
            self._pair(path)
            self.at += self._next() == ","
        self.at += 1

    def _next(self) -> str:
        """The sign behind blanks and comments, empty at the end."""
        self._pass(_BLANK)
        return self.text[self.at : self.at + 1]

    def _mark(self, path: Path, begin: int) -> None:
        self.lines.setdefault(path, bisect_left(self._ends, begin) + 1)

    def _pass(self, pattern: re.Pattern[str]) -> str:
        """Go past what the pattern matches here; what that was."""
        found = pattern.match(self.text, self.at)
        if found is None:
            raise ValueError(f"not TOML at {self.at}")
        self.at = found.end()
        return found[0]
