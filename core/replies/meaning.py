"""From what the grammar saw to an act, or to the reason why there is none."""

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
    Pause,
    ReplyContext,
    Wall,
)
from core.replies.calendar import NO_CLOCK, clock_of, day_from, local_moment
from core.replies.grammar import Parsed
from core.replies.log import log_from
from core.replies.node import Clause, DaySaid, Lasting, LogSaid, Rated
from core.replies.pain import pain_from
from core.replies.setup_line import setup_from
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


def _move(clause: Clause, now: datetime) -> Move | Trouble:
    clocks = clause.tokens("CLOCK")
    clock = clock_of(clocks[0]) if clocks else None
    if clocks and clock is None:
        return Trouble(clocks[0].start_pos, clocks[0].end_pos, NO_CLOCK)
    said = next((item for item in clause.items if isinstance(item, DaySaid)), None)
    if said is None:
        # Without a day the grammar demands a time, which is one of today.
        to = datetime.combine(now.date(), clock or time.min)
        if to > now:
            return Move(to)
        token = clocks[0]
        instead = (f"tomorrow {token.text}",)
        return Trouble(token.start_pos, token.end_pos, _STILL_TO_COME, instead)
    day = day_from(said, now, clock=clock)
    if day is None:
        return Trouble(said.at, said.end, _NO_DAY)
    if day < now.date():
        return Trouble(said.at, said.end, ("a day from today on",))
    if day == now.date() and clock is None and said.tokens[0].type == "WEEKDAY":
        # "move to tuesday" on a Tuesday: nobody moves an evening to where it is.
        day += timedelta(days=_DAYS_A_WEEK)
    return Move(day if clock is None else datetime.combine(day, clock))


def _later(clause: Clause) -> Later | Trouble:
    said = next((item for item in clause.items if isinstance(item, Lasting)), None)
    if said is None:
        number = clause.tokens("NUMBER")[0]
        said = Lasting(number.number, number.start_pos, number.end_pos)
    return bounds.minutes(said) or Later(int(said.minutes))


def _pause(clause: Clause, now: datetime) -> Pause | Trouble:
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
