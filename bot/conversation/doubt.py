"""A log that looks like a slip is kept as typed and asked about; "yes" lets it count."""

import re
from decimal import Decimal

from bot.conversation.listen import context_of
from bot.conversation.turn import Turn
from bot.ports import Button
from bot.wording import doubt as words
from core.athlete import DatedLog
from core.facts import LogConfirmed, Logged
from core.replies import read
from core.replies.act import Fix, Log, SetSaid
from core.replies.render import log_text
from core.strength import Doubt, doubt_of

YES = frozenset({"yes", "right", "correct", "it is right", "that is right"})
"""What lets a doubted log count while it is asked about."""


def ask(turn: Turn, noted: DatedLog, doubt: Doubt) -> None:
    """Ask whether a log is right, with the reply that would put it right."""
    turn.remember(doubted=noted.number)
    text = _fix_text(turn, noted.log, doubt)
    offers = [] if text is None else [Button(text, text)]
    offers.append(Button(words.yes_label(doubt, turn.athlete.units), "yes"))
    lines = words.question_lines(doubt, turn.athlete.units)
    turn.say(*lines, buttons=[b for b in offers if b.fits])


def confirmed(turn: Turn, text: str) -> DatedLog | None:
    """The log that "yes" lets count, from here on; None where the text is no such answer."""
    number = turn.talk.doubted
    if number is None or text.strip().strip(".!").casefold() not in YES:
        return None
    doubt = doubt_of(turn.athlete, number)
    if doubt is None:
        return None
    turn.note(LogConfirmed(number))
    turn.say(words.confirmed_line(doubt, turn.athlete.units))
    return next(d for d in turn.athlete.logs if d.number == number)


def stay_confirmed(turn: Turn, wrong: DatedLog, right: DatedLog) -> None:
    """Let a corrected log count where it has no other load than the one that was confirmed."""
    loads = {s.load_kg for s in wrong.log.sets}
    if wrong.number in turn.athlete.confirmed and {s.load_kg for s in right.log.sets} <= loads:
        turn.note(LogConfirmed(right.number))


def _fix_text(turn: Turn, log: Logged, doubt: Doubt) -> str | None:
    """The reply that would put it right: as it was typed if that reads so, else written anew."""
    wrong_kg, rather_kg = doubt.set.load_kg, doubt.rather_kg
    if wrong_kg is None or rather_kg is None:
        return None
    loads = tuple(rather_kg if s.load_kg == wrong_kg else s.load_kg for s in log.sets)
    number = re.escape(words.typed_number(wrong_kg, turn.athlete.units))
    typed = rf"(?<![\d.,]){number}(?![\d.,])(\s?(kg|lb)\b)?"
    said = re.sub(typed, words.typed_load(rather_kg), log.said.removeprefix("fix "))
    for text in (f"fix {said}", f"fix {log.exercise.replace('-', ' ')} {said}"):
        if _reads_as(turn, text, log.exercise, loads):
            return text
    sets = tuple(
        SetSaid(s.side, kg, None, s.reps, s.hold_s, s.effort, s.rpe, s.left)
        for s, kg in zip(log.sets, loads, strict=True)
    )
    return f"fix {log_text(Log(log.exercise, sets, log.edge_mm), turn.athlete.units)}"


def _reads_as(turn: Turn, text: str, slug: str, loads: tuple[Decimal | None, ...]) -> bool:
    """Whether a reply fixes a log of that exercise with sets at these loads, and no more."""
    reading = read(text, context_of(turn))
    if reading.misread is not None or len(reading.acts) != 1:
        return False
    match reading.acts[0]:
        case Fix(Log(exercise=exercise, sets=sets)):
            return exercise == slug and {s.load_kg for s in sets} == set(loads)
        case _:
            return False
