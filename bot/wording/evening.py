"""Words for an evening: what is on, what was cut, how to warm up."""

from decimal import Decimal

from bot.wording.exercise import brief, target_lines, title
from bot.wording.number import bare_mass, count, duration, listed
from bot.wording.reason import reason_text
from bot.wording.week import tonight_lines
from core.catalogue import Block, Exercise, LongHold, SlowReps
from core.planning import Evening, Item
from core.quantity import Unit
from core.target import Change, Reason, Target

NO_KIT = "I cannot load fingers yet: tell me your plates, for example: plates 2x10 2x5 2x2.5 2x1.25"


BLOCK_NAMES: dict[Block, str] = {
    "fingers": "all finger work",
    "pull": "pulling",
    "trunk": "trunk",
    "hips": "hips",
}
"""What a block is called where nothing of it found room."""

NOTABLE: frozenset[Change] = frozenset(
    {"first", "stopped", "return", "deload", "harder-variation", "easier-variation"}
)
"""Changes whose reason is said without being asked."""


def evening_lines(evening: Evening, unit: Unit) -> list[str]:
    """Tonight in brief: a line per exercise, then what was left out and why."""
    lines = [_heading(evening)]
    if evening.is_under_way:
        lines += [f"· first {e.name} {_warm_up_dose(e)}" for e in evening.warm_up]
    lines += [f"{_mark(item)} {brief(item.targets, unit)}" for item in evening.items]
    lines += _in_turn(evening)
    if evening.plan is not None:
        lines += tonight_lines(evening.plan)
    lines += _care_lines(evening, unit)
    stops: dict[str, list[str]] = {}
    for item in evening.stopped:
        stops.setdefault(reason_text(item.targets[0].reasons[0], unit, item.targets[0]), []).append(
            item.exercise.name
        )
    lines += [f"Not tonight: {listed(names)}: {why}." for why, names in stops.items()]
    lines += _short_lines(evening)
    known = (*evening.items, *evening.stopped)
    plan = evening.plan
    may_load = plan is None or ("fingers" in plan.blocks and plan.kind != "away")
    if may_load and not any(e.from_floor for e in (*evening.cut, *(i.exercise for i in known))):
        lines.append(NO_KIT)
    return lines


CARE = frozenset(
    {"sore", "cleared", "after-illness", "deload", "deload-planned", "deload-downs"}
    | {"time-off", "time-off-sets", "find-level-again"}
)
"""Rules that make tonight gentler than the record alone would."""

_OF_ALL = 3
"""From so many exercises on a reason is one of the evening, and they are not named."""


def _care_lines(evening: Evening, unit: Unit) -> list[str]:
    """Why exercises are gentler tonight, each reason once."""
    eased: dict[str, list[str]] = {}
    for item in (i for i in evening.items if i.is_open):
        for target in item.targets:
            why = [reason_text(r, unit, target) for r in target.reasons if r.rule in CARE]
            if why:
                names = eased.setdefault("; ".join(why), [])
                if item.exercise.name not in names:
                    names.append(item.exercise.name)
    return [
        f"{text[0].upper()}{text[1:]}." if len(names) >= _OF_ALL else f"{_named(names)}: {text}."
        for text, names in eased.items()
    ]


def _named(names: list[str]) -> str:
    text = listed(names)
    return f"{text[0].upper()}{text[1:]}"


def _in_turn(evening: Evening) -> list[str]:
    """Which exercises share their rests, as far as both are still to do."""
    names = {i.exercise.slug: i.exercise.name for i in evening.items if i.is_open}
    pairs = [
        f"{names[one]} with {names[other]}"
        for one, other in evening.alternating
        if one in names and other in names
    ]
    return [f"In turn, set by set, sharing the rests: {'; '.join(pairs)}."] if pairs else []


def _heading(evening: Evening) -> str:
    if not evening.items and evening.cut:
        return f"{evening.minutes} min is too short for a warm-up and useful sets."
    minutes = round(evening.seconds / 60)
    if evening.is_under_way:
        return f"About {minutes} more min:"
    return f"Warm-up, then about {minutes} min in all:"


