"""The first four sessions of a line find its level, and so do those after a long time off.

Where the plates are fine, an easy session asks to add steps set by set. Where the next load is
more than 5 % up, such a step mostly fails; there the sets done so far say, by the curve of short
holds, which load can be held and for how long, and it is taken at that hold.
"""

from dataclasses import replace
from decimal import Decimal
from math import exp

from core.physiology.short_hold import share_held_frac, time_to_failure_s
from core.progression.bridge import short_hold_s, whole_s
from core.progression.case import Case, Proposal
from core.progression.hold_question import HoldQuestion
from core.progression.judgement import falls, hold_verdict
from core.progression.month_cap import FINDING, since_search
from core.progression.reshape import explained
from core.progression.soreness import pains_of
from core.progression.tissue import FINGERS
from core.strength.filter import Belief, Filter
from core.strength.observation import best_of, shown
from core.target import because

LEAST_FRAC = 0.2
"""Least share of the maximum that the curve is for. [-]"""

LEFT_S = 3
"""Left in the best set so far: one more than ok, as later sets are tired ones. [s] House rule."""


def is_finding(case: Case) -> bool:
    """Whether the level is still looked for.

    Not after a warning sign: then the load comes back in its own time.
    """
    signs = any(p.pain.flags for p in pains_of(case.athlete, FINGERS, case.today))
    return not signs and len(since_search(case)) < FINDING


def believed(case: Case) -> Belief | None:
    """What the sessions since the search began say of the maximum; None where none says a thing."""
    filtered = Filter()
    for session in since_search(case):
        said = (shown(case.exercise, done, body_kg=None)[0] for done in session.sets)
        best = best_of(one for one in said if one is not None)
        if best is not None:
            filtered.take(best, session.day)
    return filtered.belief


def level_by_curve(q: HoldQuestion) -> Proposal | None:
    """The next load is more than 5 % up: the greatest load that the curve says can be held.

    At the hold that leaves three seconds, no shorter than that at which big steps are taken and
    no longer than the dose's. Only after a ramp, or sets that were all done and not hard; and
    only once some set was more than easy: before that nobody knows how much is left.
    """
    if q.far_kg is None or not is_finding(q.case) or not (q.verdict.mixed or _is_passed(q)):
        return None
    belief = believed(q.case)
    if belief is None or belief.is_floor:
        return None
    maximum, short_s = exp(belief.log_kg), short_hold_s(q.dose.hold_s)
    to_kg = _untried(q, Decimal(maximum * share_held_frac(short_s + LEFT_S)))
    if to_kg is None or (to_kg <= q.load_kg and not q.verdict.mixed):
        return None
    lasts_s = whole_s(time_to_failure_s(max(float(to_kg) / maximum, LEAST_FRAC)))
    # What was held without being hard is not made shorter.
    least_s = q.verdict.hold_s if to_kg == q.load_kg else short_s
    hold_s = min(q.dose.hold_s, max(least_s, lasts_s - LEFT_S))
    facts = {**q.verdict.facts(), "top_kg": q.verdict.top_kg}
    why = because("level-by-curve", **facts, to_kg=to_kg, short_s=hold_s)
    found = explained(replace(q.same, load_kg=to_kg, hold_s=hold_s), "same", why)
    if to_kg <= q.load_kg:
        return Proposal(found, found)
    return Proposal(replace(found, change="up"), q.again)


def _is_passed(q: HoldQuestion) -> bool:
    """Whether every set was done to the end and was easy or ok."""
    verdict = q.verdict
    is_done = verdict.sets >= verdict.of and not verdict.short
    return is_done and verdict.effort in ("easy", "ok")


def _untried(q: HoldQuestion, most_kg: Decimal) -> Decimal | None:
    """The greatest load up to that, and under any that failed while the level was sought. [kg]"""
    verdicts = [hold_verdict(s, q.dose) for s in since_search(q.case)]
    fell_kg = [v.load_kg for v in verdicts if falls(v, None) is not None]
    to_kg = q.loads.at_most(most_kg)
    while to_kg is not None and fell_kg and to_kg >= min(fell_kg):
        to_kg = q.loads.step_below(to_kg)
    return to_kg
