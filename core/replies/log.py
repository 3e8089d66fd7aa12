"""From the parts of a log to its sets."""

from dataclasses import replace
from decimal import Decimal

from core.catalogue import Exercise, get_exercise
from core.quantity import Unit
from core.replies import bounds, node
from core.replies.act import Fix, Log, SetSaid
from core.replies.dose import Kind, Known
from core.replies.gather import gathered
from core.replies.group import Apart, Gathered, Group
from core.replies.shared_unit import with_shared_units
from core.replies.trouble import Trouble

_SETS = ("sets", "a load", "a time", "reps")


def log_from(said: node.LogSaid, *, units: Unit, note: str | None) -> Log | Fix | Trouble:
    """The sets that were typed, each with all that was said of it."""
    named = next((part for part in said.parts if isinstance(part, node.Named)), None)
    exercise = get_exercise(named.slug) if named else None
    kind: Kind = exercise.dose.kind if exercise else "unknown"
    found = gathered(with_shared_units(said.parts, kind), kind=kind, units=units)
    if isinstance(found, Trouble):
        return found
    trouble = _trouble_in(found, exercise, end=said.parts[-1].end)
    if trouble is not None:
        return trouble
    _spread(found.groups)
    sets = _sets(found)
    if isinstance(sets, Trouble):
        return sets
    edge_mm = int(found.edge.mm) if found.edge else None
    log = Log(named.slug if named else None, sets, edge_mm, note)
    return Fix(log) if said.fixes else log


def _trouble_in(found: Gathered, exercise: Exercise | None, *, end: int) -> Trouble | None:
    """The first thing that keeps the groups from being sets."""
    if not found.groups:
        return Trouble(end, end, _SETS)
    sided = [group.side for group in found.groups]
    total = Decimal(0)
    for before, group in zip((None, *found.groups), found.groups, strict=False):
        trouble = _group_trouble(group, exercise)
        if trouble is not None:
            return trouble
        if not group.known:
            return Trouble(end, end, _SETS)
        first = next(iter(group.known.values()))
        total += group.known["count"].number if "count" in group.known else 1
        if total > bounds.MOST_SETS:
            return Trouble(first.at, first.end, (f"at most {bounds.MOST_SETS} sets in a clause",))
        if _is_short(group, before):
            return Trouble(first.at, first.end, ("the same for each set of the list",))
        if group.side is None and any(sided):
            return Trouble(first.at, first.end, ("a side for every set: left or right",))
    if exercise is None and len(found.groups) == 1:
        only = found.groups[0]
        if only.band is not None and only.help is None and only.known.keys() == {"load"}:
            # "green band 12kg": the band that somebody owns, not a set.
            place = only.band
            return Trouble(place.at, place.end, ("band, its name and its help", "an exercise"))
    unsure = _mixed(found.groups) if exercise is None else None
    if unsure is not None:
        return unsure
    for apart in found.apart:
        trouble = _group_trouble(apart.said, exercise)
        if trouble is not None:
            return trouble
    if found.edge is None:
        return None
    at, edge_end = found.edge.at, found.edge.end
    what = "millimetres of edge"
    return bounds.whole(found.edge.mm, at, edge_end, least=1, most=bounds.MOST_EDGE_MM, what=what)


def _mixed(groups: list[Group]) -> Trouble | None:
    """A number that alone says nothing beside sets, or numbers, that leave it no meaning.

    "2kgx4 4x2" and "8 reps 2x2x2": nothing says what the last 2 is.
    """
    bare = [group.known["value"] for group in groups if "value" in group.known]
    full = any(
        {"value", "load"} <= group.known.keys() and group.known.keys() & {"reps", "hold"}
        for group in groups
    )
    if not bare or (len(bare) == len(groups) and not full):
        return None
    return Trouble(bare[0].at, bare[0].end, ("kg or lb", "seconds", "reps"))


def _is_short(group: Group, before: Group | None) -> bool:
    """Whether a list says less, or more, of one set than of the one before it.

    More is fine where the sets are judged one by one: "22 ok, 22 fail 7s".
    """
    if before is None or "count" in before.known:
        return False
    less = bool(before.known.keys() - group.known.keys())
    if not group.listed:
        # "22kg, 24kg, 4 sets": of what, nobody said.
        return less and before.side == group.side and "count" in group.known
    more = bool(group.known.keys() - before.known.keys())
    judged = before.effort is not None or before.rated is not None or before.left is not None
    return less or (more and not judged)


