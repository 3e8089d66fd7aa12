"""A clause as the grammar saw it, frozen, before anybody asks what its bare numbers mean.

Every node knows its places in the normal text: ``at`` and ``end``.
"""

from decimal import Decimal
from typing import Literal, NamedTuple

from core.facts import Effort, Side
from core.quantity import Unit
from core.replies.token import Token

AmountKind = Literal["bare", "load", "plus", "minus", "seconds", "reps", "count"]


class Amount(NamedTuple):
    """A number with its unit, if it had one. ``plus`` and ``minus`` are signed loads."""

    kind: AmountKind
    number: Decimal
    unit: Unit | None
    at: int
    end: int


class Dose(NamedTuple):
    """``4x10x22/24``: products between slashes; ``lead`` is the small word in front."""

    products: tuple[tuple[Amount, ...], ...]
    lead: Literal["", "at", "for"]
    at: int
    end: int


class Named(NamedTuple):
    """An exercise."""

    slug: str
    at: int
    end: int


class EffortSaid(NamedTuple):
    """An effort, with the word for it and its terminal."""

    effort: Effort
    terminal: str
    word: str
    at: int
    end: int


class EffortRow(NamedTuple):
    """Efforts between slashes, one for each set."""

    efforts: tuple[EffortSaid, ...]
    at: int
    end: int


class SideSaid(NamedTuple):
    """A side."""

    side: Side
    at: int
    end: int


class EdgeSaid(NamedTuple):
    """The depth of an edge. [mm]"""

    mm: Decimal
    at: int
    end: int


class BandNamed(NamedTuple):
    """A band in use."""

    name: str
    at: int
    end: int


class HelpSaid(NamedTuple):
    """A word that makes a load a help."""

    at: int
    end: int


class Rated(NamedTuple):
    """A rating of perceived exertion."""

    number: Decimal
    at: int
    end: int


class Remaining(NamedTuple):
    """Repetitions or seconds that were left."""

    number: Decimal
    at: int
    end: int


class LastSaid(NamedTuple):
    """What follows belongs to the last set, or to the first."""

    is_first: bool
    at: int
    end: int


class OnSet(NamedTuple):
    """The effort in front belongs to that set, from 1; None for the last."""

    number: Decimal | None
    at: int
    end: int


class Joint(NamedTuple):
    """A comma, "and" or "then" between sets."""

    terminal: str
    at: int
    end: int


Part = (
    Dose
    | Named
    | EffortSaid
    | EffortRow
    | SideSaid
    | EdgeSaid
    | BandNamed
    | HelpSaid
    | Rated
    | Remaining
    | LastSaid
    | OnSet
    | Joint
)


class LogSaid(NamedTuple):
    """The parts of a log as typed; ``fixes`` where it corrects an earlier one."""

    parts: tuple[Part, ...]
    fixes: bool = False


class Weight(NamedTuple):
    """A mass in a unit, or in the athlete's."""

    number: Decimal
    unit: Unit | None
    at: int
    end: int


class Plate(NamedTuple):
    """So many plates of a mass; None: one."""

    many: Token | None
    weight: Weight


class Lasting(NamedTuple):
    """A time in minutes."""

    minutes: Decimal
    at: int
    end: int


class DaySaid(NamedTuple):
    """A day, as the one or two words that name it."""

    tokens: tuple[Token, ...]
    at: int
    end: int


class Packed(NamedTuple):
    """A part of a kit taken on a trip: a band, an edge by its depth [mm], or None for a bar."""

    what: BandNamed | Token | None
    at: int
    end: int


Item = Token | Weight | Plate | Lasting | DaySaid | SideSaid | Rated | Packed


class Clause(NamedTuple):
    """Any other clause: the rule that fitted and what it holds, in order."""

    rule: str
    items: tuple[Item, ...]

    def tokens(self, terminal: str) -> list[Token]:
        """Its words of one terminal."""
        return [i for i in self.items if isinstance(i, Token) and i.type == terminal]

    def has(self, terminal: str) -> bool:
        """Whether a word of that terminal is in it."""
        return bool(self.tokens(terminal))
