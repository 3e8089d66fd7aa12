"""What was in the way of progress: pain, missed evenings, kit, a plateau, an easier week.

Each is computed from what happened or read off the engine's own reasons, never guessed.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from types import MappingProxyType

from core.athlete import Athlete, DatedPain
from core.progression.deload import deload_on
from core.progression.soreness import gravest
from core.review.adherence import Adherence
from core.review.change import ExerciseChange, LineChange
from core.target import Reason, Value, because

WEEK_DAYS = 7

UNKNOWN: Mapping[str, str] = MappingProxyType(
    {"plates-unknown": "plates", "bands-unknown": "bands", "band-unknown": "bands"}
)
"""Reasons of the engine that say that nothing is known to make steps with, and what it is."""

COARSE: frozenset[str] = frozenset({"smaller-plates", "finer-steps", "step-too-big"})
"""Reasons that say that the next load is too far away."""

SPENT = "no-plate-left"
"""Reason that says that nothing heavier can be made."""

STUCK: frozenset[str] = frozenset({"longer-instead", "kept", "past-the-top", "top-of-all"})
"""Reasons that say that no smaller edge and no harder exercise leads on from there."""

EASED: frozenset[str] = frozenset({"pain-today", "cleared", "sore"})
"""Reasons that say that pain stops or eases a target, warning signs apart."""


def pain_limits(athlete: Athlete, *, since: date, today: date) -> tuple[Reason, ...]:
    """Each place that hurt in those days, with the number of days; the most often first."""
    days: dict[str, set[date]] = {}
    for dated in athlete.pains:
        if since <= dated.day <= today and gravest(dated.pain) is not None:
            days.setdefault(place_of(dated), set()).add(dated.day)
    often = sorted(days, key=lambda place: -len(days[place]))
    return tuple(because("pain-felt", place=place, days=len(days[place])) for place in often)


def place_of(dated: DatedPain) -> str:
    """The place as it was told, with its side: "left ring finger"; "" where none was."""
    pain = dated.pain
    words = (pain.site or "").split()
    if pain.side in ("left", "right") and pain.side not in words:
        words.insert(0, pain.side)
    return " ".join(words)


def evening_limits(kept: Adherence) -> tuple[Reason, ...]:
    """Evenings missed, and those that fell into time off."""
    found: list[Reason] = []
    if kept.missed:
        found.append(because("evenings-missed", missed=len(kept.missed), planned=kept.planned))
    if kept.off:
        found.append(because("days-off", evenings=len(kept.off)))
    return tuple(found)


def kit_limits(moved: tuple[ExerciseChange, ...]) -> tuple[Reason, ...]:
    """Each exercise that better or better known kit would help, what costs nothing first."""
    unknown: list[Reason] = []
    coarse: list[Reason] = []
    spent: list[Reason] = []
    for one in moved:
        dark, far, last = one.find(UNKNOWN), one.find(COARSE), one.find({SPENT})
        if dark is not None:
            owned = UNKNOWN[dark.rule]
            unknown.append(because("kit-unknown", exercise=one.exercise, owned=owned))
        elif far is not None:
            loads = _loads(far, ("load_kg", "next_kg"))
            coarse.append(because("steps-too-big", exercise=one.exercise, **loads))
        elif last is not None and one.find(STUCK) is not None:
            loads = _loads(last, ("load_kg",))
            spent.append(because("nothing-heavier", exercise=one.exercise, **loads))
    return (*unknown, *coarse, *spent)


def _loads(reason: Reason, names: tuple[str, ...]) -> dict[str, Value]:
    return {name: value for name, value in reason.facts if name in names}


def level_limits(moved: tuple[ExerciseChange, ...]) -> tuple[Reason, ...]:
    """Each exercise on a plateau."""
    found: list[Reason] = []
    for one in moved:
        weeks = [_weeks(line) for line in one.lines if line.lately and line.lately.is_plateau]
        if weeks:
            found.append(because("level", exercise=one.exercise, weeks=min(weeks)))
    return tuple(found)


def _weeks(line: LineChange) -> int:
    lately = line.lately
    return round((lately.until - lately.since).days / WEEK_DAYS) if lately else 0


def easier_week_limits(athlete: Athlete, days: Iterable[date]) -> tuple[Reason, ...]:
    """Each easier week in which one of those days of training lies."""
    found = dict.fromkeys(deload for day in days if (deload := deload_on(athlete, day)))
    return tuple(because("easier-week", since=d.since, until=d.until) for d in found)
