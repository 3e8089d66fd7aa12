"""Loaded holds: the load rises and falls with effort, seconds bridge steps that are too big.

Each rule looks at the last session and answers, or leaves it to the next rule by answering
None. ``order`` lists them in the order in which they are asked.
"""

from dataclasses import replace
from decimal import Decimal

from core.catalogue import LoadedHold
from core.physiology.short_hold import share_held_frac
from core.progression.bridge import LONGEST_S, hold_needed_s, short_hold_s
from core.progression.case import Case, Proposal
from core.progression.finding import believed, is_finding
from core.progression.first import first_from_floor
from core.progression.harder import where_to
from core.progression.hold_question import COARSE_FRAC, RISE_FRAC, SECOND, HoldQuestion
from core.progression.judgement import falls
from core.progression.known import held_lately
from core.progression.month_cap import FINDING, MOST_RISE, month, since_search
from core.progression.reshape import explained
from core.target import Reason, because

SMALL_DROP_FRAC = Decimal("0.975")
"""Most that is kept after two sessions running with a late failure. [-] House rule."""

BIG_DROP_FRAC = Decimal("0.95")
"""Most that is kept after several failures or an early one. [-] House rule."""


def first_session(case: Case, dose: LoadedHold) -> Proposal:
    """The first target of a line."""
    load_kg, why = first_from_floor(case)
    blank = replace(case.base(), reps=dose.lifts if dose.lifts > 1 else None)
    first = replace(blank, load_kg=load_kg, hold_s=dose.hold_s, change="first", reasons=(why,))
    return Proposal(first, first)


def much_failed(q: HoldQuestion) -> Proposal | None:
    """Two or more sets failed, or one before 80 % of its time: down by at least 5 %."""
    rule = falls(q.verdict, q.before)
    if rule not in ("sets-failed", "early-fail"):
        return None
    why = because(rule, **q.verdict.facts(), failed=q.verdict.failed)
    return q.lighter(BIG_DROP_FRAC, why)


def long_hold_failed(q: HoldQuestion) -> Proposal | None:
    """A hold that had grown over the dose's failed, and the next lighter load is far down.

    Back to the dose's time at the same load, or to that at which big steps are taken: the
    longer of the two that is by the curve at least as much easier as a drop of the load.
    """
    if falls(q.verdict, q.before) is None or q.verdict.hold_s <= q.dose.hold_s:
        return None
    lighter_kg = q.loads.at_most(q.load_kg * BIG_DROP_FRAC)
    if lighter_kg is not None and lighter_kg >= q.load_kg * COARSE_FRAC:
        return None
    failed_frac = share_held_frac(q.verdict.hold_s)
    for to_s in (q.dose.hold_s, short_hold_s(q.dose.hold_s)):
        if failed_frac <= share_held_frac(to_s) * float(BIG_DROP_FRAC):
            facts = {**q.verdict.facts(), "failed": q.verdict.failed}
            why = because("long-hold-failed", **facts, to_s=to_s)
            shorter = replace(q.same, hold_s=to_s)
            return Proposal(explained(shorter, "down", why), q.said("last-session"))
    return None


def late_fail_again(q: HoldQuestion) -> Proposal | None:
    """One set failed late, the second session running: down a step, at least 2.5 %."""
    if q.before is None or falls(q.verdict, q.before) != "late-fail-again":
        return None
    facts = {**q.verdict.facts(), "failed": q.verdict.failed}
    return q.lighter(SMALL_DROP_FRAC, because("late-fail-again", **facts, since=q.before.day))


def one_late_fail(q: HoldQuestion) -> Proposal | None:
    """One set failed late: the same again."""
    if not q.verdict.failed:
        return None
    why = because("one-late-fail", **q.verdict.facts(), failed=q.verdict.failed)
    return Proposal(explained(q.same, "same", why), q.said("last-session"))


def sets_missing(q: HoldQuestion) -> Proposal | None:
    """Fewer sets than asked: the same again."""
    return q.holds("sets-missing") if q.verdict.sets < q.verdict.of else None


