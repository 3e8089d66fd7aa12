"""Targets and logged sets in words. Short lines: a phone shows about forty columns."""

from itertools import groupby

from bot.wording.number import bare_mass, mass, number, signed_mass
from core.catalogue import Exercise, SlowReps, get_exercise
from core.facts import SetDone, Side
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
    if target.pin_kg is not None:
        return mass(target.load_kg, unit)
    if target.band is not None:
        return f"{target.band} band"
    return signed_mass(target.load_kg, unit) if target.load_kg else ""


def plates_text(target: Target, unit: Unit) -> str:
    """What goes on: "10 + 10 + 1.25 on the 1.25 kg pin"; "" without plates or pin."""
    plates = " + ".join(bare_mass(kg, unit) for kg in target.plates_kg)
    if target.pin_kg is None:
        return f"{plates} on the belt" if plates else ""
    pin = f"the {mass(target.pin_kg, unit)} pin" if target.pin_kg else "the pin"
    if plates:
        return f"{plates} on {pin}"
    return f"{pin} alone" if target.pin_kg else ""


def dose_text(target: Target, unit: Unit) -> str:
    """Sets, work and load: "4 × 10 s at 22.5 kg", "3 sets of 8, 7, 7 with the green band"."""
    exercise = get_exercise(target.exercise)
    load = load_text(target, unit)
    joined = (
        f" with the {load}"
        if target.band
        else f" at {load}"
        if target.pin_kg is not None
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
        lines = [_with_hand(dose_text(first, unit), hand), *rung, plates_text(first, unit)]
        return [line for line in lines if line]
    lines = []
    for target in targets:
        lines += [f"{target.side}: {dose_text(target, unit)}", plates_text(target, unit)]
    return [line for line in [*lines, *rung] if line]


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
    if all(_alike(t, first) for t in targets):
        return f"{name} {dose_text(first, unit)}"
    loads = " / ".join(load_text(t, unit) or "0" for t in targets)
    return f"{name} {_work_text(get_exercise(first.exercise), first)} at {loads}"


def sets_text(exercise: Exercise, sets: tuple[SetDone, ...], unit: Unit) -> str:
    """Logged sets: "4 × 22 kg × 10 s ok", sides told apart where they were."""
    parts: list[str] = []
    for side, of_side in groupby(sets, key=lambda s: s.side):
        words = [_run_text(exercise, tuple(run), unit) for _, run in groupby(of_side, key=_same)]
        parts.append(f"{_side_text(exercise, side)}{', '.join(words)}")
    return "; ".join(parts)


def _same(done: SetDone) -> tuple[object, ...]:
    return (done.load_kg, done.band, done.reps, done.hold_s, done.effort, done.rpe, done.left)


def _run_text(exercise: Exercise, run: tuple[SetDone, ...], unit: Unit) -> str:
    done = run[0]
    load = ""
    if done.band is not None:
        load = f"{done.band} band"
    elif done.load_kg is not None:
        load = mass(done.load_kg, unit) if exercise.from_floor else signed_mass(done.load_kg, unit)
        load = "" if not done.load_kg else load
    work = f"{done.hold_s} s" if done.hold_s is not None else f"{done.reps}" if done.reps else ""
    on_pin = load if exercise.from_floor else ""
    text = " × ".join(p for p in (f"{len(run)}", on_pin, work) if p)
    if load and not on_pin:
        text += f" with the {load}" if done.band is not None else f" {load}"
    how = done.effort or (f"RPE {number(done.rpe)}" if done.rpe is not None else "")
    left = f"{done.left} left" if done.left is not None else ""
    return " ".join(p for p in (text, how, left) if p)


def _side_text(exercise: Exercise, side: Side) -> str:
    if side != "both":
        return f"{side} "
    return "both hands " if exercise.sides == "apart" else ""
