"""How one input becomes another: as bytes, and as words a climber or a villain may type.

An input is one byte for the context and then the text in UTF-8; bytes that are no UTF-8
become lone surrogates.
"""

import random
import re
from collections.abc import Callable
from pathlib import Path

from core.catalogue import logged_exercises
from core.replies.grammar import grammar_words

_REPLIES = Path(__file__).parents[1] / "replies"
_NAMES = {name for one in logged_exercises() for name in (one.slug, one.name, *one.aliases)}
_WORDS = sorted({*grammar_words(), *_NAMES, "green band", "light green", "no 3 band", "board"})
_SPOKEN = "one two ten twelve twenty thirty hundred point half and a"
_NUMBERS = """
0 00 1 4 8 10 20 22 40 99 100 101 300 301 900 901 1000 1440 22.5 22,5 .5 5. 0.0001 1e9 0.0005kg
4x22 4x10x22kg 22/22/24 8,7,6 1,5,5 1:30 24:00 0:00 1m30 1h30 1h99 20:30 25:61 8pm 13pm 8:30am 7:3
2026-12-14 2026-02-30 0000-00-00 31 29 -12kg +5kg 22kq 22kgx4 4x @8 @22kg 3/10 1st 2nd 300.001kg
661.386lb 0.4535lb 99999999999999999999999999999999 20R 8r 3r 8-7-6 5+5 10s 15mm 20min 2h 30d
"""
_SIGNS = [*";,#/@+-–−×*:.!?\"'“”‘’()[]%&=~…、؛؟。½²①٣५４ßİıſΩ", "//", "note:", "\n", "\r\n", "\\n"]
_HOSTILE = [
    *"\u200b\u200d\u200e\u200f\u202e\u2066\ufeff\u00ad\u0301\u20e3\ufe0f\U000e0041\u00a0\u2028",
    *"\u0085\u3000\u1680\t\x00\x1b\x7f\udced\ufffe\U0010ffff\ufdfa\uff21\ufb01👍❌",
    *("👍\U0001f3fd", "4\ufe0f\u20e3", "👨\u200d👩\u200d👧", "\U0001f3f4\U000e0067\U000e007f"),
]
_PIECES = re.compile(r"\s+|\w+|[^\w\s]")
_MOST_STEPS = 4
_MOST_COPIES = 400


def seed_texts() -> list[str]:
    """The replies of the corpus."""
    return [
        line.replace("\\n", "\n")
        for path in sorted(_REPLIES.glob("*.txt"))
        for line in path.read_text(encoding="utf-8").splitlines()
        if line and not line.startswith(("#", " "))
    ]


_SEEDS = seed_texts()


def bytes_of(text: str, context: int = 0) -> bytes:
    return bytes([context]) + text.encode("utf-8", "surrogateescape")


def text_of(data: bytes) -> str:
    return data[1:].decode("utf-8", "surrogateescape")


def mutated(
    data: bytes, max_size: int, seed: int, *, by_bytes: Callable[[bytes, int], bytes]
) -> bytes:
    """One input made of another: by words in three of four cases, else ``by_bytes``."""
    chance = random.Random(seed)
    if len(data) < 2 or chance.random() < 0.25:
        return by_bytes(data, max_size)
    context = chance.randrange(256) if chance.random() < 0.1 else data[0]
    text = text_of(data)
    for _ in range(chance.randint(1, _MOST_STEPS)):
        text = chance.choice(_STEPS)(text, chance)
    return bytes_of(text, context)[:max_size]


def _piece(chance: random.Random) -> str:
    kind = chance.random()
    if kind < 0.5:
        return chance.choice(_WORDS)
    if kind < 0.75:
        return chance.choice(_NUMBERS.split()) if kind < 0.7 else str(chance.randint(0, 1000))
    return chance.choice((_SIGNS, _SIGNS, _HOSTILE, _SPOKEN.split())[chance.randrange(4)])


def _put(text: str, chance: random.Random) -> str:
    """A word of the trade, a number or a sign put in, with or without space around it."""
    place = chance.choice([0, len(text), chance.randint(0, len(text)), _edge(text, chance)])
    before, after = chance.choice([(" ", " "), (" ", ""), ("", " "), ("", "")])
    return text[:place] + before + _piece(chance) + after + text[place:]


def _edge(text: str, chance: random.Random) -> int:
    return chance.choice([0, *(match.end() for match in _PIECES.finditer(text))])


def _exchanged(text: str, chance: random.Random) -> str:
    pieces = _PIECES.findall(text) or [""]
    pieces[chance.randrange(len(pieces))] = _piece(chance)
    return "".join(pieces)


def _left_out(text: str, chance: random.Random) -> str:
    pieces = _PIECES.findall(text)
    start = chance.randint(0, len(pieces))
    return "".join(pieces[:start] + pieces[start + chance.randint(1, 3) :])


def _moved(text: str, chance: random.Random) -> str:
    pieces = _PIECES.findall(text)
    if pieces:
        pieces.insert(chance.randint(0, len(pieces)), pieces.pop(chance.randrange(len(pieces))))
    return "".join(pieces)


def _copied(text: str, chance: random.Random) -> str:
    """A part of it again, once or very often."""
    start, end = sorted((_edge(text, chance), _edge(text, chance)))
    many = chance.choice([1, 1, 2, 3, 10, chance.randint(10, _MOST_COPIES)])
    between = chance.choice(["", " ", ", ", "; ", "\n"])
    return text[:end] + (between + text[start:end]) * many + text[end:]


def _joined(text: str, chance: random.Random) -> str:
    between = chance.choice(["\n", "; ", ", ", " and ", " then ", " # ", " "])
    other = chance.choice(_SEEDS)
    return text + between + other if chance.random() < 0.5 else other + between + text


def _recased(text: str, chance: random.Random) -> str:
    return chance.choice((text.upper(), text.title(), text.swapcase()))


def _misspelt(text: str, chance: random.Random) -> str:
    place = chance.randint(0, len(text))
    instead = chance.choice(["", text[place : place + 1] * 2, chance.choice("aeiklmnoprst")])
    return text[:place] + instead + text[place + 1 :]


def _fresh(_: str, chance: random.Random) -> str:
    return " ".join(_piece(chance) for _ in range(chance.randint(1, 12)))


_STEPS = (_put, _put, _put, _exchanged, _exchanged, _left_out, _moved, _copied, _joined)
_STEPS += (_recased, _misspelt, _misspelt, _fresh)
