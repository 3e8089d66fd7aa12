"""The blocks of a programme and their exercises."""

from typing import get_args

from core.catalogue import Block, Exercise, catalogue
from core.programme.dose import dosed
from core.programme.model import Listed, Programme, ProgrammeBlock
from core.programme.problem import nearest, one_of
from core.programme.table import Bounds, Table

NAMES: tuple[Block, ...] = tuple(b for b in get_args(Block) if b != "warm-up")
"""Blocks that a programme may have; the warm-up has a table of its own."""

MOST = Bounds(1, 6)
EVERY_EVENING = Bounds(1, 6)
WORTH = Bounds(10, 10_000)
LEAST_SETS = Bounds(1, 10)
PRIORITY = Bounds(1, 99)


def blocks_of(root: Table, *, usual: Programme | None) -> tuple[ProgrammeBlock, ...]:
    """The blocks in their order, mistakes noted."""
    taken: set[str] = set()
    blocks: list[ProgrammeBlock] = []
    tables = root.tables("block", allowed="tables [[block]], each with a name and exercises")
    named = [(table, _name(table, taken)) for table in tables]
    _check_order(named)
    slugs: set[str] = set()
    for table, name in named:
        listed = _exercises(table, name, usual=usual, slugs=slugs)
        block = _block(table, name, listed, usual=usual)
        if block is not None:
            blocks.append(block)
    return tuple(blocks)


def _block(
    table: Table, name: Block | None, listed: tuple[Listed, ...], *, usual: Programme | None
) -> ProgrammeBlock | None:
    """The block with its numbers; None after a mistake."""
    # Where it is not known which block is meant, any other's numbers will do to read on.
    before = None if usual is None else usual.block(name or usual.blocks[0].name)
    most = table.whole("most", MOST, usual=before.most if before else None)
    worth = table.whole("worth", WORTH, usual=before.worth if before else None)
    least = table.whole("least_sets", LEAST_SETS, usual=before.least_sets if before else None)
    turns = before.every_evening if before else None
    if table.has("every_evening"):
        turns = table.whole("every_evening", EVERY_EVENING)
    table.finish()
    if name is None or most is None or worth is None or least is None:
        return None
    return ProgrammeBlock(name, most, turns, worth, least, listed)


def _name(table: Table, taken: set[str]) -> Block | None:
    """Which block a table is for; None where that cannot be told or was told before."""
    said = table.text("name", most=60)
    name = next((b for b in NAMES if b == said), None)
    if said is not None and name is None:
        table.fault("unknown-name", "name", found=f'"{said}"', allowed=one_of(NAMES))
    if name is None:
        return None
    table.called(name)
    if name in taken:
        table.fault("twice", "name", found=f'"{name}" again', allowed="each block once")
        return None
    taken.add(name)
    return name


def _check_order(named: list[tuple[Table, Block | None]]) -> None:
    """Note fingers that are not first, and hips that are not last."""
    for place, (table, name) in enumerate(named):
        if name == "fingers" and place > 0:
            allowed = "fingers first, while they are fresh"
            table.fault("wrong-order", "name", found=f"block {place + 1}", allowed=allowed)
        if name == "hips" and place < len(named) - 1:
            allowed = "hips last, stretched muscles are weaker for a while"
            table.fault("wrong-order", "name", found=f"block {place + 1}", allowed=allowed)


def _exercises(
    table: Table, block: Block | None, *, usual: Programme | None, slugs: set[str]
) -> tuple[Listed, ...]:
    listed: list[Listed] = []
    for one in table.tables("exercises", allowed='a list of tables, as { name = "half-crimp" }'):
        exercise = _exercise(one, block)
        if exercise is None:
            continue
        one.called(*table.name, exercise.slug)
        if exercise.slug in slugs:
            found = f'"{exercise.slug}" again'
            one.fault("twice", "name", found=found, allowed="each exercise once")
        slugs.add(exercise.slug)
        priority = one.whole("priority", PRIORITY, usual=_priority(exercise, usual))
        is_optional = one.flag("optional", usual=False)
        exercise = dosed(exercise, one)
        one.finish()
        if priority is not None:
            listed.append(Listed(exercise, priority, is_optional))
    return tuple(listed)


def _priority(exercise: Exercise, usual: Programme | None) -> int | None:
    blocks = () if usual is None else usual.blocks
    listed = (one for block in blocks for one in block.listed)
    return next((one.priority for one in listed if one.exercise.slug == exercise.slug), None)


def _exercise(table: Table, block: Block | None) -> Exercise | None:
    """The exercise a table names; None where there is no such one in that block."""
    slug = table.text("name", most=60)
    if slug is None:
        return None
    found = next((e for e in catalogue().exercises if e.slug == slug), None)
    if found is None:
        here = [e.slug for e in catalogue().exercises if e.block == block or block is None]
        allowed = one_of(nearest(slug, block=block) or nearest(slug, block=None) or here)
        table.fault("unknown-name", "name", found=f'"{slug}"', allowed=allowed)
        return None
    if block is not None and found.block != block:
        table.called(*table.name[:-1], slug)
        where = f"it belongs to the {found.block}"
        table.fault("wrong-block", "name", found=f'"{slug}"', allowed=where)
        return None
    return found
