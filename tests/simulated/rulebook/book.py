"""The rule book: every target of a season against section by section of the written rules.

It is independent of the engine: written from the rules' text, with sums, curves and subset
sums of its own. Where the text is silent it has no opinion.
"""

from datetime import date
from decimal import Decimal

from core.catalogue import Exercise, LoadedHold, get_exercise
from core.target import Target
from tests.simulated.kits import Kit, body_loads_kg, floor_loads_kg
from tests.simulated.rulebook.breach import Breach, above, at_most, told
from tests.simulated.rulebook.care import Ceiling, ceilings, month_cap_kg, since_search
from tests.simulated.rulebook.progress import plain
from tests.simulated.rulebook.record import Key, Record, Sitting, key_of
from tests.simulated.rulebook.room import room_breaches
from tests.simulated.rulebook.search import most_after_ramp_kg
from tests.simulated.rulebook.tonight import evening_breaches
from tests.simulated.rulebook.wanted import Wanted
from tests.simulated.season import Season

TO_THE_DAY = "month-cap-to-the-day"
"""Counted and shown, but no promise: our reading of the month is the one kept."""


def read(season: Season) -> tuple[list[Breach], Record]:
    """Every broken rule of a season in order, and the record at its end."""
    record = Record()
    found: list[Breach] = []
    taken = 0
    for shown in season.shown:
        for entry in season.entries[taken : shown.known]:
            record.take(entry)
        taken = shown.known
        tonight = shown.evening
        found += evening_breaches(tonight, record, season.life)
        for item in (*tonight.items, *tonight.stopped):
            for target in item.targets:
                found += target_breaches(target, record, season.kit, tonight.day)
                lowered = bool(ceilings(target, record, tonight.day))
                record.show(target, lowered=lowered)
    for entry in season.entries[taken:]:
        record.take(entry)
    return found, record


def target_breaches(target: Target, record: Record, kit: Kit, day: date) -> list[Breach]:
    """Every rule that one target breaks."""
    exercise = get_exercise(target.exercise)
    found = room_breaches(target, record, kit, day)
    if target.sets > exercise.dose.sets:
        found.append(Breach("dose", day, f"{told(target)}: more sets than the dose"))
    loads = _loads_kg(exercise, kit, record)
    body = Decimal(0) if exercise.from_floor else (record.body_kg or Decimal(0))
    over = ceilings(target, record, day)
    line = record.before(key_of(target), day)
    level = [s for s in line if not s.eased] or line
    for ceiling in over:
        found += _over(target, ceiling, level, loads=loads, body_kg=body, day=day)
    if not target.sets:
        return found if over else [*found, *_stopped_for_nothing(target, record, loads, day)]
    cap = month_cap_kg(key_of(target), record, day)
    if cap is not None and target.load_kg is not None and target.load_kg > cap:
        lightest = min(loads, default=target.load_kg)
        if target.load_kg > lightest:
            found.append(Breach("month-cap", day, f"{told(target)}: at most {cap} kg"))
    found += _to_the_day(target, record, day)
    if over:
        return found
    if not level:
        return [*found, *_new_line(target, record, loads, day)]
    return [*found, *_not_plain(target, level, record, loads=loads, body=body, day=day)]


def _to_the_day(target: Target, record: Record, day: date) -> list[Breach]:
    """The month's limit read to the letter: reported, since a light day makes it forget."""
    cap = month_cap_kg(key_of(target), record, day, to_the_day=True)
    if cap is None or target.load_kg is None or target.load_kg <= cap:
        return []
    return [Breach(TO_THE_DAY, day, f"{told(target)}: {cap} kg to the day")]


def _loads_kg(exercise: Exercise, kit: Kit, record: Record) -> tuple[Decimal, ...]:
    """Every load the exercise can have, within the ratings."""
    if exercise.from_floor:
        return floor_loads_kg(kit)
    loads = body_loads_kg(kit)
    if kit.bar_limit_kg is not None and record.body_kg is not None:
        most = Decimal(kit.bar_limit_kg) - record.body_kg
        loads = tuple(kg for kg in loads if kg <= most)
    return loads


def total_of(target: Target) -> int | None:
    """Seconds or reps over all sets."""
    each = target.hold_s if target.hold_s is not None else target.reps
    return sum(target.by_set) if target.by_set else None if each is None else each * target.sets


