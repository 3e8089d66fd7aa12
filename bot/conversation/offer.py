"""Corrections offered for a reply that was not understood, or only in part.

What was understood has been done by the time a correction is offered, so a correction says
only the rest: taking it up does nothing twice.
"""

from collections import Counter

from bot.conversation.listen import context_of
from bot.conversation.turn import Turn
from bot.ports import Button
from bot.wording import talk as words
from core.replies import acts_of, clauses, read
from core.replies.act import Act, Misread, Reading, ReplyContext


def say_misread(turn: Turn, reading: Reading) -> None:
    """Say what was not understood and offer what would have been, one tap each."""
    misread = reading.misread
    if misread is None:
        return
    context = context_of(turn)
    done = read(reading.text, context).acts
    rests = (_rest(reply, done, context) for reply in misread.try_)
    offers = tuple(dict.fromkeys(rest for rest in rests if rest))
    turn.remember(misread=reading.text, offers=offers)
    shown = Misread(misread.clause, misread.at, misread.saw, misread.expected, offers)
    buttons = tuple(b for b in (Button(reply, reply) for reply in offers) if b.fits)
    turn.say(*words.misread_lines(reading.text, shown), buttons=buttons)


def _rest(reply: str, done: tuple[Act, ...], context: ReplyContext) -> str | None:
    """The clauses of a corrected reply that are not done yet; None if they cannot stand alone."""
    if not done:
        return reply
    already, kept = Counter(done), []
    for clause in clauses(reply, context):
        acts = Counter(acts_of(clause, context))
        if acts and acts <= already:
            already -= acts
        else:
            kept.append(clause)
    # A note takes all that follows on its line.
    rest = ("\n" if any(" # " in clause for clause in kept) else "; ").join(kept)
    wanted = Counter(acts_of(reply, context)) - Counter(done)
    return rest if kept and Counter(acts_of(rest, context)) == wanted else None
