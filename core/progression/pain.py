"""The guards of pain, gravest first. They stop or lighten; they never say what is wrong."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from core.athlete import Athlete, DatedPain
from core.catalogue import LoadedHold, Tissue
from core.history import Session
from core.progression.case import Case
from core.progression.judgement import hold_verdict
from core.progression.lighten import gentler, lightened, lighter_load, with_aims
from core.progression.reshape import aims_of, stopped, without_increase
from core.progression.soreness import open_sign, pain_tonight, pains_of
from core.progression.tissue import FINGERS
from core.target import Reason, Target, Value, because

SORE_KEEP = Decimal("0.8")
"""Part of the load that is kept for a sore tissue. [-] House rule."""

CLEARED_KEEP = Decimal("0.5")
"""Part of the load kept when a professional has cleared a warning sign. [-] House rule."""

FREE_SESSIONS = 2
"""Sessions without pain before anything goes up again. [-] House rule."""


def pain_stop(athlete: Athlete, tissue: Tissue, day: date) -> Reason | None:
    """Why pain stops a tissue on that day; None where it does not.

    A warning sign stops it until a professional has cleared it, and on its own day in any
    case; other pain that is bad enough stops it for tonight.
    """
    sign = open_sign(athlete, tissue, day)
    if sign is not None:
        return because("warning-sign", **_facts(sign))
    pain = pain_tonight(athlete, tissue, day)
    return None if pain is None else because("pain-today", **_facts(pain))


def stopped_by_pain(target: Target, same: Target, case: Case) -> Target:
    """The target, stopped where pain stops its tissue.

    A warning sign of the fingers stops hanging from a bar too: it grips with them.
    """
    why = pain_stop(case.athlete, case.exercise.tissue, case.today)
    if why is None and "bar" in case.exercise.needs:
        sign = open_sign(case.athlete, FINGERS, case.today)
        why = None if sign is None else because("warning-sign", **_facts(sign))
    return target if why is None else stopped(target, why)


def half_once_cleared(target: Target, same: Target, case: Case) -> Target:
    """The target at half of the load before the sign, for two sessions after it was cleared."""
    signs = [p for p in _pains(case) if p.pain.flags and p.cleared is not None]
    if not signs:
        return target
    sign = signs[-1]
    cleared = sign.cleared or case.today
    since = sum(1 for s in case.stream.sessions if s.day >= cleared)
    if since >= FREE_SESSIONS:
        return target
    why = because("cleared", on=cleared, **_facts(sign))
    begun = since > 0
    return _spared(target, same, case, before=sign.day, keep=CLEARED_KEEP, why=why, begun=begun)


def fifth_less_while_sore(target: Target, same: Target, case: Case) -> Target:
    """The target with a fifth less than before the pain, until two sessions went without it."""
    pains = [p for p in _pains(case) if not p.pain.flags]
    if not pains:
        return target
    last = pains[-1]
    free = sum(1 for s in case.stream.sessions if s.day > last.day)
    if free >= FREE_SESSIONS:
        return target
    why = because("sore", **_facts(last), free=free, needed=FREE_SESSIONS)
    begun = free > 0
    return _spared(target, same, case, before=last.day, keep=SORE_KEEP, why=why, begun=begun)


def _pains(case: Case) -> tuple[DatedPain, ...]:
    return pains_of(case.athlete, case.exercise.tissue, case.today)


def _facts(dated: DatedPain) -> dict[str, Value]:
    said: dict[str, Value] = {"day": dated.day}
    where = " ".join(word for word in (dated.pain.side, dated.pain.site) if word)
    if where:
        said["site"] = where
    if dated.pain.score is not None:
        said["score"] = dated.pain.score
    if dated.pain.flags:
        said["signs"] = ", ".join(dated.pain.flags)
    return said


def _spared(
    target: Target,
    same: Target,
    case: Case,
    *,
    before: date,
    keep: Decimal,
    why: Reason,
    begun: bool,
) -> Target:
    """No more than that part of what was done before the pain, and no increase.

    Where the line was begun after the pain, its first target was spared already; where no
    load can be lowered, the first session since was (``begun``), and is repeated.
    """
    held = without_increase(target, same)
    reference = _reference(case, before)
    if reference is None and case.level:
        return replace(held, reasons=(why, *held.reasons))
    from_then = same
    then_kg = None if reference is None else _shown_kg(case, reference)
    if same.load_kg is not None and then_kg is not None:
        from_then = replace(same, load_kg=then_kg)
    if begun and lighter_load(from_then, case, keep=keep) is None:
        return replace(_as_since(held, case), reasons=(why, *held.reasons))
    reduced = replace(lightened(from_then, case, keep=keep), change="down", reasons=(why,))
    spared = gentler(held, reduced)
    if spared.load_kg == same.load_kg and aims_of(spared) == aims_of(same):
        return replace(spared, change="same")
    return spared


def _shown_kg(case: Case, session: Session) -> Decimal | None:
    """The load that a session speaks for, which may be under its heaviest. [kg]"""
    dose = case.exercise.dose
    if session.top_load_kg is None or not isinstance(dose, LoadedHold):
        return session.top_load_kg
    return hold_verdict(session, dose).load_kg


def _as_since(target: Target, case: Case) -> Target:
    """The target with no aim above what the last session did."""
    last = case.stream.sessions[-1]
    done = [n for s in last.sets if (n := s.reps if target.hold_s is None else s.hold_s)]
    if not done:
        return target
    return with_aims(target, tuple(min(aim, max(done)) for aim in aims_of(target)))


def _reference(case: Case, before: date) -> Session | None:
    """The last session before that day, else the one on it, else None."""
    if not case.level:
        return None
    earlier = [s for s in case.level if s.day < before]
    on_it = [s for s in case.level if s.day == before]
    return next(iter((*reversed(earlier), *on_it)), None)
