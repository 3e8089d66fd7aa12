"""Rep range and hold range at a net load: numbers to the top, then more load or less help.

Each rule looks at the last session and answers, or leaves it to the next rule by answering
None. ``order`` lists them in the order in which they are asked.
"""

from dataclasses import replace
from decimal import Decimal

from core.catalogue import HoldRange, RepRange
from core.kit.help import BodyLoads
from core.progression.aims import one_more
from core.progression.case import Case, Proposal
from core.progression.first import SEARCH_FRAC, first_on_body
from core.progression.harder import harder_lines, where_to
from core.progression.month_cap import MOST_RISE, month
from core.progression.net_question import NetQuestion, held
from core.progression.reshape import explained
from core.progression.span import missed_twice, span_of
from core.target import Reason, because

ASSUMED_BODY_KG = Decimal(70)
"""Body weight assumed while it is not known, for the size of a step only. [kg] House rule."""

UNKNOWN_STEP_FRAC = Decimal("0.05")
"""Largest step over the assumed body weight. [-] House rule."""


def first_session(case: Case, dose: RepRange | HoldRange, loads: BodyLoads) -> Proposal:
    """The first target of a line."""
    span = span_of(dose)
    load_kg, why = first_on_body(case, loads)
    first = span.aimed(replace(case.base(), load_kg=load_kg), (span.low,) * span.sets)
    first = explained(first, "first", why)
    return Proposal(first, first)


def sets_missing(q: NetQuestion) -> Proposal | None:
    """Fewer sets than asked: the same again."""
    return held(q.said("sets-missing")) if q.verdict.all_sets < q.verdict.of else None


def bottom_missed_twice(q: NetQuestion) -> Proposal | None:
    """A set under the bottom in two sessions running: easier, else the bottom again."""
    if not missed_twice(q.verdicts, q.span):
        return None
    before, verdict = q.verdicts
    facts = {**verdict.facts(), "since": before.day, "low": q.span.low}
    why = because("bottom-missed-twice", **facts)
    again = q.said("last-session")
    load_kg = verdict.load_kg
    easier_kg = None if load_kg is None else q.loads.step_below(load_kg)
    if easier_kg is None or load_kg is None:
        none = because("nothing-easier")
        return Proposal(explained(q.at_bottom(load_kg), "same", why, none), again)
    step = because("step-down", from_kg=load_kg, to_kg=easier_kg)
    return Proposal(explained(q.at_bottom(easier_kg), "down", why, step), again)


def one_more_in_total(q: NetQuestion) -> Proposal | None:
    """Not every set at the top: the same load, one more rep or second in total."""
    if q.is_at_top:
        return None
    span, verdict = q.span, q.verdict
    aims = one_more(verdict.done, sets=span.sets, low=span.low, high=span.high)
    why = because("one-more", **verdict.facts(), total=sum(aims))
    more = explained(span.aimed(q.same, aims), "longer", why)
    return Proposal(more, q.said("last-session"))


def top_at_limit(q: NetQuestion) -> Proposal | None:
    """The top reached at the limit, or nobody said how: the same again."""
    if q.verdict.effort is None:
        return held(q.said("no-effort"))
    return held(q.said("top-at-limit")) if q.verdict.effort in ("limit", "fail") else None


def band_unknown(q: NetQuestion) -> Proposal | None:
    """How much the band helped is not known, so nothing can be predicted: the same again."""
    if q.verdict.load_kg is not None:
        return None
    return held(q.top, because("band-unknown", band=q.verdict.band or ""))


def next_in_reach(q: NetQuestion) -> Proposal | None:
    """The bottom of the range is predicted at the next load: on to it."""
    next_kg = q.next_kg
    if next_kg is None or not _is_in_reach(q, next_kg):
        return None
    up = replace(q.at_bottom(next_kg), reasons=q.top.reasons)
    return Proposal(explained(up, "up", _reach(q, next_kg, close=True)), q.top)


