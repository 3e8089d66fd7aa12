"""One question to the rules: whose target, for which exercise, side and edge, on which day."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from core.athlete import Athlete
from core.catalogue import Exercise, HoldRange, RepRange
from core.history import Session, Stream
from core.kit.help import BodyLoads, body_loads
from core.kit.loads import Loads, loads_from_floor
from core.progression.level import level_of
from core.strength.net_mass import net_kg
from core.target import Target


@dataclass(frozen=True, slots=True)
class Case:
    """All that the rules may look at.

    Attributes:
        athlete: Whose target it is.
        exercise: Catalogue entry, with the dose of the athlete's programme.
        stream: Every session of that exercise, side and edge.
        level: The sessions that show the level (see ``level``).
        today: The day the target is for.
        choices: The loads that exist, None where none is meant.
    """

    athlete: Athlete
    exercise: Exercise
    stream: Stream
    level: tuple[Session, ...]
    today: date
    choices: Loads | BodyLoads | None

    def net_kg(self, load_kg: Decimal | None) -> Decimal | None:
        """What the muscles carry at that load, None if not known. [kg]"""
        if load_kg is None or self.choices is None or isinstance(self.choices, Loads):
            return load_kg
        return net_kg(self.exercise, load_kg, body_kg=self.athlete.body_kg)

    @property
    def limit_rule(self) -> str:
        """The rule that names the weaker of pin and handle."""
        kit, grip = self.athlete.kit, self.exercise.slug
        handle_kg = kit.handle_limit_kg(grip)
        weaker = handle_kg is not None and handle_kg == kit.limit_kg(grip)
        return "handle-limit" if weaker else "pin-limit"

    def load_at_net(self, net_kg: Decimal) -> Decimal | None:
        """The load at which the muscles carry ``net_kg``, None if not known. [kg]"""
        nothing = self.net_kg(Decimal(0))
        return None if nothing is None else net_kg - nothing

    def base(self) -> Target:
        """The programme's dose, without aims, load and reasons."""
        return Target(
            exercise=self.exercise.slug,
            side=self.stream.side,
            edge_mm=self.stream.edge_mm,
            sets=self.exercise.dose.sets,
            reps=None,
            hold_s=None,
            by_set=(),
            load_kg=None,
            plates_kg=(),
            pin_kg=None,
            band=None,
            variation=None,
            rest_s=self.exercise.dose.rest_s,
            change="same",
            reasons=(),
        )


@dataclass(frozen=True, slots=True)
class Proposal:
    """What a dose rule answers, before the guards.

    Attributes:
        next: What the last session calls for.
        same: The last dose again, for guards that forbid an increase.
        onward: The lines of progress that ``next`` moves on to, one per side; empty where it
            stays on its own.
    """

    next: Target
    same: Target
    onward: tuple[Stream, ...] = ()


def case_of(athlete: Athlete, stream: Stream, *, today: date) -> Case:
    """The case for one stream of an athlete."""
    exercise = athlete.programme.exercise(stream.exercise)
    choices: Loads | BodyLoads | None = None
    if exercise.from_floor:
        choices = loads_from_floor(athlete.kit, exercise.slug)
    elif isinstance(exercise.dose, RepRange | HoldRange) and exercise.dose.share > 0:
        choices = body_loads(
            athlete.kit,
            takes_help=exercise.takes_help,
            body_kg=athlete.body_kg,
            used_kg=_used_kg(athlete, stream),
        )
    return Case(athlete, exercise, stream, level_of(athlete, stream), today, choices)


def _used_kg(athlete: Athlete, stream: Stream) -> Iterable[Decimal]:
    """Loads used before, which matter only while bands or plates are unknown. [kg]"""
    if athlete.kit.bands and athlete.kit.plates:
        return ()
    return {d.load_kg for s in stream.sessions for d in s.sets if d.load_kg is not None}
