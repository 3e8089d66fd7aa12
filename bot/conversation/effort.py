"""Asking how a log went, where it did not say: without that no load moves."""

from bot.conversation.listen import context_of
from bot.conversation.turn import Turn
from bot.ports import Button
from bot.wording import record as words
from core.facts import Effort, Logged
from core.replies import read
from core.replies.act import Fix, Log, SetSaid
from core.replies.render import log_text

_EFFORTS: tuple[Effort, ...] = ("easy", "ok", "hard", "fail")


def ask_effort(turn: Turn, log: Logged) -> None:
    """Ask for the effort, each answer a button that fixes the log."""
    if any(s.effort or s.rpe is not None or s.left is not None for s in log.sets):
        return
    fixes = [Button(effort, _fix_text(turn, log, effort)) for effort in _EFFORTS]
    if all(b.fits for b in fixes):
        turn.say(words.HOW_WAS_IT, buttons=fixes)
    else:
        turn.say(f"{words.HOW_WAS_IT} Type fix and the log with easy, ok, hard or fail.")


def _fix_text(turn: Turn, log: Logged, effort: Effort) -> str:
    """The log as it was typed with the effort behind it, or written anew if that reads otherwise.

    Behind a note, another clause or sets of two sides the word would not be about this log.
    """
    said = f"fix {log.said.removeprefix('fix ')} {effort}"
    reading = read(said, context_of(turn))
    match reading.acts:
        case (Fix(Log(exercise=named, sets=sets)),) if reading.misread is None:
            if named in (None, log.exercise) and all(s.effort == effort for s in sets):
                return said
    judged = tuple(SetSaid(s.side, s.load_kg, s.band, s.reps, s.hold_s, effort) for s in log.sets)
    return f"fix {log_text(Log(log.exercise, judged, log.edge_mm), turn.athlete.units)}"