def _short_lines(evening: Evening) -> list[str]:
    """What the minutes cost: sets, and whole exercises."""
    fewer = [
        f"{i.exercise.name} {i.sets} of {i.whole}"
        for i in evening.items
        if i.sets < i.whole and not i.skipped
    ]
    lines = [f"Fewer sets: {listed(fewer)}."] if fewer else []
    # Balance work is for time to spare: that it found no room needs no word.
    cut = [e for e in evening.cut if e.block != "balance"]
    kept = {i.exercise.block for i in evening.items}
    names: list[str] = []
    for exercise in cut:
        block = exercise.block
        whole = block not in kept and sum(e.block == block for e in cut) > 1
        names.append(BLOCK_NAMES[block] if whole else exercise.name)
    if names and evening.items:
        lines.append(
            f"Left out to fit {evening.minutes} min: {listed(list(dict.fromkeys(names)))}."
        )
    return lines


def _mark(item: Item) -> str:
    if item.skipped:
        return "skipped:"
    if not item.is_open:
        return "done:"
    done = item.sets - max(item.left)
    return f"{done} of {item.sets} done:" if done else "·"


def warm_up_lines(evening: Evening, ramp_kg: tuple[Decimal, ...], unit: Unit) -> list[str]:
    """The warm-up, with the ramp lifts that the plates make."""
    lines = ["Warm-up first:"]
    lines += [f"· {e.name} {_warm_up_dose(e)}" for e in evening.warm_up]
    if ramp_kg:
        loads = ", ".join(bare_mass(kg, unit) for kg in ramp_kg)
        first = next(i for i in evening.items if i.exercise.from_floor and not i.skipped)
        lines.append(f"· {first.exercise.name} ramp: {loads} {unit}, 5 s a hand each")
    return lines


def _warm_up_dose(exercise: Exercise) -> str:
    match exercise.dose:
        case LongHold(least_s=least_s):
            return duration(least_s)
        case SlowReps(reps=reps):
            return f"× {reps}" + (" a hand" if exercise.sides == "each" else "")
        case _:
            return ""


def partner_of(evening: Evening, slug: str) -> Item | None:
    """The exercise that takes turns with that one and is still to do, or None."""
    for pair in evening.alternating:
        if slug in pair:
            item = evening.find(pair[1 - pair.index(slug)])
            return item if item is not None and item.is_open else None
    return None


def exercise_lines(item: Item, unit: Unit, *, partner: Item | None = None) -> list[str]:
    """One exercise to do now: heading, targets, rest, cue and safety; with whom it takes turns."""
    first = item.targets[0]
    return [
        title(item.exercise, first.edge_mm),
        *target_lines(item.targets, unit),
        f"rest {duration(first.rest_s)}",
        f"in turn with {partner.exercise.name}, set by set" if partner is not None else "",
        *notable_lines(item.targets, unit),
        item.exercise.cue,
        item.exercise.safety,
    ]


_ONWARD: Change = "harder-variation"
"""Of this change every reason is said: what ran out, where it goes on, and how."""


def notable_lines(targets: tuple[Target, ...], unit: Unit) -> list[str]:
    """The first reason of a target that must not be met without it: starts, stops, returns.

    That the kit makes a much lighter load than the one meant is said too.
    """
    texts = [
        "; ".join(
            reason_text(reason, unit, t)
            for at, reason in enumerate(t.reasons)
            if at == 0 or t.change == _ONWARD or _is_far_off(reason)
        )
        for t in targets
        if t.change in NOTABLE
    ]
    return [f"{text[0].upper()}{text[1:]}." for text in dict.fromkeys(texts)]


def _is_far_off(reason: Reason) -> bool:
    """True where the kit makes less than nine tenths of the load that was meant."""
    wanted_kg, load_kg = reason.get("wanted_kg"), reason.get("load_kg")
    if not isinstance(wanted_kg, Decimal) or not isinstance(load_kg, Decimal):
        return False
    return load_kg < wanted_kg * Decimal("0.9")


def finished_lines(evening: Evening) -> list[str]:
    """The end of an evening in one breath."""
    done = [i for i in evening.items if i.is_begun]
    sets = sum(t.sets - left for i in done for t, left in zip(i.targets, i.left, strict=True))
    return [
        f"That was the evening: {count(len(done), 'exercise')}, {count(sets, 'set')}.",
        "Type undo if a log was wrong.",
    ]
