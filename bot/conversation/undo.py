"""Undo: the newest reply that changed anything no longer counts."""

from bot.conversation.turn import Turn
from bot.wording import record as words
from bot.wording.talk import NOTHING_TO_UNDO
from core.facts import Logged, Undone, counting


def undo(turn: Turn) -> None:
    """Take back the newest reply that changed anything."""
    gone = _undone(turn)
    newest = _newest_reply(turn, gone)
    if newest is None:
        turn.say(NOTHING_TO_UNDO)
        return
    facts = [e for e in turn.entries if e.reply == newest and e.number not in gone]
    turn.note(Undone(tuple(e.number for e in facts), "undo"))
    turn.remember(rest_until=None)
    turn.say("Undone:", *(f"· {words.fact_line(e.fact, turn.athlete.units)}" for e in facts))
    logs = [e.fact for e in facts if isinstance(e.fact, Logged) and e.day == turn.today]
    if logs:
        # The exercise is open again; a bare reply after this means it.
        turn.take_in_hand(logs[-1].exercise)


def _undone(turn: Turn) -> frozenset[int]:
    """Numbers of the entries that were undone, by an undoing that itself still counts."""
    standing = {e.number for e in counting(turn.entries)}
    gone: set[int] = set()
    for entry in reversed(turn.entries):
        if entry.number not in standing and entry.number not in gone:
            # Neither counts nor was undone: it is an undoing in force.
            gone.update(entry.fact.entries if isinstance(entry.fact, Undone) else ())
    return frozenset(gone)


def _newest_reply(turn: Turn, gone: frozenset[int]) -> int | None:
    """The newest reply with something left to undo; plain undoings are passed over."""
    for entry in reversed(turn.entries):
        undoing = isinstance(entry.fact, Undone) and entry.fact.by == "undo"
        if entry.number not in gone and not undoing:
            return entry.reply
    return None
