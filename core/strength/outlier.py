"""Logs that look like a slip: which one, what it was compared with, and what was perhaps meant."""

from dataclasses import dataclass, replace
from decimal import Decimal
from math import exp, log

from core.athlete import Athlete
from core.catalogue import get_exercise
from core.facts import SetDone
from core.history import Stream, edge_in_use, sides_of, stream_of
from core.quantity import POUND_KG, to_gram
from core.strength.fold import first_looked_at, fold
from core.strength.gate import FOUND_FACTOR, Doubted
from core.strength.net_mass import body_kg_on, load_of, net_kg

SLIPS: tuple[Decimal, ...] = (
    Decimal(1) / 10,
    Decimal(10),
    POUND_KG,
    1 / POUND_KG,
    Decimal(1) / 100,
    Decimal(100),
)
"""What undoes a slip, likeliest first: the point, or pounds for kilograms. House rule."""

DIVISION_KG = Decimal("1e-9")
"""Less than this is left over by dividing, not by weighing. [kg]"""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A log that looks like a slip.

    Attributes:
        exercise: Slug.
        set: The set that is doubted.
        rather_kg: The load that was perhaps meant; None if no usual slip explains it. [kg]
        found: What speaks against the set.
    """

    exercise: str
    set: SetDone
    rather_kg: Decimal | None
    found: Doubted


def trusted(athlete: Athlete, stream: Stream) -> Stream:
    """The line of progress without the sets that look like slips.

    The same object where none does. Confirmed logs stay; so does a lower level that two
    sessions running agree on.
    """
    seen = fold(athlete, stream)
    if not seen.doubted:
        return stream
    return replace(stream, sessions=(*stream.sessions[: first_looked_at(stream)], *seen.sessions))


def doubt_of(athlete: Athlete, number: int) -> Doubt | None:
    """What is doubtful in a log, None if nothing is.

    Args:
        athlete: Whose; their record holds the log.
        number: Entry number of the log.
    """
    dated = next((d for d in athlete.logs if d.number == number), None)
    if dated is None:
        return None
    slug = dated.log.exercise
    edge_mm = dated.log.edge_mm if dated.log.edge_mm is not None else edge_in_use(athlete, slug)
    for side in sides_of(slug):
        stream = stream_of(athlete, slug, side=side, edge_mm=edge_mm)
        # The session after it may agree with it; what came later says nothing of it.
        upto = sum(1 for s in stream.sessions if s.day <= dated.day) + 1
        if upto < len(stream.sessions):
            stream = replace(stream, sessions=stream.sessions[:upto])
        for found in fold(athlete, stream).doubted:
            if found.log == number:
                return Doubt(slug, found.done, _rather_kg(athlete, slug, found), found)
    return None


def _rather_kg(athlete: Athlete, slug: str, found: Doubted) -> Decimal | None:
    """The first load by a usual slip that is about the last one, or that the plates make. [kg]"""
    load_kg, exercise = found.done.load_kg, get_exercise(slug)
    if not load_kg:
        return None
    meant = [_whole(load_kg * factor) for factor in SLIPS]
    if found.why == "plates":
        # What can be made with all plates is the only measure there is.
        most_kg = exp(found.expected_log_kg)
        return max((kg for kg in meant if kg <= most_kg), default=None)
    body_kg = body_kg_on(athlete, found.day)
    last_kg = load_of(exercise, found.last[1]) if found.last is not None else None
    last_net_kg = net_kg(exercise, last_kg, body_kg=body_kg)
    if last_net_kg is None or last_net_kg <= 0:
        return None
    for kg in meant:
        net = net_kg(exercise, kg, body_kg=body_kg)
        if net is not None and net > 0 and abs(log(net / last_net_kg)) <= log(FOUND_FACTOR):
            return kg
    return None


def _whole(kg: Decimal) -> Decimal:
    """To the gram, where that undoes a division; a load in whole pounds stays exact. [kg]"""
    gram = to_gram(kg)
    return gram if abs(gram - kg) < DIVISION_KG else kg
