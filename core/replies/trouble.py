"""Why a clause was not understood, as a value."""

from typing import NamedTuple

from core.replies.cut import Cut
from core.replies.normal import Normal


class Trouble(NamedTuple):
    """Something that did not fit.

    Attributes:
        at, end: Its places in the normal text; equal where something is missing.
        expected: What would have been understood there, in plain words.
        instead: Texts that could stand there in its place, nearest first.
        is_bound: True for a number beyond a bound: another unit would only hide that.
    """

    at: int
    end: int
    expected: tuple[str, ...]
    instead: tuple[str, ...] = ()
    is_bound: bool = False


class Failed(NamedTuple):
    """A reply that was not understood: in which clause, and why."""

    normal: Normal
    cut: Cut
    trouble: Trouble
