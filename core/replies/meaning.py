"""From what the grammar saw to an act, or to the reason why there is none."""

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from core.facts import PauseCause
from core.replies import bounds
from core.replies.act import (
    Act,
    Ask,
    Done,
    Later,
    Minutes,
    Move,
    NoWall,
    Packed,
    Pause,
    ReplyContext,
    Wall,
)
from core.replies.calendar import NO_CLOCK, clock_of, day_from, local_moment
from core.replies.grammar import Parsed
from core.replies.log import log_from
from core.replies.node import BandNamed, Clause, DaySaid, Lasting, LogSaid, Rated
from core.replies.node import Packed as PackedSaid
from core.replies.pain import pain_from
from core.replies.setup_line import setup_from
from core.replies.token import Token
from core.replies.trouble import Trouble

_CAUSES: dict[str, PauseCause] = {"PAUSE": "rest", "SICK": "sick", "AWAY": "away"}
_STILL_TO_COME = ("a time still to come", "a day with it")
_NO_DAY = ("a day that the calendar has",)
_ONCE = ("one day, one length and one RPE",)
_DAYS_A_WEEK = 7


def act_from(parsed: Parsed, context: ReplyContext, *, note: str | None) -> Act | Trouble:
    """The act that a clause means, inside all bounds."""
    match parsed:
        case Ask() | Done():
            return parsed
        case LogSaid():
            return log_from(parsed, units=context.units, note=note)
        case Lasting():
            return bounds.minutes(parsed) or Minutes(int(parsed.minutes))
        case Clause(rule="wall"):
            return _wall(parsed, _now(context))
        case Clause(rule="no_wall"):
            return _no_wall(parsed, _now(context))
        case Clause(rule="move"):
            return _move(parsed, _now(context))
        case Clause(rule="later"):
            return _later(parsed)
        case Clause(rule="pause"):
            return _pause(parsed, _now(context))
        case Clause(rule="pain" | "no_pain"):
            return pain_from(parsed)
        case _:
            return setup_from(parsed, context.units)


def _now(context: ReplyContext) -> datetime:
    return local_moment(context.at, context.zone)


def _wall(clause: Clause, now: datetime) -> Wall | Trouble:
    past = clause.tokens("WALL")[0].text == "climbed"
    when: date | None = None
    minutes: int | None = None
    rpe: Decimal | None = None
    for item in clause.items:
        match item:
            case DaySaid() if when is None:
                when = _wall_day(item, now, past=past)
                trouble = Trouble(item.at, item.end, _NO_DAY) if when is None else None
            case Lasting() if minutes is None:
                trouble = bounds.minutes(item)
                minutes = int(item.minutes) if trouble is None else None
            case Rated() if rpe is None:
                trouble = bounds.rpe(*item)
                rpe = item.number
            case DaySaid(at=at, end=end) | Lasting(at=at, end=end) | Rated(at=at, end=end):
                trouble = Trouble(at, end, _ONCE)
            case _:
                trouble = None
        if trouble is not None:
            return trouble
    return Wall(when, minutes, rpe)


def _wall_day(said: DaySaid, now: datetime, *, past: bool) -> date | None:
    """The day at the wall: of a day of the month without its year, the nearest one."""
    day = day_from(said, now, clock=None, past=past)
    if past or day is None or not any(token.type == "MONTH" for token in said.tokens):
        return day
    last = day_from(said, now, clock=None, past=True)
    return last if last is not None and now.date() - last < day - now.date() else day


def _no_wall(clause: Clause, now: datetime) -> NoWall | Trouble:
    said = next((item for item in clause.items if isinstance(item, DaySaid)), None)
    if said is None:
        return NoWall(None)
    day = day_from(said, now, clock=None)
    if day is None:
        return Trouble(said.at, said.end, _NO_DAY)
    yesterday = now.date() - timedelta(days=1)
    if said.tokens[0].type == "WEEKDAY" and day == yesterday + timedelta(days=_DAYS_A_WEEK):
        # "not at the wall sat" on a Sunday tells of the day before.
        day = yesterday
    return NoWall(day)


def _move(clause: Clause, now: datetime) -> Move | Trouble:
    clocks = clause.tokens("CLOCK")
    clock = clock_of(clocks[0]) if clocks else None
    if clocks and clock is None:
        return Trouble(clocks[0].start_pos, clocks[0].end_pos, NO_CLOCK)
    moved, said = _move_days(clause)
    if moved is not None:
        return _move_of(moved, said, now, clock=clock)
    if said is None:
        # Without a day the grammar demands a time, which is one of today.
        to = datetime.combine(now.date(), clock or time.min)
        if to > now:
            return Move(to)
        token = clocks[0]
        instead = (f"tomorrow {token.text}",)
        return Trouble(token.start_pos, token.end_pos, _STILL_TO_COME, instead)
    day = day_from(said, now, clock=clock)
    if day is None or day < now.date():
        return _no_such_day(said, day)
    if day == now.date() and clock is None and said.tokens[0].type == "WEEKDAY":
        # "move to tuesday" on a Tuesday: nobody moves an evening to where it is.
        day += timedelta(days=_DAYS_A_WEEK)
    return Move(day if clock is None else datetime.combine(day, clock))


