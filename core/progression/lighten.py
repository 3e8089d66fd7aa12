"""Less than the last time: a lighter load, fewer sets, or shorter aims where no load is meant."""

from dataclasses import replace
from decimal import Decimal

from core.progression.case import Case
from core.progression.reshape import aims_of, with_reps, with_seconds
from core.target import Target


def lightened(target: Target, case: Case, *, keep: Decimal) -> Target:
    """The target with so much of its net load kept, else so much of its aims.

    Args:
        target: What would be done without the rule.
        case: The case.
        keep: Part of the net load that is kept. [-], 0 to 1

    Returns:
        The same target at the greatest load not above that part; where no load is meant,
        none exists that light, or body weight is not known, the aims are cut instead.
    """
    load_kg = lighter_load(target, case, keep=keep)
    if load_kg is not None:
        return replace(target, load_kg=load_kg)
    return with_aims(target, tuple(max(1, int(aim * keep)) for aim in aims_of(target)))


def lighter_load(target: Target, case: Case, *, keep: Decimal) -> Decimal | None:
    """The greatest load that exists and keeps at most that part of the net load. [kg]

    The lightest where none is as light; None where that is no lighter than the target's, or
    the net load is not known.
    """
    net_kg, load_kg = case.net_kg(target.load_kg), target.load_kg
    if net_kg is None or load_kg is None or case.choices is None:
        return None
    wanted = case.load_at_net(net_kg * keep)
    found = None if wanted is None else case.choices.at_most(wanted)
    if found is not None:
        return found
    lightest = case.choices.lightest_kg
    return lightest if lightest is not None and lightest < load_kg else None


def with_aims(target: Target, aims: tuple[int, ...]) -> Target:
    """The target with those aims, in the unit it has."""
    if not aims:
        return target
    return with_reps(target, aims) if target.hold_s is None else with_seconds(target, aims)


def with_sets(target: Target, sets: int) -> Target:
    """The target with at most so many sets, the first ones kept."""
    if target.by_set:
        return with_aims(target, target.by_set[:sets])
    return replace(target, sets=min(target.sets, sets))


def gentler(target: Target, other: Target) -> Target:
    """Of two targets on one line of progress the lesser in each respect, with both's reasons.

    What changed is as in ``other``, whose reasons come first.
    """
    loads = [t.load_kg for t in (target, other) if t.load_kg is not None]
    sets = min(target.sets, other.sets)
    pairs = zip(aims_of(target)[:sets], aims_of(other)[:sets], strict=True)
    both = replace(
        target,
        sets=sets,
        load_kg=min(loads, default=None),
        change=other.change,
        reasons=(*other.reasons, *(r for r in target.reasons if r not in other.reasons)),
    )
    return with_aims(both, tuple(min(pair) for pair in pairs))
