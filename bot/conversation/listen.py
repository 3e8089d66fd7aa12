"""What a reply means in this talk: the reader's acts, completed by the open question and the
exercise in hand."""

from collections.abc import Iterator
from dataclasses import replace

from bot.conversation.setup import answer_reading
from bot.conversation.trip import here
from bot.conversation.turn import Turn
from core.kit.help import band_names
from core.replies import read
from core.replies.act import Act, Fix, Log, Reading, ReplyContext
from core.replies.render import log_text


def context_of(turn: Turn) -> ReplyContext:
    """What the reader is told about this athlete."""
    return ReplyContext(
        units=turn.athlete.units,
        at=turn.now,
        zone=turn.zone,
        bands=tuple(
            dict.fromkeys(band_names(turn.athlete.kit) + band_names(here(turn).kit)),
        ),
    )


def listen(turn: Turn, text: str) -> Reading:
    """Read the text: a bare answer is for the open question, bare sets for the exercise in hand."""
    context = context_of(turn)
    if turn.talk.question is not None:
        answer = answer_reading(turn.talk.question, text, context)
        if answer is not None:
            return answer
    reading = read(text, context)
    whole = _named_whole(turn, reading, context)
    if whole is not None:
        return whole
    return replace(reading, acts=tuple(_completed(turn, reading.acts, context)))


def _named_whole(turn: Turn, reading: Reading, context: ReplyContext) -> Reading | None:
    """The reply with the exercise in hand in front, where it then is one log and nothing else.

    So "4x22,5 ok", which alone may be a load or two sets, is read as the exercise has it.
    """
    text, in_hand, last = reading.text, turn.in_hand, turn.last_logged
    match reading.acts:
        case (Log(exercise=None),) | () if in_hand is not None:
            named = read(f"{_name_of(in_hand)} {text}", context)
        case (Fix(log=Log(exercise=None)),) if last is not None:
            # The evening may have gone on to the next exercise by now.
            named = read(f"fix {_name_of(last)} {text.split(None, 1)[-1]}", context)
        case _:
            return None
    # The number may not fit the exercise in hand; then the bare reading stands and is asked about.
    one = named.misread is None and len(named.acts) == 1 and isinstance(named.acts[0], Log | Fix)
    return Reading(text, named.acts, None) if one else None


def _completed(turn: Turn, acts: tuple[Act, ...], context: ReplyContext) -> Iterator[Act]:
    """The acts of several clauses, bare numbers read as the exercise named last has them."""
    slug = turn.in_hand
    for act in acts:
        match act:
            case Log(exercise=None, sets=sets) if slug and any(s.value is not None for s in sets):
                said = f"{_name_of(slug)} {log_text(act, context.units)}"
                named = read(said, context)
                yield named.acts[0] if named.misread is None and len(named.acts) == 1 else act
            case Log(exercise=named_last) if named_last:
                slug = named_last
                yield act
            case _:
                yield act


def _name_of(slug: str) -> str:
    return slug.replace("-", " ")
