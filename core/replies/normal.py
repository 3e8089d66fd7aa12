"""A reply as the grammar wants it, with the way back to the columns of the original.

Case, widths, invisible characters, spaces, quotes, dashes and signs are made
one of each, and a letter with its mark is one character where there is one.
Letters are never exchanged for others and nothing is corrected.
"""

import unicodedata
from functools import lru_cache
from typing import NamedTuple

_ONE_OF_EACH = {
    **dict.fromkeys("‐‑‒–—―−﹣－⁻", "-"),
    **dict.fromkeys("‘’‚‛′´`ʼ＇", "'"),
    **dict.fromkeys("“”„‟″＂«»", '"'),
    **dict.fromkeys("×✕✖⨯∗＊⋅·", "x"),
    **dict.fromkeys("❎✗✘", "❌"),
    **dict.fromkeys("☑✓", "✔"),
    **dict.fromkeys("⁄∕", "/"),
    **dict.fromkeys("∶", ":"),
    **dict.fromkeys("。", "."),
    **dict.fromkeys("、،", ","),
    **dict.fromkeys("؛", ";"),
    **dict.fromkeys("؟¿¡", "?"),
    **dict.fromkeys("\n\r\v\f\x1c\x1d\x1e\x85\u2028\u2029", "\n"),
    "\t": " ",
    "…": ".",
}
_FULL_WIDTH = range(0xFF01, 0xFF5F)
_FULL_WIDTH_SHIFT = 0xFEE0
_VARIATION = frozenset(chr(c) for c in range(0xFE00, 0xFE10))
_SKIN_TONE = frozenset(chr(c) for c in range(0x1F3FB, 0x1F400))
_KEYCAP = "\u20e3"


class Normal(NamedTuple):
    """Normal text, and for each of its characters the column it came from.

    ``columns`` has one more entry than ``text``: the end of the original. It is
    None when both texts have the same columns.
    """

    original: str
    text: str
    columns: tuple[int, ...] | None

    def column(self, place: int) -> int:
        """The column in the original of a place in the normal text."""
        return place if self.columns is None else self.columns[place]

    def said(self, start: int, end: int) -> str:
        """The original text between two places of the normal text, without space around it."""
        return self.original[self.column(start) : self.column(end)].strip()


def normal_from(original: str) -> Normal:
    """The normal form of a reply."""
    if original.isascii() and original.isprintable():
        return Normal(original, original.lower(), None)
    pieces: list[str] = []
    columns: list[int] = []
    for column, character in enumerate(original):
        piece = _piece(character)
        if piece and pieces and unicodedata.combining(piece[0]):
            # "u" and its two dots are one letter, as a name has it.
            whole = unicodedata.normalize("NFC", pieces[-1] + piece)
            if len(whole) == len(pieces[-1]):
                pieces[-1] = whole
                continue
        pieces.append(piece)
        columns.extend([column] * len(piece))
    columns.append(len(original))
    return Normal(original, "".join(pieces), tuple(columns))


@lru_cache(maxsize=4096)
def _piece(character: str) -> str:
    if character in _ONE_OF_EACH:
        return _ONE_OF_EACH[character]
    if character.isascii():
        return character.lower() if character.isprintable() else " "
    if character in _VARIATION or character in _SKIN_TONE or character == _KEYCAP:
        return ""
    if ord(character) in _FULL_WIDTH:
        return chr(ord(character) - _FULL_WIDTH_SHIFT).lower()
    digit = unicodedata.decimal(character, None)
    if digit is not None:
        return str(digit)
    match unicodedata.category(character):
        case "Cf":
            return ""
        case "Zs" | "Cc":
            return " "
        case _:
            return character.lower()
