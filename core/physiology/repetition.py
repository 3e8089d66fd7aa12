"""How often a load can be lifted, and the single lift that a set of repetitions speaks for.

| equation | one repetition from load w, r repetitions to failure | holds |
|---|---|---|
| Epley 1985 | w (1 + r / 30) | 2 to about 10 repetitions |
| Brzycki 1993 | w 36 / (37 - r) | 1 to about 10 repetitions |

They agree at 10 repetitions; below, Epley gives more. Epley is used, Brzycki beside it
tells how far two published equations are apart. Linear equations hold to no more than 10
repetitions (reynolds_2006).
"""

from dataclasses import dataclass

from core.errors import OutOfRange

EPLEY_REPS = 30.0
BRZYCKI_MOST = 37.0
BRZYCKI_FACTOR = 36.0


@dataclass(frozen=True, slots=True)
class OneRepMax:
    """The load of a single lift, twice.

    Attributes:
        epley_kg: The estimate in use. [kg]
        brzycki_kg: The cross-check. [kg]
    """

    epley_kg: float
    brzycki_kg: float


def one_rep_max_kg_epley_1985(load_kg: float, reps: float) -> float:
    """The load that could be lifted once.

    Args:
        load_kg: Load lifted. [kg], > 0
        reps: Repetitions to failure. [-], >= 1

    Returns:
        Load of one repetition; the load itself for one repetition. [kg]

    Raises:
        OutOfRange: Load or repetitions break their interval.

    Validity: Up to about 10 repetitions.
    Source: epley_1985.
    Ours: The load itself at one repetition, where the equation gives 3 % more.

    Example:
        >>> round(one_rep_max_kg_epley_1985(100.0, 5), 2)
        116.67
    """
    _check(load_kg, reps, most=float("inf"))
    return load_kg if reps == 1 else load_kg * (1 + reps / EPLEY_REPS)


def one_rep_max_kg_brzycki_1993(load_kg: float, reps: float) -> float:
    """The load that could be lifted once.

    Args:
        load_kg: Load lifted. [kg], > 0
        reps: Repetitions to failure. [-], at least 1, under 37

    Returns:
        Load of one repetition. [kg]

    Raises:
        OutOfRange: Load or repetitions break their interval.

    Validity: Up to about 10 repetitions.
    Source: brzycki_1993.
    Ours: nothing.

    Example:
        >>> one_rep_max_kg_brzycki_1993(100.0, 5)
        112.5
    """
    _check(load_kg, reps, most=BRZYCKI_MOST)
    return load_kg * BRZYCKI_FACTOR / (BRZYCKI_MOST - reps)


def one_rep_max(load_kg: float, *, reps: int, reserve: float) -> OneRepMax:
    """The single lift that a set not taken to failure speaks for, by both equations.

    Args:
        load_kg: Net load. [kg], > 0
        reps: Repetitions done. [-], >= 1
        reserve: Repetitions left. [-], >= 0, with ``reps`` under 37

    Raises:
        OutOfRange: An argument breaks its interval.

    Validity: As the equations.
    Source: epley_1985, brzycki_1993; zourdos_2016 for repetitions left.
    Ours: Repetitions to failure as repetitions done and left together.

    Example:
        >>> both = one_rep_max(80.0, reps=5, reserve=2)
        >>> round(both.epley_kg, 2), round(both.brzycki_kg, 2)
        (98.67, 96.0)
    """
    if reserve < 0:
        raise OutOfRange("reserve", reserve, ">= 0")
    to_failure = reps + reserve
    return OneRepMax(
        one_rep_max_kg_epley_1985(load_kg, to_failure),
        one_rep_max_kg_brzycki_1993(load_kg, to_failure),
    )


def reps_to_failure(load_kg: float, *, one_rep_max_kg: float) -> float:
    """How often a load can be lifted.

    Args:
        load_kg: Load. [kg], > 0
        one_rep_max_kg: Load of a single lift. [kg], > 0

    Returns:
        Repetitions to failure, 0 above the single lift, 1 at it. [-]

    Raises:
        OutOfRange: A load is not positive.

    Validity: Up to about 10 repetitions.
    Source: epley_1985, solved for the repetitions.
    Ours: 1 from the single lift down to where the equation reaches one repetition.

    Example:
        >>> round(reps_to_failure(100.0, one_rep_max_kg=350 / 3), 6)
        5.0
    """
    _check(load_kg, 1, most=BRZYCKI_MOST)
    if one_rep_max_kg <= 0:
        raise OutOfRange("one_rep_max_kg", one_rep_max_kg, "> 0")
    if load_kg > one_rep_max_kg:
        return 0.0
    return max(1.0, EPLEY_REPS * (one_rep_max_kg / load_kg - 1))


def _check(load_kg: float, reps: float, *, most: float) -> None:
    if load_kg <= 0:
        raise OutOfRange("load_kg", load_kg, "> 0")
    if not 1 <= reps < most:
        raise OutOfRange("reps", reps, f"at least 1, under {most:g}")
