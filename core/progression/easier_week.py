"""The guards that make a session easy: in an easier week, and first after an illness."""

from dataclasses import replace
from decimal import Decimal

from core.progression.case import Case
from core.progression.deload import DOWNS, Deload, deload_on
from core.progression.illness import HARD_BLOCKS, back_from_illness, illness_on
from core.progression.lighten import gentler, lighter_load, with_sets
from core.progression.reshape import stopped, without_increase
from core.target import Change, Reason, Target, because

LOAD_KEEP = Decimal("0.9")
"""Part of the net load that is kept. [-] House rule in the sense of rogerson_2024."""


def in_easier_week(target: Target, same: Target, case: Case) -> Target:
    """The target, with about half of the sets and a tenth less load in an easier week.

    Validity: Any exercise; where no load is meant only sets fall.
    Source: rogerson_2024 for fewer sets, less load and the same exercises.
    Ours: The numbers.
    """
    deload = deload_on(case.athlete, case.today)
    if deload is None:
        return target
    return _eased(target, same, case, change="deload", why=_called_for(deload, case))


def while_ill(target: Target, same: Target, case: Case) -> Target:
    """The target, stopped where it is hard, and without an increase where it is not, while ill."""
    illness = illness_on(case.athlete, case.today)
    if illness is None:
        return target
    why = because("ill", since=illness.since)
    if case.exercise.block in HARD_BLOCKS:
        return stopped(target, why)
    held = without_increase(target, same)
    return replace(held, reasons=(why, *held.reasons))


def after_illness(target: Target, same: Target, case: Case) -> Target:
    """The target, easy for the first session of its tissue after an illness."""
    back = back_from_illness(case.athlete, case.exercise, case.today)
    if back is None or target.change == "first":
        return target
    why = because("after-illness", on=back)
    return _eased(target, same, case, change="return", why=why)


def _eased(target: Target, same: Target, case: Case, *, change: Change, why: Reason) -> Target:
    load_kg = lighter_load(same, case, keep=LOAD_KEEP)
    eased = replace(
        with_sets(same, -(-same.sets // 2)),
        load_kg=same.load_kg if load_kg is None else load_kg,
        change=change,
        reasons=(why,),
    )
    return gentler(without_increase(target, same), eased)


def _called_for(deload: Deload, case: Case) -> Reason:
    match deload.cause:
        case "asked":
            return because("deload", asked=deload.since)
        case "planned":
            weeks = case.athlete.programme.deload_week - 1
            return because("deload-planned", weeks=weeks, until=deload.until)
        case "two-downs":
            return because("deload-downs", downs=DOWNS, until=deload.until)
