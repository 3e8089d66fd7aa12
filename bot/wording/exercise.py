"""Targets and logged sets in words. Short lines: a phone shows about forty columns."""

import re
from dataclasses import replace
from itertools import groupby

from bot.wording.kit import band_name
from bot.wording.number import mass, number, plate_sum, signed_mass
from core.catalogue import Exercise, SlowReps, get_exercise
from core.facts import SetDone
from core.quantity import Unit
from core.target import Target


def title(exercise: Exercise, edge_mm: int | None = None) -> str:
    """The exercise's name as a heading: "Half crimp, 20 mm"."""
    name = exercise.name[0].upper() + exercise.name[1:]
    return f"{name}, {edge_mm} mm" if edge_mm is not None else name


def load_text(target: Target, unit: Unit) -> str:
    """The load alone: "22.5 kg", "+5 kg", "green band", "" where no load is meant."""
    if target.load_kg is None:
        return ""
    if target.pin_kg is not None or get_exercise(target.exercise).from_floor:
        return mass(target.load_kg, unit)
    if target.band is not None:
        return band_name(target.band)
    return signed_mass(target.load_kg, unit) if target.load_kg else ""


def plates_text(target: Target, unit: Unit) -> str:
    """What goes on: "10 + 10 + 1.25 on the 1.25 kg pin"; "" without plates or pin."""
    plates = plate_sum(target.plates_kg, unit)
    if target.pin_kg is None:
        return _on_body(target, plates, unit)
    pin = f"the {mass(target.pin_kg, unit)} pin" if target.pin_kg else "the pin"
    if plates:
        return f"{plates} on {pin}"
    return f"{pin} alone" if target.pin_kg else ""


def _on_body(target: Target, plates: str, unit: Unit) -> str:
    """What hangs from the belt, or for help at the other end of the pulley's cord."""
    if target.load_kg is not None and target.load_kg < 0:
        return f"{plates} on the pulley" if plates else ""
    belt = "the belt" if target.belt_kg is None else f"the {mass(target.belt_kg, unit)} belt"
    if plates:
        return f"{plates} on {belt}"
    return f"{belt} alone" if target.belt_kg is not None else ""


def dose_text(target: Target, unit: Unit) -> str:
    """Sets, work and load: "4 × 10 s at 22.5 kg", "3 sets of 8, 7, 7 with the green band"."""
    exercise = get_exercise(target.exercise)
    load = load_text(target, unit)
    joined = (
        f" with the {load}"
        if target.band
        else f" at {load}"
        if target.pin_kg is not None or exercise.from_floor
        else f" {load}"
    )
    return _work_text(exercise, target) + (joined if load else "")


def _work_text(exercise: Exercise, target: Target) -> str:
    per = " a leg" if exercise.block == "hips" and exercise.sides == "each" else ""
    per = per or (" a side" if exercise.sides == "each" else "")
    unit = " s" if target.hold_s is not None else ""
    if len(set(target.by_set)) > 1:
        return f"{target.sets} sets: {', '.join(map(str, target.by_set))}{unit}{per}"
    if target.hold_s is not None and target.reps is not None:
        return f"{target.sets} × {target.reps} lifts of {target.hold_s} s{per}"
    amount = target.hold_s if target.hold_s is not None else target.reps
    slow = " slow" if isinstance(exercise.dose, SlowReps) else ""
    return f"{target.sets} × {amount}{unit}{slow}{per}"


def target_lines(targets: tuple[Target, ...], unit: Unit) -> list[str]:
    """The targets of one exercise, a line each; hands that agree share one."""
    first = targets[0]
    rung = [first.variation] if first.variation else []
    if all(_alike(t, first) for t in targets):
        hand = " a hand" if len(targets) > 1 else ""
        side = f"{first.side}: " if is_one_hand(targets) else ""
        dose = side + _with_hand(dose_text(first, unit), hand)
        return [line for line in (dose, *rung, plates_text(first, unit)) if line]
    lines = []
    for target in targets:
        lines += [f"{target.side}: {dose_text(target, unit)}", plates_text(target, unit)]
    return [line for line in [*lines, *rung] if line]


def set_lines(targets: tuple[Target, ...], left: tuple[int, ...], unit: Unit) -> list[str]:
    """The next set of each side with sets left: "10 s a hand at 21 kg"."""
    once = tuple(
        replace(t, sets=1, by_set=t.by_set[t.sets - n : t.sets - n + 1])
        for t, n in zip(targets, left, strict=True)
        if n
    )
    unit_of = "" if once and once[0].hold_s is not None else " reps"
    return [_ONE_SET.sub(rf"\1\2{unit_of}", line, count=1) for line in target_lines(once, unit)]