def harder_exercise(q: NetQuestion) -> Proposal | None:
    """Nothing heavier may be hung on: on to a smaller edge or a harder exercise."""
    lines = harder_lines(q.case)
    load_kg = q.verdict.load_kg
    if q.next_kg is not None or not lines or load_kg is None:
        return None
    dose = q.case.athlete.programme.exercise(lines[0].exercise).dose
    start = q.top
    if isinstance(dose, RepRange | HoldRange):
        harder = span_of(dose)
        start = harder.aimed(replace(start, rest_s=dose.rest_s), (harder.low,) * dose.sets)
    net_kg = q.case.net_kg(load_kg)
    half_kg = None if net_kg is None else q.case.load_at_net(net_kg * SEARCH_FRAC)
    start_kg = None if half_kg is None else q.loads.at_most(half_kg)
    moved = replace(
        start,
        exercise=lines[0].exercise,
        edge_mm=lines[0].edge_mm,
        load_kg=q.loads.lightest_kg if start_kg is None else start_kg,
    )
    why = (_why_not_heavier(q), where_to(lines, q.case))
    return Proposal(explained(moved, "harder-variation", *why), q.top, lines)


def past_the_top(q: NetQuestion) -> Proposal | None:
    """The next load is out of reach, or there is none: one more in total, past the top."""
    span, done = q.span, q.verdict.done
    aims = one_more(done, sets=span.sets, low=span.low, high=span.most)
    if sum(aims) <= sum(done[: span.sets]):
        return None
    why = (_why_not_heavier(q), because("past-the-top", total=sum(aims)))
    return Proposal(explained(span.aimed(q.top, aims), "longer", *why), q.top)


def kept(q: NetQuestion) -> Proposal | None:
    """No more per set, and nothing heavier in reach: the same again keeps it."""
    most = because("top-of-all", most=q.span.most)
    if q.next_kg is None:
        return held(q.top, _why_not_heavier(q), most)
    return held(q.top, _why_not_heavier(q), most, because("finer-steps"))


def _is_in_reach(q: NetQuestion, next_kg: Decimal) -> bool:
    body_kg, load_kg = q.case.athlete.body_kg, q.verdict.load_kg or Decimal(0)
    if body_kg is None:
        return next_kg - load_kg <= ASSUMED_BODY_KG * UNKNOWN_STEP_FRAC
    net_kg, next_net_kg = q.case.net_kg(load_kg), q.case.net_kg(next_kg)
    if net_kg is None or next_net_kg is None or net_kg <= 0 or _breaks_month(q, next_net_kg):
        return False
    predicted = q.span.predicted(
        net_kg=float(net_kg),
        done=min(q.verdict.done[: q.span.sets]),
        reserve=q.verdict.reserve,
        next_kg=float(next_net_kg),
    )
    return predicted >= q.span.low


def _breaks_month(q: NetQuestion, next_net_kg: Decimal) -> bool:
    """Whether the step is more than fingers may rise in a month."""
    net_kg, limit = q.case.net_kg(q.verdict.load_kg), month(q.case)
    if q.case.exercise.block != "fingers" or net_kg is None or limit is None:
        return False
    return next_net_kg > max(net_kg * MOST_RISE, limit.most_kg)


def _reach(q: NetQuestion, next_kg: Decimal, *, close: bool) -> Reason:
    """Why the next load is taken or not."""
    body_kg = q.case.athlete.body_kg
    if body_kg is None:
        return because("body-unknown", assumed_kg=ASSUMED_BODY_KG, next_kg=next_kg)
    next_net_kg = q.case.net_kg(next_kg)
    if next_net_kg is not None and _breaks_month(q, next_net_kg):
        return because("month-step", next_kg=next_kg, body_kg=body_kg)
    rule = "bottom-in-reach" if close else "bottom-out-of-reach"
    return because(rule, next_kg=next_kg, low=q.span.low, body_kg=body_kg)


def _why_not_heavier(q: NetQuestion) -> Reason:
    """Why the next load is not taken: out of reach, over the bar's limit, or none is there."""
    if q.next_kg is not None:
        return _reach(q, q.next_kg, close=False)
    kit, load_kg = q.case.athlete.kit, q.verdict.load_kg or Decimal(0)
    body_kg = q.case.athlete.body_kg
    if q.loads.is_capped(load_kg) and kit.bar_limit_kg is not None and body_kg is not None:
        return because("bar-limit", limit_kg=kit.bar_limit_kg, body_kg=body_kg)
    if kit.plates:
        return because("no-plate-left", load_kg=load_kg)
    return because("plates-unknown")
