"""What stands above progress: age, pain, time off, easier weeks, the 28-day cap.

Each answers with the most that may be asked; where two hold, the lesser counts.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from core.catalogue import Exercise, get_exercise
from core.target import Target
from tests.simulated.rulebook.record import FINGERS, PLACES, Key, Record, Sitting, key_of


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The most that a rule allows.

    Attributes:
        rule: Its name.
        stop: Nothing may be asked.
        keep: Part of ``of_kg`` that may be asked, net of body weight; None: no such bound.
        of_kg: The load it is a part of. [kg]
        of_s: The seconds it is a part of, where no load is meant. [s]
        sets: Most sets; None: no such bound.
        no_rise: Neither load nor seconds may rise.
    """

    rule: str
    stop: bool = False
    keep: Decimal | None = None
    of_kg: Decimal | None = None
    of_s: int | None = None
    sets: int | None = None
    no_rise: bool = True


def ceilings(target: Target, record: Record, day: date) -> list[Ceiling]:
    """Every ceiling over that target tonight; none where only progress has a say."""
    exercise = get_exercise(target.exercise)
    line = record.before(key_of(target), day)
    found = [*_age(exercise, record), *_pain(exercise, line, record, day)]
    level = [s for s in line if not s.eased]
    if line:
        off = record.days_off(key_of(target), day)
        found += _time_off(exercise, level or line, off)
    return [*found, *_deload(exercise, target, level, record, day)]


def _age(exercise: Exercise, record: Record) -> list[Ceiling]:
    young = record.age is not None and record.age < 18 and exercise.block == "fingers"
    # Nobody in the simulation has a coach linked.
    return [Ceiling("age", stop=True)] if young else []


def _pain(exercise: Exercise, line: list[Sitting], record: Record, day: date) -> list[Ceiling]:
    if "bar" in exercise.needs and _has_open_sign(FINGERS, record, day):
        # Hanging from a bar grips too.
        return [Ceiling("warning-sign", stop=True)]
    mine = [(d, p) for d, p in record.pains if d <= day and PLACES[p.site or ""] == exercise.tissue]
    if not mine:
        return []
    found = []
    last, pain = mine[-1]
    flagged = [d for d, p in mine if p.flags]
    cleared = [b for b in record.backs if flagged and b >= flagged[-1]]
    if flagged and (not cleared or flagged[-1] == day):
        return [Ceiling("warning-sign", stop=True)]
    if last == day and ((pain.score or 9) >= 4 or exercise.tissue == FINGERS):
        return [Ceiling("pain-stops", stop=True)]
    if flagged and flagged[-1] == last and not [s for s in line if s.day >= cleared[0]]:
        found.append(_kept("cleared-half", line, last, Decimal("0.5")))
    free = len([s for s in line if s.day > last])
    if free < 2:
        found.append(_kept("sore-fifth-less", line, last, Decimal("0.8")))
    return found


def _has_open_sign(tissue: str, record: Record, day: date) -> bool:
    """Whether a warning sign there is not cleared, or was told on that very day."""
    signs = [d for d, p in record.pains if d <= day and p.flags and PLACES[p.site or ""] == tissue]
    return bool(signs) and (signs[-1] == day or not any(b >= signs[-1] for b in record.backs))


def _kept(rule: str, line: list[Sitting], since: date, keep: Decimal) -> Ceiling:
    before = [s for s in line if s.day < since and not s.eased]
    if not before:
        return Ceiling(rule)
    return _part(rule, keep, before[-1], line)


def _part(rule: str, keep: Decimal, last: Sitting, line: list[Sitting]) -> Ceiling:
    """So much of the load of that sitting, or of the longest time asked so far without one."""
    if last.asked.load_kg is not None:
        return Ceiling(rule, keep=keep, of_kg=last.held_kg)
    same = [s for s in line if s.target.variation == last.target.variation]
    longest = max((s.asked.hold_s or 0, *(d.hold_s or 0 for d in s.sets)) for s in same)
    return Ceiling(rule, keep=keep, of_s=max(longest) or None)


