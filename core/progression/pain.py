"""Pain changes tonight and the next sessions. It never says what is wrong.

All house rules, conservative on purpose. A pain counts for both hands: who spares one
hand loads the other.
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from core.athlete import DatedPain
from core.history import Session
from core.progression.case import Case, aims_of, stopped, without_increase
from core.progression.lighten import gentler, lightened
from core.progression.tissue import FINGERS, tissues_of
from core.target import Reason, Target, Value, because

STOP_SCORE = 4
"""From this score on the tissue stops for the day. [-], of 10. House rule."""

SORE_KEEP = Decimal("0.8")
"""Part of the load that is kept for a sore tissue. [-] House rule."""

CLEARED_KEEP = Decimal("0.5")
"""Part of the load kept when a professional has cleared a warning sign. [-] House rule."""

FREE_SESSIONS = 2
"""Sessions without pain before anything goes up again. [-] House rule."""


def without_pain(target: Target, same: Target, case: Case) -> Target:
    """The target, stopped or lighter for pain in the exercise's tissue.

    Today: any finger pain, a score of 4 or more, a pain without a score, or a warning
    sign stops it. A warning sign keeps it stopped until the athlete is back, cleared by a
    professional; then half the load. Otherwise a fifth less than before the pain, and
    nothing more than that until two sessions went without.
    """
    pains = _pains(case)
    if not pains:
        return target
    last = pains[-1]
    flagged = next((p for p in reversed(pains) if p.pain.flags), None)
    cleared = None if flagged is None else _cleared(case, flagged)
    if flagged is not None and (cleared is None or flagged.day == case.today):
        return stopped(target, because("warning-sign", **_facts(flagged)))
    if last.day == case.today and (_stops(last) or case.exercise.tissue == FINGERS):
        return stopped(target, because("pain-today", **_facts(last)))
    free = sum(1 for s in case.stream.sessions if s.day > last.day)
    if cleared is not None and flagged is not None:
        since = sum(1 for s in case.stream.sessions if s.day >= cleared)
        if since < FREE_SESSIONS:
            why = because("cleared", on=cleared, **_facts(flagged))
            return _spared(target, same, case, before=flagged.day, keep=CLEARED_KEEP, why=why)
    if free >= FREE_SESSIONS:
        return target
    why = because("sore", **_facts(last), free=free, needed=FREE_SESSIONS)
    return _spared(target, same, case, before=last.day, keep=SORE_KEEP, why=why)


def _pains(case: Case) -> tuple[DatedPain, ...]:
    """Pains of the exercise's tissue up to today, oldest first; "0 of 10" is none."""
    mine = (
        dated
        for dated in case.athlete.pains
        if dated.day <= case.today
        and (dated.pain.score != 0 or dated.pain.flags)
        and case.exercise.tissue in tissues_of(dated.pain.site)
    )
    return tuple(sorted(mine, key=lambda dated: dated.day))


def _stops(dated: DatedPain) -> bool:
    score = dated.pain.score
    return score is None or score >= STOP_SCORE or bool(dated.pain.flags)


def _cleared(case: Case, flagged: DatedPain) -> date | None:
    days = (d for d in case.athlete.returns if flagged.day <= d <= case.today)
    return min(days, default=None)


def _facts(dated: DatedPain) -> dict[str, Value]:
    said: dict[str, Value] = {"day": dated.day}
    if dated.pain.site is not None:
        said["site"] = dated.pain.site
    if dated.pain.score is not None:
        said["score"] = dated.pain.score
    if dated.pain.flags:
        said["signs"] = ", ".join(dated.pain.flags)
    return said


def _spared(
    target: Target, same: Target, case: Case, *, before: date, keep: Decimal, why: Reason
) -> Target:
    """No more than that part of what was done before the pain, and no increase.

    Where the line was begun after the pain, its first target was spared already.
    """
    held = without_increase(target, same)
    reference = _reference(case, before)
    if reference is None and case.level:
        return replace(held, reasons=(*held.reasons, why))
    from_then = same
    if reference is not None and same.load_kg is not None and reference.top_load_kg is not None:
        from_then = replace(same, load_kg=reference.top_load_kg)
    reduced = replace(lightened(from_then, case, keep=keep), change="down", reasons=(why,))
    spared = gentler(held, reduced)
    if spared.load_kg == same.load_kg and aims_of(spared) == aims_of(same):
        return replace(spared, change="same")
    return spared


def _reference(case: Case, before: date) -> Session | None:
    """The last session before that day, else the one on it, else None."""
    if not case.level:
        return None
    earlier = [s for s in case.level if s.day < before]
    on_it = [s for s in case.level if s.day == before]
    return next(iter((*reversed(earlier), *on_it)), None)
