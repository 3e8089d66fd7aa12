"""Where to go on when no heavier load may be used: a smaller edge, then a harder exercise."""

from core.history import Stream, edge_in_use, sides_of, stream_of
from core.progression.case import Case
from core.target import Reason, because


def harder_lines(case: Case) -> tuple[Stream, ...]:
    """The lines of progress to go on with, empty where there are none.

    One line, for the next smaller edge owned or the next exercise of the ladder; one per
    hand where that exercise has a target for each and this one has not.
    """
    stream, athlete = case.stream, case.athlete
    if athlete.trip is not None:
        # What a borrowed kit cannot load is no reason for another grip.
        return ()
    smaller = [mm for mm in athlete.kit.edges_mm if stream.edge_mm and mm < stream.edge_mm]
    if smaller:
        return (stream_of(athlete, stream.exercise, side=stream.side, edge_mm=smaller[0]),)
    if not case.exercise.harder:
        return ()
    slug = case.exercise.harder[0]
    alike = sides_of(slug) == sides_of(stream.exercise)
    return tuple(
        stream_of(athlete, slug, side=side, edge_mm=edge_in_use(athlete, slug, side=side))
        for side in ((stream.side,) if alike else sides_of(slug))
    )


def where_to(lines: tuple[Stream, ...], case: Case) -> Reason:
    """Where the lines lead, as a reason."""
    line = lines[0]
    if line.exercise == case.exercise.slug and line.edge_mm is not None:
        return because("smaller-edge", edge_mm=line.edge_mm)
    return because("harder-exercise", exercise=line.exercise)
