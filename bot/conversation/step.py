"""One step of the talk: a reply or a planned moment in; facts, messages and new state out.

Pure: everything it needs comes in, everything it decides goes out. No adapter and no
store is known here, and no training rule either: those are the engine's.
"""

from datetime import datetime

from bot.conversation import answer, change, days, offer, record, setup, week
from bot.conversation.kit import say_kit
from bot.conversation.listen import listen
from bot.conversation.moments import fire
from bot.conversation.talk import talk_from_text
from bot.conversation.turn import Outcome, Turn
from bot.conversation.undo import undo
from bot.ports import Due, Loaded
from bot.wording import talk as words
from core.replies.act import Act, Ask, Done, Fix, Log, Reading


def hear(loaded: Loaded, text: str, *, pressed: bool, now: datetime) -> Outcome:
    """Answer what an athlete typed or pressed.

    Args:
        loaded: What is stored of the athlete.
        text: The reply.
        pressed: True if a button stood for it.
        now: When it came in. Aware, UTC.
    """
    turn = Turn(loaded, talk_from_text(loaded.talk), now=now)
    turn.remember(silent=0)
    turn.take_up(text)
    is_new = not turn.talk.welcomed
    word = text.strip().casefold().lstrip("/")
    if is_new:
        turn.remember(welcomed=True)
        turn.greet(words.WELCOME)
        turn.greet(words.CAUTION)
    if not text.strip():
        turn.say(words.TEXT_ONLY)
    elif word == "privacy":
        turn.say(words.PRIVACY)
    elif word == "start" and (is_new or _is_early(turn, pressed)):
        setup.ask_next(turn, again=True)
    else:
        _hear_words(turn, text, is_new=is_new)
    return turn.outcome()


def _is_early(turn: Turn, pressed: bool) -> bool:
    """True while "start" can only mean the talk itself: no kit named and nothing trained yet."""
    athlete = turn.athlete
    nothing = not athlete.logs and not athlete.kit.plates
    return turn.talk.question is not None and not pressed and nothing


def _is_training(turn: Turn) -> bool:
    """True in a begun evening with something left: "skip" is about the exercise then."""
    return turn.is_guided and turn.tonight.current is not None


def _hear_words(turn: Turn, text: str, *, is_new: bool) -> None:
    if record.confirm(turn, text):
        return
    question = turn.talk.question
    if question is not None and setup.is_skip(text) and not _is_training(turn):
        setup.skip_question(turn, question)
        setup.ask_next(turn)
        return
    if question is not None and setup.has_none(turn, question, text):
        setup.ask_next(turn)
        return
    reading = listen(turn, text)
    if is_new and not reading.acts:
        # A greeting, most likely: the first question is the answer.
        reading = Reading(text, (), None)
    before = week.coming(turn)
    for act in reading.acts:
        _answer(turn, act, text.strip())
    week.say_changes(turn, before)
    offer.say_misread(turn, reading)
    if any(isinstance(act, change.SET_UP) for act in reading.acts) or is_new:
        setup.ask_next(turn)


def _answer(turn: Turn, act: Act, said: str) -> None:
    match act:
        case Log():
            record.log(turn, act, said)
        case Done():
            record.done(turn, act, said)
        case Fix(log):
            record.fix(turn, log, said)
        case Ask():
            _answer_ask(turn, act, said)
        case _:
            change.change(turn, act)


def _answer_ask(turn: Turn, act: Ask, said: str) -> None:
    match act.about:
        case "next":
            answer.say_next(turn, act.exercise)
        case "why":
            answer.say_why(turn, act.exercise)
        case "progress":
            answer.say_progress(turn, act.exercise)
        case "tonight":
            answer.say_tonight(turn)
        case "week":
            week.say_week(turn)
        case "kit":
            say_kit(turn)
        case "help":
            answer.say_help(turn)
        case "start":
            answer.start_evening(turn)
        case "skip":
            record.skip(turn, act.exercise)
        case "swap":
            record.swap(turn, act.exercise)
        case "undo":
            undo(turn)
        case "same":
            record.same(turn, said)
        case "back":
            days.come_back(turn)
        case "deload":
            days.deload(turn)


def come(loaded: Loaded, due: Due, *, now: datetime) -> Outcome:
    """Say what a planned moment is for, if it still holds.

    Args:
        loaded: What is stored of the athlete.
        due: The moment that has come.
        now: When it is handled. Aware, UTC.
    """
    turn = Turn(loaded, talk_from_text(loaded.talk), now=now)
    fire(turn, due)
    return turn.outcome()
