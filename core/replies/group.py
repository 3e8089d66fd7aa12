"""Which parts of a log belong together: the sets of one dose, their side, effort and help."""

from dataclasses import dataclass, field
from decimal import Decimal

from core.facts import Side
from core.quantity import Unit
from core.replies import node
from core.replies.bounds import MOST_SETS
from core.replies.dose import Kind, Known, Quantity, quantities_in
from core.replies.trouble import Trouble

_ENDS_LAST = (node.Joint, node.SideSaid, node.LastSaid, node.Named, node.OnSet)
_JUDGED = (node.EffortSaid, node.Rated)


@dataclass(slots=True)
class Group:
    """Sets that are alike. Filled while the parts are walked, then only read.

    Attributes:
        side: Whose; None while nobody said.
        known: What is known of each set, by quantity.
        listed: True for a single set that continues a list.
    """

    side: Side | None = None
    known: dict[Quantity, Known] = field(default_factory=dict)
    band: node.BandNamed | None = None
    help: node.HelpSaid | None = None
    effort: node.EffortSaid | None = None
    rated: node.Rated | None = None
    left: node.Remaining | None = None
    listed: bool = False


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


def gathered(parts: tuple[node.Part, ...], *, kind: Kind, units: Unit) -> Gathered | Trouble:
    """The parts sorted into groups, or the first that does not fit."""
    return _Gatherer(kind, units).gather(parts)


