"""Between two sets of a begun evening: the rest, and whose turn it is where two share theirs."""

from datetime import datetime, timedelta

from bot.conversation.turn import Turn
from bot.wording import record as words
from bot.wording.evening import partner_of
from bot.wording.moment import SET_BUTTONS, turn_lines
from core.facts import Logged, counting
from core.planning import Item
from core.planning.duration import CHANGE_S


def go_on(turn: Turn, item: Item) -> None:
    """After a set of that exercise: its partner's turn, or the rest before its own next set."""
    if call_partner(turn, item):
        return
    rest_s = item.targets[0].rest_s
    turn.remember(rest_until=turn.now + timedelta(seconds=rest_s))
    turn.say(words.rest_line(rest_s))


def call_partner(turn: Turn, item: Item) -> bool:
    """Call the exercise that takes turns with that one, once it has rested; whether there is one.

    A partner that was not begun is left to the order of the evening once this one is done.
    """
    partner = partner_of(turn.tonight, item.exercise.slug)
    if partner is None or not (item.is_open or partner.is_begun):
        return False
    turn.take_in_hand(partner.exercise.slug)
    last = _last_logged(turn, partner.exercise.slug)
    rest = timedelta(seconds=partner.targets[0].rest_s)
    wait = timedelta() if last is None else last + rest - turn.now
    if wait > timedelta(seconds=CHANGE_S):
        turn.remember(rest_until=turn.now + wait)
        turn.say(words.turn_line(partner.exercise.name, round(wait.total_seconds())))
    else:
        turn.remember(rest_until=None)
        turn.say(
            *turn_lines(partner, turn.athlete.units),
            buttons=SET_BUTTONS,
            targets=partner.targets,
        )
    return True


def _last_logged(turn: Turn, slug: str) -> datetime | None:
    """When the newest log of that exercise today was written, None without one."""
    today = (e for e in reversed(counting(turn.entries)) if e.day == turn.today)
    logs = (e.at for e in today if isinstance(e.fact, Logged) and e.fact.exercise == slug)
    return next(logs, None)
