"""Asking how a log went, where it did not say: without that no load moves."""

from bot.conversation.listen import context_of
from bot.conversation.turn import Turn
from bot.ports import Button
from bot.wording import record as words
from core.athlete import DatedLog
from core.facts import Effort, Logged, SetDone, Side
from core.replies import read
from core.replies.act import Fix, Log, SetSaid
from core.replies.render import log_text

_EFFORTS: tuple[Effort, ...] = ("easy", "ok", "hard", "fail")


def ask_effort(turn: Turn, noted: DatedLog) -> None:
    """Ask for the effort of a side that said none, each answer a button that fixes the log.

    The word alone, typed as the next reply, is the answer too.
    """
    log = noted.log
    open_sides = {s.side for s in log.sets} - {s.side for s in log.sets if _is_judged(s)}
    if not open_sides:
        return
    only = open_sides.pop() if any(_is_judged(s) for s in log.sets) else None
    question = words.how_was(only)
    turn.remember(judging=noted.number)
    fixes = [Button(effort, _fix_text(turn, log, effort, only)) for effort in _EFFORTS]
    if all(b.fits for b in fixes):
        turn.say(question, buttons=fixes)
    else:
        turn.say(f"{question} Type fix and the log with easy, ok, hard or fail.")


def judging(turn: Turn, effort: Effort) -> Log | None:
    """The log that the reply before this one left without an effort, with that effort; or None."""
    number = turn.judging
    asked = next((d.log for d in turn.athlete.logs if d.number == number), None)
    if asked is None:
        return None
    judged = tuple(_with_effort(s, effort) for s in asked.sets)
    return Log(asked.exercise, judged, asked.edge_mm, asked.note)


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
