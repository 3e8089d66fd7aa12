"""The last step of every target: a load that exists, within the limits of pin, handle and bar."""

from dataclasses import replace
from decimal import Decimal

from core.catalogue import HoldRange, RepRange
from core.kit.help import BodyLoads
from core.kit.loads import Loads
from core.progression.case import Case
from core.progression.reshape import explained
from core.progression.span import span_of
from core.target import Reason, Target, because


def fitted(target: Target, case: Case) -> Target:
    """The target at the greatest load that exists and is not above it, with plates and band.

    Where all that exists is heavier than the last load, a lift from the floor stops; on the
    body the lightest load is taken, at the bottom of the range.
    """
    if target.load_kg is None or case.choices is None:
        return target
    wanted, choices = target.load_kg, case.choices
    load_kg = choices.at_most(wanted)
    if load_kg is None:
        return _lightest(target, case)
    if load_kg < wanted:
        target = explained(target, target.change, _why_less(choices, wanted, load_kg, case))
        if target.change in ("same", "up", "longer"):
            target = replace(
                target, change="down" if load_kg < (_last(case) or load_kg) else "same"
            )
    return _with_plates(replace(target, load_kg=load_kg), case)


def _why_less(choices: Loads | BodyLoads, wanted: Decimal, load_kg: Decimal, case: Case) -> Reason:
    """What keeps the wanted load from being had."""
    limit = _limit(choices, case)
    if limit is not None and wanted > limit[1]:
        return limit[0]
    return because("not-makeable", wanted_kg=wanted, load_kg=load_kg)


def _limit(choices: Loads | BodyLoads, case: Case) -> tuple[Reason, Decimal] | None:
    """The limit of pin, handle or bar as a reason, and the most it allows. [kg]"""
    if isinstance(choices, Loads):
        most_kg = choices.limit_kg
        return None if most_kg is None else (because(case.limit_rule, limit_kg=most_kg), most_kg)
    bar_kg, body_kg = case.athlete.kit.bar_limit_kg, case.athlete.body_kg
    if choices.most_kg is None or bar_kg is None or body_kg is None:
        return None
    return because("bar-limit", limit_kg=bar_kg, body_kg=body_kg), choices.most_kg


def _lightest(target: Target, case: Case) -> Target:
    """The answer where all loads that exist are above the wanted one."""
    if target.change == "stopped":
        return replace(target, load_kg=None)
    choices = case.choices
    lightest = None if choices is None else choices.lightest_kg
    if choices is None or lightest is None:
        limit = None if choices is None else _limit(choices, case)
        why = because("nothing-to-load") if limit is None else limit[0]
        stopped = replace(target, sets=0, by_set=(), load_kg=None)
        return explained(stopped, "stopped", why)
    found = _with_plates(replace(target, load_kg=lightest), case)
    why = because("lightest-load", load_kg=lightest)
    last = _last(case)
    if target.change in ("first", "harder-variation") or last is None or lightest <= last:
        return explained(found, target.change, why)
    dose = case.exercise.dose
    if isinstance(dose, RepRange | HoldRange):
        span = span_of(dose)
        return explained(span.aimed(found, (span.low,) * found.sets), target.change, why)
    return explained(replace(found, sets=0, by_set=()), "stopped", why)


def _last(case: Case) -> Decimal | None:
    """The heaviest load of the last session with one that shows the level. [kg]"""
    tops = (session.top_load_kg for session in reversed(case.level))
    return next((kg for kg in tops if kg is not None), None)


def _with_plates(target: Target, case: Case) -> Target:
    load_kg, choices = target.load_kg, case.choices
    if load_kg is None or choices is None:
        return target
    if isinstance(choices, BodyLoads):
        option = choices.option_for(load_kg)
        loaded = replace(
            target,
            band=option.band,
            plates_kg=option.plates_kg,
            belt_kg=option.belt_kg or None,
        )
        return explained(loaded, target.change, *_unsure(choices, load_kg, case))
    if not choices.known:
        return explained(target, target.change, because("plates-unknown"))
    plates_kg = choices.plates_for(load_kg, _plates_before(choices, case))
    return replace(target, plates_kg=plates_kg, pin_kg=choices.base_kg)


def _unsure(choices: BodyLoads, load_kg: Decimal, case: Case) -> tuple[Reason, ...]:
    """What could not be checked about a load on the body."""
    unsure = []
    if not choices.is_known(load_kg):
        unsure.append(because("bands-unknown" if load_kg < 0 else "plates-unknown"))
    limit_kg = case.athlete.kit.bar_limit_kg
    if limit_kg is not None and choices.most_kg is None:
        unsure.append(because("bar-unchecked", limit_kg=limit_kg))
    return tuple(unsure)


def _plates_before(loads: Loads, case: Case) -> tuple[Decimal, ...]:
    """The plates that made the last load, as far as they make it."""
    last = _last(case)
    makeable = None if last is None else loads.at_most(last)
    return () if makeable is None else loads.plates_for(makeable)
