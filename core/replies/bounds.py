"""What no reply may go beyond. Every refusal says which bound. House rules."""

from decimal import Decimal

from core.catalogue import Exercise
from core.quantity import GRAM_KG
from core.replies.dose import Known
from core.replies.node import Lasting
from core.replies.token import Token
from core.replies.trouble import Trouble

MOST_CHARACTERS = 1000
MOST_CLAUSES = 40
MOST_SETS = 20
MOST_LOAD_KG = 300
MOST_HOLD_S = 900
MOST_REPS = 100
MOST_LEFT = 100
MOST_EDGE_MM = 200
MOST_RATING_KG = 1000
LEAST_BODY_KG = 20
MOST_MINUTES = 1440
MOST_DAYS = 730
MOST_AGE = 120
MOST_PLATES = 100
MOST_PAIN = 10
LEAST_RPE = 1
MOST_RPE = 10


def whole(
    number: Decimal, at: int, end: int, *, least: int, most: int, what: str
) -> Trouble | None:
    """None for a whole number from ``least`` to ``most``; ``what`` names it in plain words."""
    if least <= number <= most and number == number.to_integral_value():
        return None
    return Trouble(at, end, (f"{what} from {least} to {most}",), is_bound=True)


def mass(number_kg: Decimal, at: int, end: int, *, most: int, what: str) -> Trouble | None:
    """None for a mass of a gram at least and at most ``most``. [kg]"""
    if GRAM_KG <= number_kg <= most:
        return None
    return Trouble(at, end, (f"{what} above zero, at most {most} kg",), is_bound=True)


def rpe(number: Decimal, at: int, end: int) -> Trouble | None:
    """None for a rating from 1 to 10 in halves."""
    doubled = number * 2
    if LEAST_RPE <= number <= MOST_RPE and doubled == doubled.to_integral_value():
        return None
    return Trouble(at, end, (f"an RPE from {LEAST_RPE} to {MOST_RPE} in halves",))


def minutes(said: Lasting) -> Trouble | None:
    """None for whole minutes of at most a day."""
    return whole(said.minutes, said.at, said.end, least=1, most=MOST_MINUTES, what="minutes")


def edge(token: Token) -> Trouble | None:
    """None for the depth of an edge that can be held. [mm]"""
    at, end, what = token.start_pos, token.end_pos, "millimetres of edge"
    return whole(token.number, at, end, least=1, most=MOST_EDGE_MM, what=what)


def known(one: Known, *, exercise: Exercise | None, helped: bool) -> Trouble | None:
    """None where the number of a set is inside its bounds."""
    at, end = one.at, one.end
    match one.quantity:
        case "count":
            return whole(one.number, at, end, least=1, most=MOST_SETS, what="a number of sets")
        case "reps":
            return whole(one.number, at, end, least=1, most=MOST_REPS, what="a number of reps")
        case "hold":
            return whole(
                one.number, at, end, least=1, most=MOST_HOLD_S, what="a time in whole seconds"
            )
        case "value":
            fits = 0 < one.number <= MOST_HOLD_S
            return None if fits else Trouble(at, end, (f"a number above 0, at most {MOST_HOLD_S}",))
        case "load":
            if (helped or one.number < 0) and exercise is not None and not exercise.takes_help:
                return Trouble(at, end, (f"a load: {exercise.name} takes no help",))
            return mass(abs(one.number), at, end, most=MOST_LOAD_KG, what="a load")