def _group_trouble(group: Group, exercise: Exercise | None) -> Trouble | None:
    for one in group.known.values():
        trouble = bounds.known(one, exercise=exercise, helped=group.help is not None)
        if trouble is not None:
            return trouble
    load = group.known.get("load")
    banded = group.band is not None and load is None
    if group.help is not None and not banded and (load is None or load.plus):
        return Trouble(group.help.at, group.help.end, ("how much help, such as 12kg help",))
    if group.band is not None and exercise is not None and exercise.from_floor:
        return Trouble(group.band.at, group.band.end, (f"a load: {exercise.name} takes no help",))
    if group.rated is not None:
        trouble = bounds.rpe(*group.rated)
        if trouble is not None:
            return trouble
    if group.left is not None:
        most = bounds.MOST_LEFT
        return bounds.whole(*group.left, least=0, most=most, what="reps or seconds left")
    return None


def _spread(groups: list[Group]) -> None:
    """An effort behind a whole list belongs to all of it; once inside, to its own set."""
    start = 0
    for index, group in enumerate(groups):
        if not group.listed or group.side != groups[index - 1].side:
            start = index
        after = groups[index + 1] if index + 1 < len(groups) else None
        is_end = after is None or not after.listed or after.side != group.side
        earlier = groups[start:index]
        if not is_end or not earlier or "count" in groups[start].known:
            continue
        if not any(one.effort or one.rated or one.left for one in earlier):
            for one in earlier:
                one.effort, one.rated, one.left = group.effort, group.rated, group.left
        if not any(one.band for one in earlier):
            for one in earlier:
                one.band = group.band
        if not any(one.help for one in earlier):
            for one in earlier:
                # Only where the load, too, was said once for all of them.
                shared = one.known.get("load") == group.known.get("load")
                one.help = group.help if shared else None


def _sets(found: Gathered) -> tuple[SetSaid, ...] | Trouble:
    sets: list[SetSaid] = []
    ends: list[int] = []
    for group in found.groups:
        count = group.known.get("count")
        sets.extend([_set_of(group)] * (int(count.number) if count else 1))
        ends.append(len(sets))
    for apart in found.apart:
        end = ends[apart.groups - 1]
        start = _start_of_side(found.groups, ends, apart.groups - 1)
        first = end - apart.last if apart.last else start + int(apart.number) - 1
        last = end if apart.last else first + 1
        if not start <= first < last <= end or apart.number != int(apart.number):
            return Trouble(apart.at, apart.end, (f"a set from 1 to {end - start}",))
        for index in range(first, last):
            sets[index] = _changed(sets[index], apart)
    return tuple(sets)


def _start_of_side(groups: list[Group], ends: list[int], index: int) -> int:
    """The first set of the run of groups that share a side with the one at ``index``."""
    while index > 0 and groups[index - 1].side == groups[index].side:
        index -= 1
    return ends[index - 1] if index else 0


def _set_of(group: Group) -> SetSaid:
    known = group.known
    load_kg = _number(known.get("load"))
    if group.help is not None and load_kg is not None:
        # "-12kg help" says once and again that it is help.
        load_kg = -abs(load_kg)
    return SetSaid(
        side=group.side or "both",
        load_kg=load_kg,
        band=group.band.name if group.band else None,
        reps=_whole(known.get("reps")),
        hold_s=_whole(known.get("hold")),
        effort=group.effort.effort if group.effort else None,
        rpe=group.rated.number if group.rated else None,
        left=int(group.left.number) if group.left else None,
        value=_number(known.get("value")),
    )


def _changed(one: SetSaid, apart: Apart) -> SetSaid:
    said = _set_of(apart.said)
    return replace(
        one,
        load_kg=one.load_kg if said.load_kg is None else said.load_kg,
        band=said.band or one.band,
        reps=one.reps if said.reps is None else said.reps,
        hold_s=one.hold_s if said.hold_s is None else said.hold_s,
        effort=said.effort or one.effort,
        rpe=one.rpe if said.rpe is None else said.rpe,
        left=one.left if said.left is None else said.left,
    )


def _number(known: Known | None) -> Decimal | None:
    return None if known is None else known.number


def _whole(known: Known | None) -> int | None:
    return None if known is None else int(known.number)
