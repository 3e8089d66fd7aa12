"""What the grammar reads: words with their meaning, numbers, names."""

from decimal import Decimal
from typing import ClassVar, NamedTuple

_NONE = Decimal(0)


class _Piece(NamedTuple):
    type: str
    text: str
    start_pos: int
    end_pos: int
    number: Decimal = _NONE


class Token(_Piece):
    """One piece of a clause.

    Attributes:
        type: Its terminal in the grammar.
        text: The normal text; the slug of an exercise; the name of a band.
        start_pos, end_pos: Its places in the normal text of the whole reply.
        number: The value of a NUMBER.
    """

    __slots__ = ()

    # The parser asks for these when it makes its own token for the end of a clause.
    line: ClassVar[int] = 1
    column: ClassVar[int] = 1
    end_line: ClassVar[int] = 1
    end_column: ClassVar[int] = 1
