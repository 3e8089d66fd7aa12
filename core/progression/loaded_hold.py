"""Loaded holds: the load rises and falls with effort, seconds bridge steps that are too big."""

from dataclasses import replace
from decimal import Decimal

from core.catalogue import LoadedHold
from core.kit.loads import Loads
from core.progression.bridge import LONGEST_S, SHORTEST_S, hold_needed_s, short_hold_s
from core.progression.case import Case, Proposal, explained
from core.progression.first import SEARCH_FRAC, first_from_floor
from core.progression.harder import harder_lines, where_to
from core.progression.judgement import HoldVerdict, hold_verdict
from core.progression.month_cap import FINDING, MOST_RISE
from core.target import Reason, Target, because

RISE_FRAC = Decimal("1.05")
"""No single step goes beyond this part of the last load. [-] House rule within acsm_2009."""

SMALL_DROP_FRAC = Decimal("0.975")
"""Most that is kept after two sessions running with a late failure. [-] House rule."""

BIG_DROP_FRAC = Decimal("0.95")
"""Most that is kept after several failures or an early one. [-] House rule."""

SECOND = 1


def propose(case: Case, dose: LoadedHold, loads: Loads) -> Proposal:
    """What the last session calls for, and the same again."""
    loaded = [s for s in case.level if s.top_load_kg is not None and s.top_load_kg > 0]
    blank = replace(case.base(), reps=dose.lifts if dose.lifts > 1 else None)
    if not loaded:
        load_kg, why = first_from_floor(case)
        first = replace(blank, load_kg=load_kg, hold_s=dose.hold_s, change="first", reasons=(why,))
        return Proposal(first, first)
    verdict = hold_verdict(loaded[-1], dose)
    before = hold_verdict(loaded[-2], dose) if len(loaded) > 1 else None
    same = replace(blank, load_kg=verdict.load_kg, hold_s=verdict.hold_s)
    fallen = _after_failure(same, verdict, before, dose=dose, loads=loads)
    if fallen is not None:
        return Proposal(fallen, _again(same, "last-session", verdict))
    held = _held_back(same, verdict)
    if held is not None:
        return Proposal(held, held)
    again = _again(same, f"all-sets-{verdict.effort}", verdict)
    return _risen(case, again, verdict, dose=dose, loads=loads)


def _again(same: Target, rule: str, verdict: HoldVerdict) -> Target:
    return explained(same, "same", because(rule, **verdict.facts()))


def _after_failure(
    same: Target,
    verdict: HoldVerdict,
    before: HoldVerdict | None,
    *,
    dose: LoadedHold,
    loads: Loads,
) -> Target | None:
    """The answer to failed sets, None where none failed."""
    if not verdict.failed:
        return None
    facts = {**verdict.facts(), "failed": verdict.failed}
    if verdict.early or verdict.failed > 1:
        rule = "sets-failed" if verdict.failed > 1 else "early-fail"
        why = because(rule, **facts)
        return _dropped(same, why, BIG_DROP_FRAC, dose=dose, loads=loads)
    if before is None or before.failed != 1 or before.early:
        return explained(same, "same", because("one-late-fail", **facts))
    why = because("late-fail-again", **facts, since=before.day)
    return _dropped(same, why, SMALL_DROP_FRAC, dose=dose, loads=loads)


def _dropped(same: Target, why: Reason, keep: Decimal, *, dose: LoadedHold, loads: Loads) -> Target:
    """A lighter load that exists, at the dose's hold; where there is none, a shorter hold."""
    load_kg = same.load_kg or Decimal(0)
    lighter = loads.at_most(load_kg * keep)
    if lighter is None:
        hold_s = min(same.hold_s or dose.hold_s, short_hold_s(dose.hold_s), dose.hold_s)
        shorter = replace(same, hold_s=max(hold_s, SHORTEST_S))
        return explained(shorter, "down", why, because("lightest-load", load_kg=load_kg))
    step = because("step-down", from_kg=load_kg, to_kg=lighter)
    return explained(replace(same, load_kg=lighter, hold_s=dose.hold_s), "down", why, step)


def _held_back(same: Target, verdict: HoldVerdict) -> Target | None:
    """The same again where the session does not say that more would go; None where it does."""
    if verdict.sets < verdict.of:
        return _again(same, "sets-missing", verdict)
    if verdict.short:
        return _again(same, "held-shorter", verdict)
    if verdict.effort is None:
        return _again(same, "no-effort", verdict)
    if verdict.effort in ("hard", "limit"):
        return _again(same, f"all-sets-{verdict.effort}", verdict)
    if verdict.mixed and not (verdict.effort == "easy" and verdict.load_kg == verdict.top_kg):
        facts = {**verdict.facts(), "top_kg": verdict.top_kg}
        return explained(same, "same", because("loads-differed", **facts))
    return None


