"""What a reply means in this talk: the reader's acts, completed by the open question and the
exercise in hand."""

from bot.conversation.setup import answer_reading
from bot.conversation.turn import Turn
from core.replies import read
from core.replies.act import Fix, Log, Reading, ReplyContext


def context_of(turn: Turn) -> ReplyContext:
    """What the reader is told about this athlete."""
    return ReplyContext(
        units=turn.athlete.units,
        at=turn.now,
        zone=turn.zone,
        bands=tuple(band.name for band in turn.athlete.kit.bands),
    )


def listen(turn: Turn, text: str) -> Reading:
    """Read the text: a bare answer is for the open question, bare sets for the exercise in hand."""
    context = context_of(turn)
    if turn.talk.question is not None:
        answer = answer_reading(turn.talk.question, text, context)
        if answer is not None:
            return answer
    reading = read(text, context)
    if reading.misread is not None or len(reading.acts) != 1 or turn.in_hand is None:
        return reading
    name = turn.in_hand.replace("-", " ")
    match reading.acts[0]:
        case Log(exercise=None):
            named = read(f"{name} {text}", context)
        case Fix(log=Log(exercise=None)):
            words = text.split(None, 1)
            named = read(f"fix {name} {words[-1]}", context)
        case _:
            return reading
    # The number may not fit the exercise in hand; then the bare reading stands and is asked about.
    return reading if named.misread is not None else Reading(text, named.acts, None)