def held_shorter(q: HoldQuestion) -> Proposal | None:
    """A set was ended early without failing: the same again."""
    return q.holds("held-shorter") if q.verdict.short else None


def effort_unsaid(q: HoldQuestion) -> Proposal | None:
    """Nobody said how it went: the same again."""
    return q.holds("no-effort") if q.verdict.effort is None else None


def was_hard(q: HoldQuestion) -> Proposal | None:
    """Every set done, the hardest hard or the limit: the same again."""
    effort = q.verdict.effort
    return q.holds(f"all-sets-{effort}") if effort in ("hard", "limit") else None


def loads_differed(q: HoldQuestion) -> Proposal | None:
    """Loads differed from set to set: first all sets at one load, unless the heaviest was easy."""
    verdict = q.verdict
    if not verdict.mixed or (verdict.effort == "easy" and verdict.load_kg == verdict.top_kg):
        return None
    why = because("loads-differed", **verdict.facts(), top_kg=verdict.top_kg)
    held = explained(q.same, "same", why)
    return Proposal(held, held)


def steps_unknown(q: HoldQuestion) -> Proposal | None:
    """No plates are known, so there are no steps: the same again."""
    return None if q.loads.known else Proposal(q.again, q.again)


def seconds_back(q: HoldQuestion) -> Proposal | None:
    """After a step at a shorter hold: a second more per set, up to the prescribed time."""
    hold_s = q.verdict.hold_s
    if hold_s >= q.dose.hold_s:
        return None
    return q.longer(because("seconds-back", hold_s=hold_s + SECOND, until_s=q.dose.hold_s))


def level_not_found(q: HoldQuestion) -> Proposal | None:
    """Easy, and the level is still looked for: more, and a further step per set while it is easy.

    Where the next load is more than 5 % up, at the hold at which big steps are taken, and only
    while every set so far was easy: once one was not, the curve knows better.
    """
    if q.verdict.effort != "easy" or q.next_kg is None or not is_finding(q.case):
        return None
    start = two_steps(q) or one_step(q)
    if start is not None:
        if q.verdict.hold_s < q.dose.hold_s:
            # A step at a longer hold too would be two steps: the seconds first.
            return None
        first = start.next
    else:
        belief = believed(q.case)
        if belief is not None and not belief.is_floor:
            return None
        hold_s = q.verdict.hold_s
        if q.dose.lifts == 1:
            hold_s = min(hold_s, short_hold_s(q.dose.hold_s))
        first = explained(replace(q.again, hold_s=hold_s), "longer")
    why = because("ramp-on", session=len(since_search(q.case)) + 1, of_sessions=FINDING)
    return Proposal(explained(first, first.change, why), q.again)


def two_steps(q: HoldQuestion) -> Proposal | None:
    """Easy: two steps of the plates, if they are at most 5 %."""
    one = q.next_kg
    if one is None or q.verdict.effort != "easy":
        return None
    two = q.loads.step_above(one)
    if two is None or two > q.load_kg * RISE_FRAC:
        return None
    return q.heavier(two, q.dose.hold_s, because("two-steps", from_kg=q.load_kg, to_kg=two))


def one_step(q: HoldQuestion) -> Proposal | None:
    """Easy or ok: one step of the plates, if it is at most 5 %."""
    one = q.next_kg
    if one is None or q.far_kg is not None:
        return None
    return q.heavier(one, q.dose.hold_s, because("one-step", from_kg=q.load_kg, to_kg=one))


def known_step(q: HoldQuestion) -> Proposal | None:
    """The next load is more than 5 % up, but was held lately: back to it, at a shorter hold."""
    far_kg, limit = q.far_kg, month(q.case)
    held = None if far_kg is None else held_lately(q.case, far_kg, q.dose)
    if far_kg is None or held is None or (limit is not None and far_kg > limit.most_kg):
        return None
    short_s = short_hold_s(q.dose.hold_s)
    why = because("known-step", from_kg=q.load_kg, to_kg=far_kg, since=held.day, short_s=short_s)
    return q.heavier(far_kg, short_s, why)


