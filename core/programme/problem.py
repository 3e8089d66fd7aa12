"""What is wrong with a programme's text: values with a place, gathered, never raised."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from core.catalogue import Block, catalogue

Kind = Literal[
    "syntax",
    "too-long",
    "missing",
    "unknown-field",
    "wrong-type",
    "out-of-bounds",
    "unknown-name",
    "wrong-block",
    "twice",
    "wrong-order",
    "warm-up",
]

NEAR = 0.6
"""How alike two names must be for one to be offered for the other. [-], 0 to 1"""


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake.

    Attributes:
        kind: What sort of mistake.
        line: Where, from 1.
        column: Where on the line, from 1; None where only the line is known.
        field: Which field, outermost part first: "fingers > half-crimp > sets". Empty for
            mistakes of the text itself.
        found: What stands there, in words; empty where something is missing.
        allowed: What may stand there, in words.
    """

    kind: Kind
    line: int
    column: int | None
    field: str
    found: str
    allowed: str


def nearest(name: str, *, block: Block | None) -> tuple[str, ...]:
    """The slugs of the exercises that a misspelt or everyday name most likely means.

    Args:
        name: What was written.
        block: The block it was written in; None where that is not known.
    """
    # Loaded here: most programmes have no mistakes, and every start would wait for it.
    from difflib import get_close_matches

    said = name.strip().lower().replace("-", " ")
    slugs: dict[str, str] = {}
    for exercise in catalogue().exercises:
        if block is None or exercise.block == block:
            names = (exercise.slug.replace("-", " "), exercise.name.lower(), *exercise.aliases)
            slugs.update(dict.fromkeys(names, exercise.slug))
    found = get_close_matches(said, slugs, n=6, cutoff=NEAR)
    return tuple(dict.fromkeys(slugs[one] for one in found))[:3]


def one_of(names: Iterable[str]) -> str:
    """A choice in words: "a, b or c"."""
    *most, last = names
    return f"{', '.join(most)} or {last}" if most else last
