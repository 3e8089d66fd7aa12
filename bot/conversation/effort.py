"""Asking how a log went, where it did not say: without that no load moves."""

from bot.conversation.listen import context_of
from bot.conversation.turn import Turn
from bot.ports import Button
from bot.wording import record as words
from core.facts import Effort, Logged, SetDone, Side
from core.replies import read
from core.replies.act import Fix, Log, SetSaid
from core.replies.render import log_text

_EFFORTS: tuple[Effort, ...] = ("easy", "ok", "hard", "fail")


def ask_effort(turn: Turn, log: Logged) -> None:
    """Ask for the effort of a side that said none, each answer a button that fixes the log."""
    open_sides = {s.side for s in log.sets} - {s.side for s in log.sets if _is_judged(s)}
    if not open_sides:
        return
    only = open_sides.pop() if any(_is_judged(s) for s in log.sets) else None
    question = words.how_was(only)
    fixes = [Button(effort, _fix_text(turn, log, effort, only)) for effort in _EFFORTS]
    if all(b.fits for b in fixes):
        turn.say(question, buttons=fixes)
    else:
        turn.say(f"{question} Type fix and the log with easy, ok, hard or fail.")


def _is_judged(done: SetDone) -> bool:
    return done.effort is not None or done.rpe is not None or done.left is not None


def _fix_text(turn: Turn, log: Logged, effort: Effort, only: Side | None) -> str:
    """The log as it was typed with the effort behind it, or written anew if that reads otherwise.

    Behind a note, another clause or sets of two sides the word would not be about this log.
    """
    said = f"fix {log.said.removeprefix('fix ')} {effort}"
    reading = read(said, context_of(turn))
    match reading.acts:
        case (Fix(Log(exercise=named, sets=sets)),) if reading.misread is None and only is None:
            if named in (None, log.exercise) and all(s.effort == effort for s in sets):
                return said
    judged = tuple(_with_effort(s, effort) for s in log.sets)
    return f"fix {log_text(Log(log.exercise, judged, log.edge_mm), turn.athlete.units)}"


def _with_effort(done: SetDone, effort: Effort) -> SetSaid:
    """The set as it would be said, with that effort where none was said."""
    said = done.effort if _is_judged(done) else effort
    return SetSaid(
        done.side, done.load_kg, done.band, done.reps, done.hold_s, said, done.rpe, done.left
    )