class _Gatherer:
    """Walks the parts of one log from left to right."""

    def __init__(self, kind: Kind, units: Unit) -> None:
        self._kind: Kind = kind
        self._units: Unit = units
        self._log = Gathered()
        self._joined = False
        self._leading: Side | None = None

    def gather(self, parts: tuple[node.Part, ...]) -> Gathered | Trouble:
        index = 0
        while index < len(parts):
            part = parts[index]
            after = parts[index + 1] if index + 1 < len(parts) else None
            used = 1
            if isinstance(part, node.EffortSaid) and isinstance(after, node.OnSet):
                trouble = self._on_set(part, after)
                used = 2
            elif isinstance(part, node.LastSaid):
                while index + used < len(parts) and not isinstance(parts[index + used], _ENDS_LAST):
                    used += 1
                trouble = self._last(part, parts[index + 1 : index + used])
            else:
                was_dosed = self._is_dosed()
                trouble = self._part(part, after)
                # A side behind a dose ends it, as a comma does.
                ends = was_dosed and isinstance(part, node.SideSaid) and self._is_dosed()
                self._joined = ends or isinstance(part, node.Joint)
            if trouble is not None:
                return trouble
            index += used
        return self._log

    def _part(self, part: node.Part, after: node.Part | None) -> Trouble | None:
        match part:
            case node.Dose():
                return self._dose(part)
            case node.SideSaid():
                return self._side(part)
            case node.Named() if self._log.named is None:
                self._log.named = part
                return None
            case node.Named():
                return Trouble(part.at, part.end, ("one exercise in a clause",))
            case node.EdgeSaid() if self._log.edge is None:
                self._log.edge = part
                return None
            case node.EdgeSaid():
                return Trouble(part.at, part.end, ("one edge in a clause",))
            case node.Joint():
                return self._joint(part, after)
            case _:
                return _set_attribute(self._current(), part)

    def _joint(self, part: node.Joint, after: node.Part | None) -> Trouble | None:
        """Something must follow: a comma alone, or two of them, may hide a set."""
        doubled = isinstance(after, node.Joint) and after.terminal == "COMMA"
        if after is None or doubled:
            return Trouble(part.at, part.end, ("the next set", "the end of the reply"))
        return None

    def _is_dosed(self) -> bool:
        return bool(self._log.groups and self._log.groups[-1].known)

    def _current(self) -> Group:
        if not self._log.groups:
            self._log.groups.append(Group())
        return self._log.groups[-1]

    def _dose(self, dose: node.Dose) -> Trouble | None:
        if len(self._log.groups) > MOST_SETS:
            return Trouble(dose.at, dose.end, (f"at most {MOST_SETS} sets in a clause",))
        for index, product in enumerate(dose.products):
            known = quantities_in(product, kind=self._meaning_at(dose), units=self._units)
            if isinstance(known, Trouble):
                return known
            if not self._place(dose, known, product=product, listed=index > 0):
                return Trouble(dose.at, dose.end, ("a comma between sets", "a unit", "an effort"))
        return None

    def _meaning_at(self, dose: node.Dose) -> Kind:
        """The dose kind to read bare numbers by: behind "at", once dosed, they are loads."""
        groups = self._log.groups
        behind_dose = bool(groups) and bool(groups[-1].known.keys() & {"reps", "hold", "value"})
        return "loaded-hold" if dose.lead == "at" and behind_dose else self._kind

    def _place(
        self,
        dose: node.Dose,
        known: tuple[Known, ...],
        *,
        product: tuple[node.Amount, ...],
        listed: bool,
    ) -> bool:
        """Puts the numbers into the current group or a new one; False where neither fits."""
        group = self._log.groups[-1] if self._log.groups else None
        counted = any(one.quantity == "count" for one in known)
        # A quantity said again with its unit is the next set: 8r 8r 7r.
        again = _is_single(group) and _is_clear(dose, product) and not counted
        apart = listed or self._joined or again
        if group is not None and not group.known:
            fits = True
        elif group is None or listed or any(one.quantity in group.known for one in known):
            fits = False
        else:
            fits = not apart or (_is_clear(dose, product) and not counted)
        if not fits or group is None:
            if group is not None and not apart and (not counted or _is_single(group)):
                return False
            group = Group(side=self._leading, listed=apart and not counted)
            self._log.groups.append(group)
        group.known.update((one.quantity, one) for one in known)
        return True

    def _side(self, part: node.SideSaid) -> Trouble | None:
        groups = self._log.groups
        group = groups[-1] if groups else None
        if group is not None and group.known and group.side is None and not self._joined:
            for earlier in reversed(groups):
                if earlier.side is not None:
                    break
                earlier.side = part.side
            return None
        self._leading = part.side
        if group is None or group.known:
            groups.append(Group(side=part.side))
        elif group.side is None:
            group.side = part.side
        else:
            return Trouble(part.at, part.end, ("the sets of one side", "a load", "a time"))
        return None

    def _on_set(self, effort: node.EffortSaid, place: node.OnSet) -> Trouble | None:
        said = Group(effort=effort)
        last, number = (1, Decimal(0)) if place.number is None else (0, place.number)
        return self._add_apart(said, last=last, number=number, at=place.at, end=place.end)

    def _last(self, part: node.LastSaid, after: tuple[node.Part, ...]) -> Trouble | None:
        said = Group()
        many = Decimal(1)
        first = after[0] if after else None
        if isinstance(first, node.Dose) and len(after) > 1 and isinstance(after[1], _JUDGED):
            amount = first.products[0][0]
            if amount.kind == "bare" and len(first.products) == len(first.products[0]) == 1:
                many = amount.number
                after = after[1:]
        for one in after:
            trouble = self._say(said, one)
            if trouble is not None:
                return trouble
        if not after:
            return Trouble(part.end, part.end, ("an effort", "a load", "a time"))
        if many != int(many) or many < 1:
            return Trouble(part.at, part.end, ("a whole number of sets",))
        return self._add_apart(said, last=int(many), number=Decimal(0), at=part.at, end=part.end)

    def _say(self, said: Group, part: node.Part) -> Trouble | None:
        if not isinstance(part, node.Dose):
            return _set_attribute(said, part)
        amounts = part.products[0]
        if len(part.products) > 1 or len(amounts) > 1:
            return Trouble(part.at, part.end, ("one load or one time",))
        if amounts[0].kind == "bare" and self._kind in ("loaded-hold", "unknown"):
            # "last fail 7": seconds or a load, nobody can know.
            number = f"{amounts[0].number:f}"
            instead = (f"{number}s", f"{number}{self._units}")
            return Trouble(
                part.at, part.end, ("a time with its unit", "a load with its unit"), instead
            )
        known = quantities_in(amounts, kind=self._kind, units=self._units)
        if isinstance(known, Trouble):
            return known
        said.known.update((one.quantity, one) for one in known)
        return None

    def _add_apart(
        self, said: Group, *, last: int, number: Decimal, at: int, end: int
    ) -> Trouble | None:
        groups = self._log.groups
        if not groups or not groups[-1].known:
            return Trouble(at, end, ("sets in front of it",))
        self._log.apart.append(Apart(len(groups), last, number, said, at, end))
        return None


def _is_single(group: Group | None) -> bool:
    return group is not None and bool(group.known) and "count" not in group.known


def _is_clear(dose: node.Dose, product: tuple[node.Amount, ...]) -> bool:
    """Whether every number has a unit or a small word in front that says what it is."""
    return dose.lead != "" or all(amount.kind != "bare" for amount in product)


def _set_attribute(group: Group, part: node.Part) -> Trouble | None:
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
        case node.EffortSaid(terminal=word) if group.effort and group.effort.terminal == word:
            # "ok 👍" says it twice.
            pass
        case _:
            return Trouble(part.at, part.end, ("the next set", "the end of the reply"))
    return None
