"""Rules of a whole evening: order, minutes, warm-up, the wall, spacing, easier weeks."""

from datetime import date, timedelta
from itertools import pairwise

from core.catalogue import get_exercise
from core.planning import Evening
from core.target import Target
from tests.simulated.life import DAY_NAMES, Life
from tests.simulated.rulebook.breach import Breach
from tests.simulated.rulebook.care import in_asked_deload
from tests.simulated.rulebook.record import Record

BLOCKS = ("fingers", "pull", "trunk", "balance", "hips")
MOST_WEEKS = 6
"""An easier week every fourth to sixth week of training, by the design."""


def evening_breaches(tonight: Evening, record: Record, life: Life) -> list[Breach]:
    """What is wrong with tonight as a whole."""
    asked = [t for i in tonight.items for t in i.targets if t.sets]
    found = _shape(tonight) + _spacing(tonight.day, asked, record, life)
    if asked and not any(t.change == "deload" for t in asked):
        found += _deload_due(tonight.day, record)
    return [Breach(rule, tonight.day, what) for rule, what in found]


def _shape(tonight: Evening) -> list[tuple[str, str]]:
    found = []
    blocks = [BLOCKS.index(i.exercise.block) for i in tonight.items]
    if blocks != sorted(blocks):
        found.append(("order", "fingers first, hips last"))
    if len(tonight.items) > 1 and tonight.seconds > 60 * tonight.minutes:
        found.append(("minutes", f"{tonight.seconds} s in {tonight.minutes} min"))
    if any(i.exercise.from_floor for i in tonight.items) and not tonight.warm_up:
        found.append(("warm-up", "loaded without one"))
    asked = [(t.exercise, t.side, t.edge_mm) for i in tonight.items for t in i.targets if t.sets]
    twice = {line for line in asked if asked.count(line) > 1}
    found += [("twice", f"asked twice in one evening: {line}") for line in sorted(twice)]
    return found


def _spacing(day: date, asked: list[Target], record: Record, life: Life) -> list[tuple[str, str]]:
    found = []
    blocks = {get_exercise(t.exercise).block for t in asked if t.change != "deload"}
    if day in record.walls and blocks & {"fingers", "pull"}:
        found.append(("wall-replaces", "fingers or pull on a day at the wall"))
    if "fingers" not in blocks:
        return found
    # A day begun is a day: evenings of neighbouring days are 24 h apart.
    days = [
        s.day for k, line in record.lines.items() for s in line if _hard_fingers(k[0], s.target)
    ]
    if any(timedelta(0) < day - d < timedelta(days=2) for d in days):
        found.append(("fingers-48h", "hard finger evenings on neighbouring days"))
    for when in (day, day + timedelta(days=1)):
        if DAY_NAMES[when.weekday()] in life.wall_days:
            found.append(("fingers-before-wall", f"the wall is planned for {when}"))
    return found


def _hard_fingers(slug: str, target: Target) -> bool:
    return get_exercise(slug).block == "fingers" and target.change != "deload"


def _deload_due(day: date, record: Record) -> list[tuple[str, str]]:
    """No more than six weeks of training without an easier one or seven days off."""
    since = max(
        (
            *(s.day for line in record.lines.values() for s in line if s.eased),
            *(b for a, b in _gaps(record, day)),
            date.min,
        )
    )
    weeks = {d.isocalendar()[:2] for d in record.trained if since < d < day}
    weeks.add(day.isocalendar()[:2])
    if len(weeks) > MOST_WEEKS:
        return [("deload-due", f"{len(weeks)} weeks of training without an easier one")]
    if in_asked_deload(record, day):
        return [("deload", "an easier week was asked for")]
    return []


def _gaps(record: Record, day: date) -> list[tuple[date, date]]:
    days = sorted({*record.trained, day})
    return [(a, b) for a, b in pairwise(days) if (b - a).days > 7]
