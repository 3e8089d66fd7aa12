"""Rep range and hold range at a net load: numbers to the top, then more load or less help."""

from dataclasses import replace
from decimal import Decimal

from core.catalogue import HoldRange, RepRange, get_exercise
from core.kit.help import BodyLoads
from core.progression.aims import as_done, one_more
from core.progression.case import Case, Proposal, explained
from core.progression.first import SEARCH_FRAC, first_on_body
from core.progression.harder import harder_lines, where_to
from core.progression.span import Span, SpanVerdict, span_of, span_verdict
from core.target import Reason, Target, because

ASSUMED_BODY_KG = Decimal(70)
"""Body weight assumed while it is not known, for the size of a step only. [kg] House rule."""

UNKNOWN_STEP_FRAC = Decimal("0.05")
"""Largest step over the assumed body weight. [-] House rule."""


def propose(case: Case, dose: RepRange | HoldRange, loads: BodyLoads) -> Proposal:
    """What the last session calls for, and the same again."""
    span = span_of(dose)
    if not case.level:
        load_kg, why = first_on_body(case, loads)
        first = span.aimed(replace(case.base(), load_kg=load_kg), (span.low,) * span.sets)
        first = explained(first, "first", why)
        return Proposal(first, first)
    verdicts = [span_verdict(s, span, case.athlete.kit) for s in case.level[-2:]]
    verdict = verdicts[-1]
    aims = as_done(verdict.done, sets=span.sets, low=span.low, high=span.most)
    same = replace(case.base(), load_kg=verdict.load_kg, band=verdict.band)
    again = explained(span.aimed(same, aims), "same", because("last-session", **verdict.facts()))
    if verdict.all_sets < verdict.of:
        missing = because("sets-missing", **verdict.facts())
        held = explained(span.aimed(same, aims), "same", missing)
        return Proposal(held, held)
    if len(verdicts) > 1 and all(min(v.done) < span.low for v in verdicts):
        return Proposal(_easier(same, verdicts, span=span, loads=loads), again)
    if len(verdict.done) >= span.sets and min(verdict.done[: span.sets]) >= span.high:
        return _at_top(case, again, verdict, span=span, loads=loads)
    return Proposal(_one_more(same, verdict, span=span), again)


def _one_more(same: Target, verdict: SpanVerdict, *, span: Span) -> Target:
    aims = one_more(verdict.done, sets=span.sets, low=span.low, high=span.high)
    why = because("one-more", **verdict.facts(), total=sum(aims))
    return explained(span.aimed(same, aims), "longer", why)


def _easier(same: Target, verdicts: list[SpanVerdict], *, span: Span, loads: BodyLoads) -> Target:
    """A step back after two sessions running with a set under the bottom."""
    before, verdict = verdicts
    why = because("bottom-missed-twice", **verdict.facts(), since=before.day, low=span.low)
    bottom = span.aimed(same, (span.low,) * span.sets)
    easier = None if verdict.load_kg is None else loads.step_below(verdict.load_kg)
    if easier is None or verdict.load_kg is None:
        return explained(bottom, "same", why, because("nothing-easier"))
    step = because("step-down", from_kg=verdict.load_kg, to_kg=easier)
    return explained(replace(bottom, load_kg=easier), "down", why, step)


def _at_top(
    case: Case, again: Target, verdict: SpanVerdict, *, span: Span, loads: BodyLoads
) -> Proposal:
    """Every set at the top: the next load if its bottom is in reach, else more of the same."""
    said = replace(again, reasons=())
    if verdict.effort in (None, "limit", "fail"):
        rule = "no-effort" if verdict.effort is None else "top-at-limit"
        held = explained(said, "same", because(rule, **verdict.facts()))
        return Proposal(held, held)
    top = explained(said, "same", because("top-reached", **verdict.facts(), high=span.high))
    if verdict.load_kg is None:
        unknown = explained(top, "same", because("band-unknown", band=verdict.band or ""))
        return Proposal(unknown, unknown)
    next_kg = loads.step_above(verdict.load_kg)
    if next_kg is None:
        return _out_of_loads(case, top, verdict, span=span, loads=loads)
    close, why = _in_reach(case, verdict, next_kg, span=span)
    if close:
        up = span.aimed(replace(top, load_kg=next_kg), (span.low,) * span.sets)
        return Proposal(explained(up, "up", why), top)
    return Proposal(_beyond_top(explained(top, "same", why), verdict, span=span), top)


def _in_reach(
    case: Case, verdict: SpanVerdict, next_kg: Decimal, *, span: Span
) -> tuple[bool, Reason]:
    """Whether the bottom of the range is predicted at the next load, and why."""
    body_kg, load_kg = case.athlete.body_kg, verdict.load_kg
    if body_kg is None or load_kg is None:
        small = next_kg - (load_kg or Decimal(0)) <= ASSUMED_BODY_KG * UNKNOWN_STEP_FRAC
        return small, because("body-unknown", assumed_kg=ASSUMED_BODY_KG, next_kg=next_kg)
    net_kg, next_net_kg = case.net_kg(load_kg), case.net_kg(next_kg)
    close = False
    if net_kg is not None and next_net_kg is not None and net_kg > 0 and next_net_kg > 0:
        predicted = span.predicted(
            net_kg=float(net_kg),
            done=min(verdict.done[: span.sets]),
            reserve=verdict.reserve,
            next_kg=float(next_net_kg),
        )
        close = predicted >= span.low
    rule = "bottom-in-reach" if close else "bottom-out-of-reach"
    return close, because(rule, next_kg=next_kg, low=span.low, body_kg=body_kg)


def _beyond_top(top: Target, verdict: SpanVerdict, *, span: Span) -> Target:
    """One more in total, past the top, as far as the equations go."""
    aims = one_more(verdict.done, sets=span.sets, low=span.low, high=span.most)
    if sum(aims) <= sum(verdict.done[: span.sets]):
        return explained(top, "same", because("top-of-all", most=span.most))
    return explained(span.aimed(top, aims), "longer", because("past-the-top", total=sum(aims)))


def _out_of_loads(
    case: Case, top: Target, verdict: SpanVerdict, *, span: Span, loads: BodyLoads
) -> Proposal:
    """The harder exercise, else more of the same, where nothing heavier may be hung on."""
    kit, load_kg = case.athlete.kit, verdict.load_kg or Decimal(0)
    if loads.is_capped(load_kg) and kit.bar_limit_kg is not None and case.athlete.body_kg:
        why = because("bar-limit", limit_kg=kit.bar_limit_kg, body_kg=case.athlete.body_kg)
    elif kit.plates:
        why = because("no-plate-left", load_kg=load_kg)
    else:
        why = because("plates-unknown")
    lines = harder_lines(case)
    if not lines:
        return Proposal(_beyond_top(explained(top, "same", why), verdict, span=span), top)
    dose = get_exercise(lines[0].exercise).dose
    start = top
    if isinstance(dose, RepRange | HoldRange):
        harder = span_of(dose)
        start = harder.aimed(replace(top, rest_s=dose.rest_s), (harder.low,) * dose.sets)
    net_kg = case.net_kg(load_kg)
    half_kg = None if net_kg is None else case.load_at_net(net_kg * SEARCH_FRAC)
    start_kg = None if half_kg is None else loads.at_most(half_kg)
    moved = replace(
        start,
        exercise=lines[0].exercise,
        edge_mm=lines[0].edge_mm,
        load_kg=loads.lightest_kg if start_kg is None else start_kg,
    )
    moved = explained(moved, "harder-variation", why, where_to(lines, case))
    return Proposal(moved, top, lines)