def _over(
    target: Target,
    ceiling: Ceiling,
    level: list[Sitting],
    *,
    loads: tuple[Decimal, ...],
    body_kg: Decimal,
    day: date,
) -> list[Breach]:
    def breach(what: str) -> list[Breach]:
        return [Breach(ceiling.rule, day, f"{told(target)}: {what}")]

    if ceiling.stop:
        return breach("it should be stopped") if target.sets else []
    if ceiling.sets is not None and target.sets > ceiling.sets:
        return breach(f"at most {ceiling.sets} sets")
    if not target.sets or not level:
        return []
    last = level[-1]
    if ceiling.keep is not None and ceiling.of_kg is not None and target.load_kg is not None:
        most = at_most(loads, (ceiling.of_kg + body_kg) * ceiling.keep - body_kg)
        lightest = min(loads)
        if target.load_kg > (lightest if most is None else most):
            return breach(f"at most {most} kg, {ceiling.keep} of {ceiling.of_kg}")
    loaded = target.load_kg is not None and last.asked.load_kg is not None
    if ceiling.no_rise and loaded and (target.load_kg or 0) > last.held_kg:
        return breach(f"no rise over {last.held_kg} kg")
    if ceiling.of_s is not None and ceiling.keep is not None and target.hold_s is not None:
        most_s = max(1, -(-ceiling.of_s * ceiling.keep // 1))
        if target.variation == last.target.variation and target.hold_s > most_s:
            return breach(f"at most {most_s} s")
    return []


def _stopped_for_nothing(
    target: Target, record: Record, loads: tuple[Decimal, ...], day: date
) -> list[Breach]:
    """Without pain or age a target stops only where no load may be used."""
    last = record.before(key_of(target), day)
    if not loads or (last and last[-1].held_kg < min(loads)):
        return []
    return [Breach("stopped", day, f"{told(target)}: nothing calls for that")]


def _new_line(
    target: Target, record: Record, loads: tuple[Decimal, ...], day: date
) -> list[Breach]:
    """A harder line starts from about half of the load of the one before, for a reason."""
    if target.change != "harder-variation" or target.load_kg is None:
        return []
    former = _former(key_of(target), record)
    if former is None:
        return []
    load = former.held_kg
    found = []
    half = at_most(loads, load * Decimal("0.5"))
    if get_exercise(target.exercise).from_floor and target.load_kg > (half or min(loads)):
        found.append(Breach("half-load", day, f"{told(target)}: more than half of {load}"))
    step = above(loads, load)
    if step is not None and step <= load * Decimal("1.05"):
        found.append(Breach("plates-left", day, f"{told(target)}: {step} kg was still there"))
    return found


def _former(key: Key, record: Record) -> Sitting | None:
    """The last sitting of that hand on another edge, or of the exercise that leads to this one.

    Half of a load is half of the level: an easier week in between does not lower it.
    """
    slug, side, _ = key
    leads = {slug, *(s for s, _, _ in record.lines if slug in get_exercise(s).harder)}
    lines = [
        sitting
        for (s, other, edge), line in record.lines.items()
        if s in leads and (s, other, edge) != key and other in (side, "both")
        for sitting in line
        if not sitting.eased
    ]
    return max(lines, key=lambda s: s.day, default=None)


def _not_plain(
    target: Target,
    level: list[Sitting],
    record: Record,
    *,
    loads: tuple[Decimal, ...],
    body: Decimal,
    day: date,
) -> list[Breach]:
    """Whether progress called for something else, where nothing stands above it."""
    dose = get_exercise(target.exercise).dose
    cap = month_cap_kg(key_of(target), record, day)
    if target.sets < dose.sets and not _is_short_of_time(target):
        return [Breach("dose", day, f"{told(target)}: fewer than {dose.sets} sets for no reason")]
    key = key_of(target)
    strict = month_cap_kg(key, record, day, early=True)
    sessions = len(since_search(key, record, day))
    wanted: list[Wanted] = []
    for most in dict.fromkeys((cap, strict)):
        allowed = plain(target, level, loads_kg=loads, body_kg=body, cap_kg=most, sessions=sessions)
        if allowed is None:
            return _after_ramp(target, level, day)
        wanted += allowed
    if any(_is(target, w) for w in wanted):
        return []
    held = level[-1].held_kg if level[-1].asked.load_kg is not None else None
    if (
        cap is not None
        and held is not None
        and held > cap
        and target.load_kg == at_most(loads, cap)
    ):
        return []
    said = "; ".join(f"{w.rule} {w.load_kg} kg {w.total}" for w in wanted) or "nothing like it"
    rule = wanted[0].rule if wanted else "ladder"
    return [Breach(rule, day, f"{told(target)}: the text says {said}; before: {_done(level)}")]


def _after_ramp(target: Target, level: list[Sitting], day: date) -> list[Breach]:
    """Too much after sets of which the text only says that they find the level."""
    dose, loads = get_exercise(target.exercise).dose, {s.load_kg for s in level[-1].sets}
    if not isinstance(dose, LoadedHold) or dose.lifts > 1 or len(loads) < 2:
        return []
    if target.load_kg is None or target.hold_s is None:
        return []
    most = most_after_ramp_kg(level, target.hold_s)
    if target.load_kg <= most:
        return []
    return [Breach("after-ramp", day, f"{told(target)}: at most {most:.2f} kg; {_done(level)}")]


def _is_short_of_time(target: Target) -> bool:
    return any(r.rule == "short-of-time" for r in target.reasons)


def _is(target: Target, wanted: Wanted) -> bool:
    if target.load_kg != wanted.load_kg:
        return False
    total, sets = total_of(target), get_exercise(target.exercise).dose.sets
    if wanted.total is None or total is None:
        return wanted.total is None
    # Fewer sets for lack of time: the first ones of the full dose.
    each, more = divmod(wanted.total, sets)
    return total == each * target.sets + min(more, target.sets)


def _done(level: list[Sitting]) -> str:
    """The last two sittings in short."""
    lines = []
    for s in level[-2:]:
        said = " ".join(f"{d.hold_s or d.reps}{d.effort or d.rpe or d.left or '-'}" for d in s.sets)
        asked = f"{s.asked.sets}x{s.asked.hold_s or s.asked.reps} @ {s.asked.load_kg}"
        lines.append(f"{s.day} asked {asked}: {said}")
    return " | ".join(lines)