def _risen(
    case: Case, same: Target, verdict: HoldVerdict, *, dose: LoadedHold, loads: Loads
) -> Proposal:
    """More than the last time, by seconds or by load."""
    if not loads.known:
        unchanged = explained(same, "same")
        return Proposal(unchanged, unchanged)
    if verdict.hold_s < dose.hold_s:
        why = because("seconds-back", hold_s=verdict.hold_s + SECOND, until_s=dose.hold_s)
        return Proposal(_longer(same, why), same)
    load_kg = verdict.load_kg
    one = loads.step_above(load_kg)
    if one is None:
        return _onward(case, same, _nothing_above(load_kg, loads), loads=loads, dose=dose)
    most = load_kg * RISE_FRAC
    if one > most:
        return _bridged(case, same, one, dose=dose, loads=loads)
    two = loads.step_above(one) if verdict.effort == "easy" else None
    to_kg = two if two is not None and two <= most else one
    rule = "one-step" if to_kg == one else "two-steps"
    up = replace(same, load_kg=to_kg, hold_s=dose.hold_s)
    return Proposal(explained(up, "up", because(rule, from_kg=load_kg, to_kg=to_kg)), same)


def _bridged(
    case: Case, same: Target, next_kg: Decimal, *, dose: LoadedHold, loads: Loads
) -> Proposal:
    """A second more per set until the next load can be held, then the step at a shorter hold."""
    load_kg, hold_s = same.load_kg or next_kg, same.hold_s or dose.hold_s
    needed_s = hold_needed_s(load_kg, next_kg, prescribed_s=dose.hold_s)
    until_s = LONGEST_S if needed_s is None else needed_s
    if hold_s < until_s:
        why = because("step-too-big", load_kg=load_kg, next_kg=next_kg, until_s=until_s)
        return Proposal(_longer(same, why), same)
    # Once the level is found no month may rise by more than a tenth, so neither may a step.
    is_found = len(case.level) >= FINDING
    if needed_s is None or (is_found and next_kg > load_kg * MOST_RISE):
        why = because("smaller-plates", load_kg=load_kg, next_kg=next_kg)
        return _onward(case, same, why, loads=loads, dose=dose)
    short_s = short_hold_s(dose.hold_s)
    why = because("step-bridged", from_kg=load_kg, to_kg=next_kg, hold_s=hold_s, short_s=short_s)
    return Proposal(explained(replace(same, load_kg=next_kg, hold_s=short_s), "up", why), same)


def _longer(same: Target, why: Reason) -> Target:
    return explained(replace(same, hold_s=(same.hold_s or 0) + SECOND), "longer", why)


def _nothing_above(load_kg: Decimal, loads: Loads) -> Reason:
    """Why there is no heavier load: the pin's limit, or the plates."""
    if loads.is_capped(load_kg) and loads.limit_kg is not None:
        return because("pin-limit", limit_kg=loads.limit_kg, load_kg=load_kg)
    return because("no-plate-left", load_kg=load_kg)


def _onward(case: Case, same: Target, why: Reason, *, loads: Loads, dose: LoadedHold) -> Proposal:
    """A smaller edge, a harder exercise, else seconds, where no heavier load may be lifted."""
    load_kg = same.load_kg or Decimal(0)
    lines = harder_lines(case)
    if why.rule == "smaller-plates" and lines and lines[0].exercise != case.exercise.slug:
        # Plates are left, only too coarse: a smaller edge will do, fewer fingers need not.
        lines = ()
    if lines:
        moved = replace(
            same,
            exercise=lines[0].exercise,
            edge_mm=lines[0].edge_mm,
            load_kg=loads.at_most(load_kg * SEARCH_FRAC) or loads.lightest_kg,
            hold_s=dose.hold_s,
        )
        search = because("half-load", from_kg=load_kg)
        moved = explained(moved, "harder-variation", why, where_to(lines, case), search)
        return Proposal(moved, same, lines)
    if (same.hold_s or dose.hold_s) < LONGEST_S:
        return Proposal(_longer(explained(same, "same", why), because("longer-instead")), same)
    stuck = explained(same, "same", why)
    return Proposal(stuck, stuck)
