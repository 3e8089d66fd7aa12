"""The set-up talk: which question is open, how a bare answer is read, when the talk is over."""

from decimal import Decimal

from bot.conversation import change
from bot.conversation.turn import Turn
from bot.wording.setup import NO_WORDS, QUESTIONS
from core.athlete import Athlete
from core.facts import KitChanged, QuestionSkipped
from core.replies import acts_of
from core.replies.act import Reading, ReplyContext, Setting

_NEEDS_PLATES = frozenset({"pin", "grips", "edges", "start"})
_SKIP_WORDS = frozenset({"skip", "later", "default", "dont know", "don't know", "no idea", "pass"})


def open_question(athlete: Athlete) -> str | None:
    """The next set-up question that nobody answered or skipped; None when the talk is over."""
    for name in QUESTIONS:
        if name in athlete.skipped_questions or _is_known(athlete, name):
            continue
        if name in _NEEDS_PLATES and not athlete.kit.plates:
            continue
        return name
    return None


def _is_known(athlete: Athlete, name: str) -> bool:
    match name:
        case "units":
            # Whoever typed a mass has used a unit already.
            return bool({"units", "plates", "pin_kg", "body"} & athlete.named)
        case "pin":
            return "pin_kg" in athlete.named
        case "bar":
            return "bar_limit_kg" in athlete.named
        case "edges":
            return "edges_mm" in athlete.named
        case "start":
            return bool(athlete.starts) or bool(athlete.logs)
        case _:
            return name in athlete.named


def answer_reading(question: str, text: str, context: ReplyContext) -> Reading | None:
    """The text read as an answer to the open question; None when it is not one."""
    prefix = QUESTIONS[question].prefix
    if text.split()[:1] and text.split()[0].casefold() == prefix:
        # The full line answers by itself: "band band green 12kg" would be a band "band green".
        return None
    acts = acts_of(f"{prefix} {text}", context)
    if acts is None or len(acts) != 1:
        return None
    if question == "zone":
        (act,) = acts
        if not isinstance(act, Setting) or not change.names_zone(act.value, context.at):
            return None
    return Reading(text, acts, None)


def is_skip(text: str) -> bool:
    """True for the words that leave a question at its default."""
    return text.strip().casefold().rstrip(".!") in _SKIP_WORDS


def skip_question(turn: Turn, question: str) -> None:
    """Leave the question at its default and say which that is."""
    turn.note(QuestionSkipped(question))
    turn.say(QUESTIONS[question].default)


def has_none(turn: Turn, question: str, text: str) -> bool:
    """Take "none" as an answer where it is one; True if it was."""
    if text.strip().casefold().rstrip(".!") not in NO_WORDS:
        return False
    if question == "bar":
        turn.note(KitChanged(bar_limit_kg=Decimal(0)))
        turn.say("No bar: no pulling at home then. Later: bar 120kg")
        return True
    if question in ("plates", "band", "edges"):
        skip_question(turn, question)
        return True
    return False


def ask_next(turn: Turn, *, again: bool = False) -> None:
    """Ask the next open question, or end the talk."""
    name = open_question(turn.athlete)
    if name is not None:
        question = QUESTIONS[name]
        if again or name != turn.talk.question:
            turn.send("question", question.ask, buttons=question.buttons)
        turn.remember(question=name)
    elif turn.talk.question is not None:
        turn.remember(question=None)
        change.say_set(turn)
