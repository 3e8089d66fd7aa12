"""Which parts of a log belong together, worked out from left to right."""

from core.facts import Side
from core.quantity import Unit
from core.replies import node
from core.replies.bounds import MOST_SETS
from core.replies.dose import Kind, Known, Quantity, kind_behind, quantities_in, says_more
from core.replies.group import Gathered, Group, set_attribute
from core.replies.row import judged, row_at
from core.replies.some_sets import last_sets, on_sets
from core.replies.trouble import Trouble

_NOT_LED = (node.Joint, node.EffortSaid, node.EffortRow, node.Rated, node.Remaining, node.LastSaid)
_UNSIGNED = ("load", "seconds", "reps")
_BETWEEN = ("a comma between sets", "a unit", "an effort")


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
        self._slashed = False
        self._glued = False

    def gather(self, parts: tuple[node.Part, ...]) -> Gathered | Trouble:
        index = 0
        while index < len(parts):
            used = self._take(parts, index)
            if isinstance(used, Trouble):
                return used
            index += used
        return self._log

    def _take(self, parts: tuple[node.Part, ...], index: int) -> int | Trouble:
        """Takes in the part there, with those that belong to it; how many they are."""
        part = parts[index]
        after = parts[index + 1] if index + 1 < len(parts) else None
        if isinstance(part, (node.EffortSaid, node.EffortRow, node.LastSaid)):
            self._joined = False
            return self._judge(parts, index)
        if isinstance(part, node.Joint) and index and after is not None:
            self._glued = parts[index - 1].end == part.at and part.end == after.at
        was_dosed = self._is_dosed()
        trouble = self._part(part, after)
        if trouble is not None:
            return trouble
        # A side behind a dose ends it, as a comma does.
        ends = was_dosed and isinstance(part, node.SideSaid) and self._is_dosed()
        self._joined = ends or isinstance(part, node.Joint)
        return 1

    def _judge(self, parts: tuple[node.Part, ...], index: int) -> int | Trouble:
        """Takes in efforts, and all that is said of some sets only."""
        part, groups = parts[index], self._log.groups
        if isinstance(part, node.LastSaid):
            last = last_sets(parts, index, groups, kind=self._kind, units=self._units)
            if isinstance(last, Trouble):
                return last
            self._log.apart.extend(last[0])
            return last[1]
        after = parts[index + 1] if index + 1 < len(parts) else None
        if isinstance(part, node.EffortSaid) and isinstance(after, node.OnSet):
            some = on_sets(part, after, parts[index + 2 :], groups)
            if isinstance(some, Trouble):
                return some
            self._log.apart.extend(some)
            return 2 * len(some)
        row, used = row_at(parts, index)
        trouble = self._efforts(row)
        return used if trouble is None else trouble

    def _part(self, part: node.Part, after: node.Part | None) -> Trouble | None:
        match part:
            case node.Dose():
                return self._dose(part)
            case node.SideSaid():
                return self._side(part, after)
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
                if isinstance(part, node.BandNamed) and self._slashed and not self._joined:
                    # "8/7 green band, 6": the band is that of the list with the slashes.
                    for earlier in self._listed_before(self._current()):
                        earlier.band = earlier.band or part
                return set_attribute(self._current(), part)

    def _joint(self, part: node.Joint, after: node.Part | None) -> Trouble | None:
        """Something must stand on both sides: a comma alone may hide a set."""
        doubled = isinstance(after, node.Joint) and after.terminal == "COMMA"
        leading = not self._log.groups and self._log.named is None
        if after is None or doubled or leading:
            return Trouble(part.at, part.end, ("the next set", "the end of the reply"))
        return None

    def _is_dosed(self) -> bool:
        return bool(self._log.groups and self._log.groups[-1].known)

    def _current(self) -> Group:
        if not self._log.groups:
            self._log.groups.append(Group())
        return self._log.groups[-1]

    def _dose(self, dose: node.Dose) -> Trouble | None:
        groups = self._log.groups
        if len(groups) > MOST_SETS:
            return Trouble(dose.at, dose.end, (f"at most {MOST_SETS} sets in a clause",))
        in_front: tuple[Known, ...] = ()
        if len(dose.products) > 1 and self._is_dosed() and not self._joined:
            told = groups[-1]
            if not (
                told.is_single and told.clear and told.is_open and told.known.keys() == {"load"}
            ):
                # "4x22 10s/9s": whose seconds they are, nobody can know.
                return Trouble(dose.at, dose.end, _BETWEEN)
            in_front = tuple(told.known.values())
        kind = self._kind
        if dose.lead == "at" and groups:
            kind = kind_behind(groups[-1].known, kind)
        for index, product in enumerate(dose.products):
            known = quantities_in(product, kind=kind, units=self._units)
            if isinstance(known, Trouble):
                return known
            if not self._place(dose, product, known, listed=index > 0):
                return Trouble(dose.at, dose.end, _BETWEEN)
            if index and in_front:
                # "+5kg 8/7/6": the load in front is that of the whole list.
                groups[-1].add(in_front, clear=True, units=self._units)
        self._slashed = len(dose.products) > 1 or (self._joined and self._glued)
        return None

    def _place(
        self,
        dose: node.Dose,
        product: tuple[node.Amount, ...],
        known: tuple[Known, ...],
        *,
        listed: bool,
    ) -> bool:
        """Puts the numbers into the current group or a new one; False where neither fits."""
        group = self._log.groups[-1] if self._log.groups else None
        counted = any(one.quantity == "count" for one in known)
        clear = all(amount.kind != "bare" for amount in product)
        apart = listed or self._joined
        fits = group is not None and (
            not group.known
            or (
                not listed
                and not group.is_judged
                and self._joins(group, known, apart=apart, clear=clear or bool(dose.lead))
            )
        )
        if group is None or not fits:
            unsigned = not dose.lead and all(amount.kind in _UNSIGNED for amount in product)
            if group is not None and not apart:
                # A quantity said again with its unit is the next set: 8r 8r 7r.
                again = group.is_single and group.clear and unsigned and not counted
                if not again and (not counted or group.is_single):
                    return False
                apart = again
            group = Group(side=self._leading, listed=apart and not counted)
            self._log.groups.append(group)
        elif group.listed and (dose.lead or self._slashed):
            # "8/8/7 @5kg": what is said of a whole list.
            for earlier in self._listed_before(group):
                if not says_more(earlier.known, known, kind=self._kind, clear=clear):
                    return False
                earlier.add(known, clear=clear, units=self._units)
        group.add(known, clear=clear, units=self._units)
        group.listed = group.listed and not counted
        return True

    def _listed_before(self, group: Group) -> list[Group]:
        """The earlier sets of the list that ends with that group."""
        groups = self._log.groups
        start = len(groups) - 1
        while groups[start].listed and start > 0 and groups[start - 1].side == group.side:
            start -= 1
        return groups[start:-1]

    def _joins(self, group: Group, known: tuple[Known, ...], *, apart: bool, clear: bool) -> bool:
        """Whether the numbers say more about the sets of that group."""
        quantities = {one.quantity for one in known}
        if apart and (not clear or "count" in quantities):
            return self._is_told_in_parts(group, quantities)
        load_again = "load" in quantities & group.known.keys()
        return says_more(
            group.known, known, kind=self._kind, clear=clear and not (apart and load_again)
        )

    def _is_told_in_parts(self, group: Group, quantities: set[Quantity]) -> bool:
        """``22kg, 4x10s`` and ``22kg for 10s, 4 sets``: one dose with a comma inside."""
        groups = self._log.groups
        before = groups[-2] if len(groups) > 1 else None
        begins = before is None or before.side != group.side or "count" in before.known
        begun = group.is_single and group.is_open and group.clear and begins
        if not begun or "count" not in quantities or quantities & group.known.keys():
            return False
        return quantities == {"count"} or group.known.keys() == {"load"}

    def _side(self, part: node.SideSaid, after: node.Part | None) -> Trouble | None:
        groups = self._log.groups
        group = groups[-1] if groups else None
        # "4x22kg, each hand, ok": between commas it still is about what stands in front.
        behind = not self._joined or after is None or isinstance(after, _NOT_LED)
        if group is not None and group.known and group.side is None and behind:
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

    def _efforts(self, row: tuple[node.EffortSaid, ...]) -> Trouble | None:
        """One effort is said of all sets in front of it, several are said of one set each."""
        said = judged(row, self._log.groups) if len(row) > 1 else None
        if isinstance(said, Trouble):
            return said
        if said is None:
            return set_attribute(self._current(), row[0])
        self._log.apart.extend(said)
        return None