def _move_days(clause: Clause) -> tuple[DaySaid | None, DaySaid | None]:
    """The day of the evening that is moved, and the day it goes to, each None where not said.

    "Tonight" in front of "to" is the next evening, as if nothing were said.
    """
    to = next((i for i, item in enumerate(clause.items) if _is_to(item)), 0)
    moved = next((item for item in clause.items[:to] if isinstance(item, DaySaid)), None)
    said = next((item for item in clause.items[to:] if isinstance(item, DaySaid)), None)
    if moved is not None and moved.tokens[0].type == "TONIGHT":
        moved = None
    return moved, said


def _is_to(item: object) -> bool:
    return isinstance(item, Token) and item.type == "TO"


def _move_of(
    moved: DaySaid, said: DaySaid | None, now: datetime, *, clock: time | None
) -> Move | Trouble:
    """``move thu to fri``: that evening, and the nearest such day to it that is not over."""
    evening = day_from(moved, now, clock=None)
    if evening is None or evening < now.date():
        return _no_such_day(moved, evening)
    # Looked for from the evening on: "move thu to fri" on a Friday means the Friday after it.
    day = evening if said is None else _nearest(said, evening, now)
    if day is None or day < now.date():
        return _no_such_day(said or moved, day)
    if said is not None and day == evening and clock is None:
        return Trouble(said.at, said.end, ("another day than that one",))
    if clock is None:
        return Move(day, evening)
    to = datetime.combine(day, clock)
    if to <= now:
        return Trouble(moved.at, (said or moved).end, _STILL_TO_COME)
    return Move(to, evening)


def _nearest(said: DaySaid, evening: date, now: datetime) -> date | None:
    if said.tokens[0].type != "WEEKDAY":
        return day_from(said, now, clock=None)
    there = datetime.combine(evening, time.min)
    after, before = (day_from(said, there, clock=None, past=past) for past in (False, True))
    if after is None or before is None or before < now.date():
        return after
    return before if evening - before < after - evening else after


def _no_such_day(said: DaySaid, day: date | None) -> Trouble:
    return Trouble(said.at, said.end, _NO_DAY if day is None else ("a day from today on",))


def _later(clause: Clause) -> Later | Trouble:
    said = next((item for item in clause.items if isinstance(item, Lasting)), None)
    if said is None:
        number = clause.tokens("NUMBER")[0]
        said = Lasting(number.number, number.start_pos, number.end_pos)
    return bounds.minutes(said) or Later(int(said.minutes))


def _pause(clause: Clause, now: datetime) -> Pause | Trouble:
    packed = _packed([item for item in clause.items if isinstance(item, PackedSaid)])
    if isinstance(packed, Trouble):
        return packed
    pause = _time_off(clause, now)
    return pause if isinstance(pause, Trouble) else replace(pause, packed=packed)


def _packed(said: list[PackedSaid]) -> Packed | Trouble | None:
    """What is taken along, None where nothing is said of it."""
    if not said:
        return None
    bands: list[str] = []
    edges_mm: list[int] = []
    for what, _, _ in said:
        if isinstance(what, BandNamed):
            bands.append(what.name)
        elif what is not None:
            trouble = bounds.edge(what)
            if trouble is not None:
                return trouble
            edges_mm.append(int(what.number))
    return Packed(tuple(bands), tuple(edges_mm), any(part.what is None for part in said))


def _time_off(clause: Clause, now: datetime) -> Pause | Trouble:
    today = now.date()
    if clause.has("NOT_TONIGHT"):
        return Pause(today + timedelta(days=1), "rest")
    cause = next(_CAUSES[t.type] for kind in _CAUSES for t in clause.tokens(kind))
    said = next((item for item in clause.items if isinstance(item, DaySaid)), None)
    if said is not None:
        until = day_from(said, now, clock=None)
        if until is None:
            return Trouble(said.at, said.end, _NO_DAY)
        if until <= today:
            return Trouble(said.at, said.end, ("a day after today",))
        return Pause(until, cause)
    for token in (*clause.tokens("NUMBER"), *clause.tokens("A")):
        many = token.number if token.type == "NUMBER" else Decimal(1)
        days = many * (_DAYS_A_WEEK if clause.has("WEEK") else 1)
        at, end = token.start_pos, token.end_pos
        trouble = bounds.whole(days, at, end, least=1, most=bounds.MOST_DAYS, what="days")
        return trouble or Pause(today + timedelta(days=int(days)), cause)
    return Pause(None, cause)
