"""What holds for some sets only: ``last fail 7s``, ``fail on 3 and 4``."""

from dataclasses import replace
from decimal import Decimal

from core.quantity import Unit
from core.replies import node
from core.replies.dose import Kind, quantities_in
from core.replies.group import Apart, Group, set_attribute
from core.replies.row import sets_in
from core.replies.trouble import Trouble

_ENDS_LAST = (node.Joint, node.SideSaid, node.LastSaid, node.Named, node.OnSet)
_JUDGED = (node.EffortSaid, node.Rated)
_NO_SETS = ("sets in front of it",)


def on_sets(
    effort: node.EffortSaid,
    place: node.OnSet,
    after: tuple[node.Part, ...],
    groups: list[Group],
) -> tuple[Apart, ...] | Trouble:
    """The effort for the sets that are numbered behind it, each of them two parts.

    A number behind "and" is one more set; behind a comma it may be a set of its own
    as well, and is asked about.
    """
    if not groups or not groups[-1].known:
        return Trouble(place.at, place.end, _NO_SETS)
    numbers = [place.number]
    while (more := _number_at(after, 2 * len(numbers) - 2)) is not None:
        joint, amount = more
        if joint.terminal == "COMMA":
            if amount.number > sets_of_side(groups):
                break
            expected = ("and, for one more set", "a number with its unit")
            return Trouble(amount.at, amount.end, expected)
        numbers.append(amount.number)
    return tuple(
        Apart(
            groups=len(groups),
            last=1 if number is None else 0,
            number=number or Decimal(0),
            said=Group(effort=effort),
            at=place.at,
            end=place.end,
        )
        for number in numbers
    )


def _number_at(parts: tuple[node.Part, ...], index: int) -> tuple[node.Joint, node.Amount] | None:
    """A comma or "and" there with a bare number alone behind it."""
    if index + 1 >= len(parts):
        return None
    joint, dose = parts[index], parts[index + 1]
    if not isinstance(joint, node.Joint) or not isinstance(dose, node.Dose):
        return None
    amount = dose.products[0][0]
    alone = len(dose.products) == len(dose.products[0]) == 1
    return (joint, amount) if alone and amount.kind == "bare" else None


def last_sets(
    parts: tuple[node.Part, ...], start: int, groups: list[Group], *, kind: Kind, units: Unit
) -> tuple[tuple[Apart, ...], int] | Trouble:
    """What is said of the last sets or the first from ``start`` on, and how many parts that is."""
    part = parts[start]
    if not isinstance(part, node.LastSaid):
        raise TypeError("the word last or first")
    end = start + 1
    while end < len(parts) and not isinstance(parts[end], _ENDS_LAST):
        end += 1
    after = parts[start + 1 : end]
    if not after:
        return Trouble(part.end, part.end, ("an effort", "a load", "a time"))
    if not groups or not groups[-1].known:
        return Trouble(part.at, part.end, _NO_SETS)
    counted = _how_many(after, groups)
    if counted is not None:
        after = after[1:]
    many = Decimal(1) if counted is None else counted
    if many != int(many) or not 1 <= many <= sets_of_side(groups):
        return Trouble(part.at, part.end, (f"at most {sets_of_side(groups):f} sets",))
    said = Group()
    for one in after:
        trouble = _say(said, one, kind=kind, units=units)
        if trouble is not None:
            return trouble
    here = Apart(len(groups), int(many), Decimal(0), said, part.at, part.end)
    if not part.is_first:
        return (here,), end - start
    each = (replace(here, last=0, number=Decimal(place + 1)) for place in range(int(many)))
    return tuple(each), end - start


def _how_many(after: tuple[node.Part, ...], groups: list[Group]) -> Decimal | None:
    """The sets counted in "last 2 hard"; None for "last 6 fail" of three sets, a set of 6."""
    first = after[0]
    if not isinstance(first, node.Dose) or len(after) < 2 or not isinstance(after[1], _JUDGED):
        return None
    amount = first.products[0][0]
    if len(first.products) > 1 or len(first.products[0]) > 1:
        return None
    few = amount.kind == "bare" and amount.number < sets_of_side(groups)
    return amount.number if few or amount.kind == "count" else None


def sets_of_side(groups: list[Group]) -> Decimal:
    """How many sets the last groups of one side are."""
    start = len(groups)
    while start > 0 and groups[start - 1].side == groups[-1].side:
        start -= 1
    return sets_in(groups[start:])


def _say(said: Group, part: node.Part, *, kind: Kind, units: Unit) -> Trouble | None:
    if not isinstance(part, node.Dose):
        return set_attribute(said, part)
    amounts = part.products[0]
    if len(part.products) > 1 or len(amounts) > 1:
        return Trouble(part.at, part.end, ("one load or one time",))
    if amounts[0].kind == "bare" and kind in ("loaded-hold", "unknown"):
        # "last fail 7": seconds or a load, nobody can know.
        number = f"{amounts[0].number:f}"
        instead = (f"{number}s", f"{number}{units}")
        expected = ("a time with its unit", "a load with its unit")
        return Trouble(part.at, part.end, expected, instead)
    known = quantities_in(amounts, kind=kind, units=units)
    if isinstance(known, Trouble):
        return known
    said.known.update((one.quantity, one) for one in known)
    return None
