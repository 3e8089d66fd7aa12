"""The warm-up of a programme: its parts, and the ramp lifts. What must go before what: house rules.

A programme may order the parts and change their doses, and may add to the ramp; it may not
leave out a part that one of its exercises needs.
"""

from decimal import Decimal
from itertools import pairwise

from core.catalogue import Exercise, Tissue, catalogue, get_exercise
from core.programme.dose import dosed
from core.programme.model import Programme, ProgrammeBlock
from core.programme.problem import nearest, one_of
from core.programme.table import Bounds, Table

FIRST = "pulse-raiser"
"""What goes before everything."""

RAMP_PERCENT = Bounds(10, 95)
MOST_RAMP = 6

_PERCENT = Decimal(100)
_FINGERS: Tissue = "finger flexors"


def readies(part: Exercise, exercise: Exercise) -> bool:
    """Whether that part of the warm-up must have gone before the exercise."""
    if "bar" in part.needs:
        return "bar" in exercise.needs
    if part.tissue == _FINGERS:
        return exercise.block == "fingers" or "bar" in exercise.needs
    return True


def warm_up_of(
    root: Table, blocks: tuple[ProgrammeBlock, ...], *, usual: Programme | None
) -> tuple[tuple[Exercise, ...], tuple[Decimal, ...]]:
    """Parts and ramp of the warm-up, mistakes noted."""
    table = root.table("warm_up")
    if table is None:
        if usual is None:
            root.fault("missing", "warm_up", found="", allowed="a table [warm_up]")
        return (usual.warm_up, usual.ramp) if usual is not None else ((), ())
    parts, ramp = (usual.warm_up, usual.ramp) if usual is not None else ((), ())
    if table.has("exercises") or usual is None:
        parts = _parts(table, blocks)
    if table.has("ramp_percent") or usual is None:
        ramp = _ramp(table)
    table.finish()
    return parts, ramp


def _parts(table: Table, blocks: tuple[ProgrammeBlock, ...]) -> tuple[Exercise, ...]:
    whole = tuple(e for e in catalogue().exercises if e.block == "warm-up")
    parts: dict[str, Exercise] = {}
    is_read = True
    for one in table.tables("exercises", allowed='a list of tables, as { name = "pulse-raiser" }'):
        slug = one.text("name", most=60)
        if slug is None:
            is_read = False
        elif not any(e.slug == slug for e in whole):
            near = nearest(slug, block="warm-up") or tuple(e.slug for e in whole)
            one.fault("unknown-name", "name", found=f'"{slug}"', allowed=one_of(near))
            is_read = False
        elif slug in parts:
            one.fault("twice", "name", found=f'"{slug}" again', allowed="each part once")
        else:
            one.called(*table.name, slug)
            parts[slug] = dosed(get_exercise(slug), one)
            one.finish()
    if is_read:
        _check(table, tuple(parts), blocks)
    return tuple(parts.values())


def _check(table: Table, slugs: tuple[str, ...], blocks: tuple[ProgrammeBlock, ...]) -> None:
    """Note a part that is missing, and a start without the pulse raised."""
    if slugs and slugs[0] != FIRST:
        found = f'"{slugs[0]}" first'
        table.fault("warm-up", "exercises", found=found, allowed=f'"{FIRST}" before everything')
    listed = [one.exercise for block in blocks for one in block.listed]
    for part in catalogue().exercises:
        if part.block != "warm-up" or part.slug in slugs:
            continue
        needs = next((e.slug for e in listed if readies(part, e)), None)
        if needs is not None:
            allowed = f'"{part.slug}" among them: "{needs}" needs it'
            table.fault("warm-up", "exercises", found=f"no {part.slug}", allowed=allowed)


def _ramp(table: Table) -> tuple[Decimal, ...]:
    what = f"at most {MOST_RAMP} rising parts of the load"
    found = table.numbers("ramp_percent", RAMP_PERCENT, what=what)
    if found is None:
        return ()
    rising = all(one < other for one, other in pairwise(found))
    if len(found) > MOST_RAMP or not rising:
        text = (
            f"[{', '.join(map(str, found[:MOST_RAMP]))}{', …' if len(found) > MOST_RAMP else ''}]"
        )
        allowed = f"{what}, whole numbers {RAMP_PERCENT.numbers}"
        table.fault("out-of-bounds", "ramp_percent", found=text, allowed=allowed)
    return tuple(percent / _PERCENT for percent in found)
