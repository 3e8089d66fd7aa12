"""The review of four weeks for "progress", and the line of training load for "week"."""

from bot.conversation.turn import Turn
from bot.wording import review as words
from bot.wording import training_load as load_words
from core.review import Diary, TrainingLoad, diary_of, review, training_load

NOTHING_YET = "Nothing logged yet. For example: crimp 4x22kg ok"


def say_review(turn: Turn) -> None:
    """What the last four weeks say, and one thing to do next."""
    if not turn.athlete.logs:
        turn.say(NOTHING_YET)
        return
    found = review(turn.athlete, _diary(turn), today=turn.today)
    turn.say(*words.review_lines(found, turn.athlete.units))
    load = _load(turn)
    if load is not None and load.month.counted:
        turn.say(*load_words.load_lines(load))


def week_load_line(turn: Turn) -> str:
    """The load of the last two weeks in a line; "" where nothing of them counts."""
    load = _load(turn)
    if load is None or not load.fortnight.counted:
        return ""
    return load_words.load_line(load)


def _load(turn: Turn) -> TrainingLoad | None:
    return training_load(turn.athlete, _diary(turn), today=turn.today)


def _diary(turn: Turn) -> Diary:
    return diary_of(turn.entries, minutes=turn.athlete.programme.minutes)
