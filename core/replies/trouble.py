"""Why a clause was not understood, as a value."""

from typing import NamedTuple


class Trouble(NamedTuple):
    """Something that did not fit.

    Attributes:
        at, end: Its places in the normal text; equal where something is missing.
        expected: What would have been understood there, in plain words.
        instead: Texts that could stand there in its place, nearest first.
    """

    at: int
    end: int
    expected: tuple[str, ...]
    instead: tuple[str, ...] = ()
