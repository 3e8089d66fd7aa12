"""Sets of a log that are alike, and what holds for some of them only."""

from dataclasses import dataclass, field
from decimal import Decimal

from core.facts import Side
from core.quantity import Unit
from core.replies import node
from core.replies.dose import Known, Quantity, together
from core.replies.trouble import Trouble


@dataclass(slots=True)
class Group:
    """Sets that are alike. Filled while the parts are walked, then only read.

    Attributes:
        side: Whose; None while nobody said.
        known: What is known of each set, by quantity.
        listed: True for a single set that continues a list.
        clear: True where every number came with its unit.
        is_judged: True where its sets were judged one by one.
    """

    side: Side | None = None
    known: dict[Quantity, Known] = field(default_factory=dict)
    band: node.BandNamed | None = None
    help: node.HelpSaid | None = None
    effort: node.EffortSaid | None = None
    rated: node.Rated | None = None
    left: node.Remaining | None = None
    listed: bool = False
    clear: bool = False
    is_judged: bool = False

    @property
    def is_open(self) -> bool:
        """Whether nobody judged its sets yet."""
        judged = self.effort or self.rated or self.left or self.is_judged
        return not judged

    @property
    def is_single(self) -> bool:
        """Whether it is one set with numbers, not counted."""
        return bool(self.known) and "count" not in self.known

    def add(self, known: tuple[Known, ...], *, clear: bool, units: Unit) -> None:
        """Takes numbers in."""
        self.clear = clear and (self.clear or not self.known)
        self.known = together(self.known, known, units)


@dataclass(frozen=True, slots=True)
class Apart:
    """What holds for one or a few sets only.

    Attributes:
        groups: How many groups there were when it was said.
        last: How many sets, counted from the end; 0 where ``number`` says which.
        number: Which set of its side, from 1; 0 where ``last`` says which.
        said: What holds for them.
    """

    groups: int
    last: int
    number: Decimal
    said: Group
    at: int
    end: int


@dataclass(slots=True)
class Gathered:
    """A log with its parts sorted."""

    named: node.Named | None = None
    edge: node.EdgeSaid | None = None
    groups: list[Group] = field(default_factory=list)
    apart: list[Apart] = field(default_factory=list)


def set_attribute(group: Group, part: node.Part) -> Trouble | None:
    """Gives the group what is said of its sets, once each."""
    match part:
        case node.EffortSaid() if group.effort is None:
            group.effort = part
        case node.Rated() if group.rated is None:
            group.rated = part
        case node.Remaining() if group.left is None:
            group.left = part
        case node.BandNamed() if group.band is None:
            group.band = part
        case node.HelpSaid() if group.help is None:
            group.help = part
        case _:
            return Trouble(part.at, part.end, ("the next set", "the end of the reply"))
    return None
