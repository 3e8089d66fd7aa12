"""From text to acts, or to a misread that teaches."""

from core.replies import bounds
from core.replies.act import Act, Misread, Reading, ReplyContext
from core.replies.cut import Cut, clauses_in
from core.replies.expectation import expected_from, missing_from
from core.replies.grammar import Unexpected, parsed
from core.replies.meaning import act_from
from core.replies.normal import Normal, normal_from
from core.replies.pain_token import is_pain
from core.replies.trouble import Failed, Trouble
from core.replies.vocabulary import Vocabulary, vocabulary_of

_NOTHING = ("a reply", "next, for what comes next", "help")


def read(text: str, context: ReplyContext) -> Reading:
    """What a reply means.

    Good clauses give acts, in order; the first clause that was not understood
    is the misread. Never raises, whatever the text.

    Example:
        >>> from datetime import UTC, datetime
        >>> now = datetime(2026, 12, 1, 17, tzinfo=UTC)
        >>> context = ReplyContext(units="kg", at=now, zone="Europe/Oslo")
        >>> read("skip l-sit", context).acts
        (Ask(about='skip', exercise='l-sit'),)
        >>> read("crimp 4x22kq ok", context).misread.try_
        ('crimp 4x22kg ok',)
    """
    if len(text) > bounds.MOST_CHARACTERS:
        return _too_long(text)
    normal = normal_from(text)
    vocabulary = vocabulary_of(context.aliases, context.bands)
    cuts = clauses_in(normal, vocabulary)
    if not cuts:
        return Reading(text, (), Misread(1, 0, "", _NOTHING, ("next", "tonight", "help")))
    if len(cuts) > bounds.MOST_CLAUSES:
        return _too_many(normal, cuts)
    acts: list[Act] = []
    misread: Misread | None = None
    for number, cut in enumerate(cuts, start=1):
        act = _understood(cut, context, teach=misread is None)
        if not isinstance(act, Trouble):
            acts.append(act)
        elif misread is None:
            misread = _misread(Failed(normal, cut, act), number, context, vocabulary)
    return Reading(text, tuple(acts), misread)


def acts_of(text: str, context: ReplyContext) -> tuple[Act, ...] | None:
    """The acts of a reply that is understood whole, else None; nothing is looked for instead."""
    if len(text) > bounds.MOST_CHARACTERS:
        return None
    found, _ = _read_whole(text, context, vocabulary_of(context.aliases, context.bands))
    return None if isinstance(found, Failed) else found


def clauses(text: str, context: ReplyContext) -> tuple[str, ...]:
    """The clauses of a reply, each as it was typed, with the note behind it.

    Example:
        >>> from datetime import UTC, datetime
        >>> now = datetime(2026, 12, 1, 17, tzinfo=UTC)
        >>> clauses("crimp 4x22; next # why", ReplyContext(units="kg", at=now, zone="UTC"))
        ('crimp 4x22', 'next # why')
    """
    normal = normal_from(text)
    cuts = clauses_in(normal, vocabulary_of(context.aliases, context.bands))
    said = ((normal.said(cut.start, cut.tokens[-1].end_pos), cut.note) for cut in cuts)
    return tuple(f"{clause} # {note}" if note else clause for clause, note in said)


def _understood(cut: Cut, context: ReplyContext, *, teach: bool) -> Act | Trouble:
    """The act of a clause, or its trouble; what was expected only where it is to be taught."""
    start = "pain" if is_pain({token.type for token in cut.tokens}) else "clause"
    node = parsed(cut.tokens, start=start)
    if isinstance(node, Unexpected):
        accepted = node.accepted() if teach else frozenset[str]()
        if node.token is None:
            return missing_from(cut.tokens, accepted)
        expected = expected_from(accepted) if teach else ()
        return Trouble(node.token.start_pos, node.token.end_pos, expected)
    return act_from(node, context, note=cut.note)


def _misread(failed: Failed, number: int, context: ReplyContext, vocabulary: Vocabulary) -> Misread:
    # Loaded at the first misread: many runs have none.
    from core.replies.suggestion import suggestions

    normal, _, trouble = failed

    def again(text: str) -> tuple[Failed | tuple[Act, ...], int]:
        return _read_whole(text, context, vocabulary)

    return Misread(
        clause=number,
        at=normal.column(trouble.at),
        saw=normal.said(trouble.at, trouble.end),
        expected=trouble.expected,
        try_=suggestions(failed, again, vocabulary=vocabulary, units=context.units),
    )


def _read_whole(
    text: str, context: ReplyContext, vocabulary: Vocabulary
) -> tuple[Failed | tuple[Act, ...], int]:
    """The acts of a reply that was changed, or its first trouble; and its number of tokens."""
    normal = normal_from(text)
    cuts = clauses_in(normal, vocabulary)
    if not cuts:
        return Failed(normal, Cut((), 0, 0, None), Trouble(0, 0, _NOTHING)), 0
    tokens = sum(len(cut.tokens) for cut in cuts)
    if len(cuts) > bounds.MOST_CLAUSES:
        last = cuts[bounds.MOST_CLAUSES]
        return Failed(normal, last, Trouble(last.start, last.end, (), is_bound=True)), tokens
    acts: list[Act] = []
    for cut in cuts:
        act = _understood(cut, context, teach=False)
        if isinstance(act, Trouble):
            return Failed(normal, cut, act), tokens
        acts.append(act)
    return tuple(acts), tokens


def _too_long(text: str) -> Reading:
    most = bounds.MOST_CHARACTERS
    expected = (f"a reply of at most {most:,} characters",)
    return Reading(text, (), Misread(1, most, text[most:], expected, ()))


def _too_many(normal: Normal, cuts: list[Cut]) -> Reading:
    most = bounds.MOST_CLAUSES
    cut = cuts[most]
    expected = (f"at most {most} clauses in a reply",)
    at = normal.column(cut.start)
    saw = normal.said(cut.start, cut.end)
    return Reading(normal.original, (), Misread(most + 1, at, saw, expected, ()))
