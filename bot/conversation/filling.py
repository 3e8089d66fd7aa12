"""What a log leaves out, filled in from what was asked. Pure: nothing is said or noted here."""

from dataclasses import replace

from bot.conversation.trip import here
from bot.conversation.turn import Turn
from core.catalogue import Exercise, HoldRange, LoadedHold, LongHold, TimedHold
from core.facts import Asked, Effort, SetDone, Side
from core.history import SPLIT_SIDES
from core.kit.help import band_help_kg
from core.kit.shown import load_meant
from core.planning import Item
from core.replies.act import Log, SetSaid
from core.target import Target

_HOLDS = (LoadedHold, HoldRange, TimedHold, LongHold)


def what_was_asked(targets: tuple[Target, ...]) -> tuple[Asked, ...]:
    """What is asked of each side, to be kept with a log."""
    return tuple(Asked(t.side, t.sets, t.reps, t.hold_s, t.load_kg) for t in targets if t.sets)


def filled(item: Item, act: Log) -> tuple[SetDone, ...]:
    """The sets with reps, seconds and load filled in per side from tonight's target."""
    by_side = {t.side: t for t in item.targets}
    counts: dict[Side, int] = {
        t.side: t.sets - left for t, left in zip(item.targets, item.left, strict=True)
    }
    done: list[SetDone] = []
    for said in act.sets:
        sides = SPLIT_SIDES[said.side] if len(by_side) > 1 else (said.side,)
        if said.side == "both" and len(by_side) == 1:
            # Asked of one hand alone, so told of it.
            sides = tuple(by_side)
        mine: list[SetDone] = []
        for side in sides:
            target = by_side.get(side, item.targets[0])
            at = counts.get(target.side, 0)
            counts[target.side] = at + 1
            mine.append(_fill(item.exercise, said, target, at, side))
        if len(mine) == 2 and replace(mine[0], side="both") == replace(mine[1], side="both"):
            mine = [replace(mine[0], side="both")]
        done += mine
    return tuple(done)


def _fill(exercise: Exercise, said: SetSaid, target: Target, at: int, side: Side) -> SetDone:
    """One set of one side; ``at`` is how many came before it tonight."""
    amount = target.by_set[min(at, len(target.by_set) - 1)] if target.by_set else None
    hold_s, reps = said.hold_s, said.reps
    # How far a failed set got is known only if it was said.
    if said.effort != "fail":
        if isinstance(exercise.dose, _HOLDS):
            hold_s = hold_s if hold_s is not None else amount or target.hold_s
            reps = reps if reps is not None else target.reps
        elif reps is None:
            reps = amount or target.reps
    load_kg, band = said.load_kg, said.band
    if load_kg is None and band is None:
        load_kg, band = target.load_kg, target.band
    return SetDone(side, load_kg, band, reps, hold_s, said.effort, said.rpe, said.left)


def as_made(turn: Turn, exercise: Exercise, act: Log) -> Log:
    """Bands become their help, where it is known, and loads those that exist and read the same."""
    return replace(act, sets=tuple(_set_as_made(turn, exercise, one) for one in act.sets))


def _set_as_made(turn: Turn, exercise: Exercise, said: SetSaid) -> SetSaid:
    athlete = here(turn)
    if said.load_kg is not None:
        meant_kg = load_meant(
            athlete.kit, exercise, said.load_kg, body_kg=athlete.body_kg, unit=athlete.units
        )
        return replace(said, load_kg=meant_kg)
    help_kg = None if said.band is None else band_help_kg(athlete.kit, said.band)
    return said if help_kg is None else replace(said, load_kg=-help_kg)


def as_asked(item: Item, *, rounds: int, effort: Effort) -> tuple[SetDone, ...]:
    """The next sets of each side with a set left, exactly as asked."""
    sets: list[SetDone] = []
    for number in range(rounds):
        mine: list[SetDone] = []
        for target, left in zip(item.targets, item.left, strict=True):
            if number < left:
                plain = SetSaid(target.side, effort=effort)
                at = target.sets - left + number
                mine.append(_fill(item.exercise, plain, target, at, target.side))
        if len(mine) == 2 and replace(mine[0], side="both") == replace(mine[1], side="both"):
            mine = [replace(mine[0], side="both")]
        sets += mine
    return tuple(sets)