_ONE_SET = re.compile(r"^((?:left|right): |)1 × (\d+(?: slow)?)")


def is_one_hand(targets: tuple[Target, ...]) -> bool:
    """True for the target of one hand alone."""
    return len(targets) == 1 and targets[0].side != "both"


def _alike(one: Target, other: Target) -> bool:
    return (one.sets, one.by_set, one.reps, one.hold_s, one.load_kg, one.plates_kg, one.band) == (
        other.sets,
        other.by_set,
        other.reps,
        other.hold_s,
        other.load_kg,
        other.plates_kg,
        other.band,
    )


def _with_hand(text: str, hand: str) -> str:
    """Puts "a hand" behind the work: "4 × 10 s a hand at 22.5 kg"."""
    work, at, load = text.partition(" at ")
    return f"{work}{hand}{at}{load}"


def brief(targets: tuple[Target, ...], unit: Unit) -> str:
    """One exercise in one line: "half crimp 4 × 10 s at 22.5 kg"."""
    first = targets[0]
    name = get_exercise(first.exercise).name
    if is_one_hand(targets):
        return f"{name} {first.side} {dose_text(first, unit)}"
    if all(_alike(t, first) for t in targets):
        return f"{name} {dose_text(first, unit)}"
    works = [_work_text(get_exercise(t.exercise), t) for t in targets]
    if len(set(works)) > 1:
        return f"{name} {', '.join(f'{t.side} {dose_text(t, unit)}' for t in targets)}"
    loads = " / ".join(load_text(t, unit) or "0" for t in targets)
    return f"{name} {works[0]} at {loads}"


def sets_text(exercise: Exercise, sets: tuple[SetDone, ...], unit: Unit) -> str:
    """Logged sets: "4 × 22 kg × 10 s a hand ok", "8, 7, 6 hard"; sides apart where they were."""
    parts: list[str] = []
    for side, of_side in groupby(sets, key=lambda s: s.side):
        hand = " a hand" if side == "both" and exercise.sides == "apart" else ""
        lead = "" if side == "both" else f"{side} "
        runs = [tuple(run) for _, run in groupby(of_side, key=_how)]
        parts.append(lead + ", ".join(_run_text(exercise, run, hand, unit) for run in runs))
    return "; ".join(parts)


def work_text(sets: tuple[SetDone, ...]) -> str:
    """The work alone, without loads: "3 × 15 s", "8, 7, 6"; sets without a number counted."""
    return _counted([_done_work(done) for done in sets])


def _how(done: SetDone) -> tuple[object, ...]:
    return (done.band, done.effort, done.rpe, done.left)


def _run_text(exercise: Exercise, run: tuple[SetDone, ...], hand: str, unit: Unit) -> str:
    """Sets that went alike: equal ones counted, different ones listed."""
    first = run[0]
    loads = [done_load_text(exercise, s, unit) for s in run]
    works = [_done_work(s) for s in run]
    if exercise.from_floor:
        body = _counted(
            [" × ".join(w for w in pair if w) for pair in zip(loads, works, strict=True)]
        )
    else:
        body = _counted(works)
        if first.band is None and len(set(loads)) > 1:
            body = _counted([f"{w} {kg}".strip() for w, kg in zip(works, loads, strict=True)])
        elif loads[0]:
            body += f" with the {loads[0]}" if first.band is not None else f" {loads[0]}"
    how = first.effort or (f"RPE {number(first.rpe)}" if first.rpe is not None else "")
    left = f"{first.left} left" if first.left is not None else ""
    return " ".join(p for p in (body + hand, how, left) if p)


def _counted(words: list[str]) -> str:
    """Equal words counted ("4 × 10 s"), different ones listed ("8, 7, 6")."""
    if len(set(words)) == 1:
        return f"{len(words)} × {words[0]}" if words[0] else str(len(words))
    return ", ".join(word or "?" for word in words)


def done_load_text(exercise: Exercise, done: SetDone, unit: Unit) -> str:
    """The load of a logged set: "22 kg", "+5 kg", "green band"; "" without one."""
    if done.band is not None:
        return band_name(done.band)
    if not done.load_kg:
        return ""
    return mass(done.load_kg, unit) if exercise.from_floor else signed_mass(done.load_kg, unit)


def _done_work(done: SetDone) -> str:
    if done.hold_s is not None and (done.reps is None or done.reps == 1):
        return f"{done.hold_s} s"
    if done.hold_s is not None:
        return f"{done.reps} lifts of {done.hold_s} s"
    return str(done.reps) if done.reps is not None else ""