def _time_off(exercise: Exercise, level: list[Sitting], off: int | None) -> list[Ceiling]:
    if off is None or off <= 10:
        return []
    if off <= 21:
        return [Ceiling("time-off", sets=max(1, exercise.dose.sets - 2))]
    if off >= 56:
        return [_part("time-off", Decimal("0.5"), level[-1], level)]
    # 22 to 28 days: 5 %; 5 % more for each further two weeks.
    percent = 5 + 5 * -(-max(0, off - 28) // 14)
    return [_part("time-off", 1 - Decimal(min(30, percent)) / 100, level[-1], level)]


def in_asked_deload(record: Record, day: date) -> bool:
    """Whether a deload was asked for within the last seven days."""
    return any(d <= day < d + timedelta(days=7) for d in record.deloads)


def _deload(
    exercise: Exercise, target: Target, level: list[Sitting], record: Record, day: date
) -> list[Ceiling]:
    if target.change != "deload" and not in_asked_deload(record, day):
        return []
    loaded = bool(level) and level[-1].asked.load_kg is not None
    kg = level[-1].held_kg if loaded else None
    half = -(-exercise.dose.sets // 2)
    return [Ceiling("deload", keep=Decimal("0.9"), of_kg=kg, sets=half)]


USED_TO = timedelta(days=14)
"""The load of 28 days ago is the heaviest held without failing in so long up to then: one light
day does not count as the load of that time. Our reading; see ``to_the_day``."""

REGAIN = timedelta(days=56)
"""So long after a sore finger or three weeks off, sessions under the level before it do not
count either. Our reading."""


def month_cap_kg(
    key: Key, record: Record, day: date, *, early: bool = False, to_the_day: bool = False
) -> Decimal | None:
    """Most that a finger line may carry: 10 % over 28 days ago, once four sessions are done.

    Sessions of an easier week are passed over; the count begins anew after 56 days off and
    when a warning sign is cleared. Where the text is open: ``early`` compares with the fourth
    session while it is younger than 28 days, ``to_the_day`` with the one last session that is
    28 days old, however light it was meant to be.
    """
    exercise = get_exercise(key[0])
    if exercise.block != "fingers":
        return None
    line = since_search(key, record, day)
    found = line[3:]
    if found and not to_the_day:
        under = _regained(line, exercise, record, day)
        found = [s for s in found if not _is_regaining(s, under)] or found
    old = [s for s in found if s.day <= day - timedelta(days=28)]
    if not old and early:
        old = found[:1]
    old = [s for s in old if s.asked.load_kg is not None]
    if not old:
        return None
    used = old[-1:] if to_the_day else [s for s in old if s.day >= old[-1].day - USED_TO]
    body = Decimal(0) if exercise.from_floor or record.body_kg is None else record.body_kg
    return (max(s.held_kg for s in used) + body) * Decimal("1.1") - body


def _regained(
    line: list[Sitting], exercise: Exercise, record: Record, day: date
) -> list[tuple[date, Decimal]]:
    """Each pain and long time off: from when on, and the load before it. [kg]"""
    causes = [d for d, p in record.pains if not p.flags and PLACES[p.site or ""] == exercise.tissue]
    causes += [b for a, b in record.rests(exercise, day) if (b - a).days > 21 and b < day]
    before = [(c, [s for s in line if s.day < c and s.asked.load_kg is not None]) for c in causes]
    return [(cause, sittings[-1].held_kg) for cause, sittings in before if sittings]


def _is_regaining(sitting: Sitting, under: list[tuple[date, Decimal]]) -> bool:
    """Whether a session lay under the level before a pain or a long time off not long ago."""
    return any(
        cause <= sitting.day <= cause + REGAIN and sitting.held_kg < kg for cause, kg in under
    )


def since_search(key: Key, record: Record, day: date) -> list[Sitting]:
    """The line's sessions that show its level, since it was last looked for."""
    exercise = get_exercise(key[0])
    line = [s for s in record.before(key, day) if not s.eased]
    flagged = [d for d, p in record.pains if p.flags and PLACES[p.site or ""] == exercise.tissue]
    cleared = [b for b in record.backs if flagged and b >= flagged[-1]]
    ends = [b for a, b in record.rests(exercise, day) if (b - a).days >= 56]
    if ends:
        line = [s for s in line if s.day >= ends[-1]]
    return [s for s in line if not cleared or s.day >= cleared[0]]