def seconds_first(q: HoldQuestion) -> Proposal | None:
    """The next load is more than 5 % up: a second more per set until it can be held."""
    far_kg = q.far_kg
    if far_kg is None:
        return None
    until_s = hold_needed_s(q.load_kg, far_kg, prescribed_s=q.dose.hold_s) or LONGEST_S
    if q.verdict.hold_s >= until_s:
        return None
    return q.longer(because("step-too-big", load_kg=q.load_kg, next_kg=far_kg, until_s=until_s))


def bridged_step(q: HoldQuestion) -> Proposal | None:
    """Held long enough: the big step, at a shorter hold.

    Not where it would break the limit of a month: a step of more than a tenth, beyond a tenth
    above what the fingers were used to, is never allowed once the level is found.
    """
    far_kg = q.far_kg
    if far_kg is None or hold_needed_s(q.load_kg, far_kg, prescribed_s=q.dose.hold_s) is None:
        return None
    limit = month(q.case)
    if limit is not None and far_kg > max(q.load_kg * MOST_RISE, limit.most_kg):
        return None
    short_s = short_hold_s(q.dose.hold_s)
    why = because(
        "step-bridged",
        from_kg=q.load_kg,
        to_kg=far_kg,
        hold_s=q.verdict.hold_s,
        short_s=short_s,
    )
    return q.heavier(far_kg, short_s, why)


def smaller_edge(q: HoldQuestion) -> Proposal | None:
    """No heavier load may be lifted: on to the next smaller edge, from half of the load."""
    lines = q.lines
    return _onward(q) if lines and lines[0].exercise == q.case.exercise.slug else None


def longer_instead(q: HoldQuestion) -> Proposal | None:
    """The next load is too far away and no smaller edge is there: longer, to the longest hold."""
    if q.verdict.hold_s >= LONGEST_S or (q.lines and q.far_kg is None):
        return None
    return q.longer(_why_not_heavier(q), because("longer-instead"))


def harder_exercise(q: HoldQuestion) -> Proposal | None:
    """Nothing heavier, and no time left to add: on to the next exercise of the ladder."""
    return _onward(q) if q.lines else None


def kept(q: HoldQuestion) -> Proposal | None:
    """Nothing heavier, smaller, harder or longer is left: the same again keeps it."""
    held = explained(q.again, "same", _why_not_heavier(q), because("kept", hold_s=q.verdict.hold_s))
    return Proposal(held, held)


def _onward(q: HoldQuestion) -> Proposal:
    lines = q.lines
    dose = q.case.athlete.programme.exercise(lines[0].exercise).dose
    moved = replace(
        q.again,
        exercise=lines[0].exercise,
        edge_mm=lines[0].edge_mm,
        sets=dose.sets,
        load_kg=q.search_kg,
        hold_s=dose.hold_s if isinstance(dose, LoadedHold) else q.dose.hold_s,
        rest_s=dose.rest_s,
    )
    why: tuple[Reason, ...] = (_why_not_heavier(q), where_to(lines, q.case))
    if not all(line.sessions for line in lines):
        # A line that was begun goes on from its own record: nothing is searched for.
        why = (*why, because("half-load", from_kg=q.load_kg))
    return Proposal(explained(moved, "harder-variation", *why), q.again, lines)


def _why_not_heavier(q: HoldQuestion) -> Reason:
    """Why no heavier load may be lifted: too far away, over the pin's limit, or no plate left."""
    if q.far_kg is not None:
        return because("smaller-plates", load_kg=q.load_kg, next_kg=q.far_kg)
    if q.loads.is_capped(q.load_kg) and q.loads.limit_kg is not None:
        return because(q.case.limit_rule, limit_kg=q.loads.limit_kg, load_kg=q.load_kg)
    return because("no-plate-left", load_kg=q.load_kg)
