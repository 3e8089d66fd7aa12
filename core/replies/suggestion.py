"""Replies that would have been understood, near one that was not.

A search, cheapest first, over the small changes of ``edit``; each result was
read and found whole. Suggestions are shown, never taken.
"""

import math
from collections.abc import Callable
from heapq import heappop, heappush

from core.quantity import Unit
from core.replies.act import Act
from core.replies.edit import edits
from core.replies.trouble import Failed
from core.replies.vocabulary import Vocabulary

_MOST = 3
_MOST_READ = 300
_READING, _FAILURE = 5, 10
_LONGEST = 500
"""Work done while searching, in tokens: a reading costs its tokens and a few more, looking for
changes as much as ten. With the longest reply to search for, in characters, they bound the time.
"""

_JOINING = ";,"
_CLOSING = (",", ";")

_FARTHEST = 10.0
_FURTHER = 1.0
"""The dearest suggestion, and how much dearer than the first one another may be."""

Reader = Callable[[str], tuple[Failed | tuple[Act, ...], int]]
"""Reads a reply and gives its acts, or its first trouble, and how many tokens it read."""


def suggestions(
    failed: Failed, read: Reader, *, vocabulary: Vocabulary, units: Unit
) -> tuple[str, ...]:
    """Up to three replies that are understood whole, each meaning something else, nearest first."""
    if len(failed.normal.original) > _LONGEST:
        return ()
    seen = {failed.normal.original}
    heap: list[tuple[float, int, str]] = []
    found: dict[tuple[Act, ...], str] = {}
    most = math.inf

    def expand(failed: Failed, cost: float) -> None:
        normal = failed.normal
        for edit in edits(failed, vocabulary, units):
            start, end = normal.column(edit.start), normal.column(edit.end)
            text = _spliced(normal.original, start, end, edit.text)
            if text:
                heappush(heap, (cost + edit.cost, len(heap), text))

    expand(failed, 0.0)
    budget = _MOST_READ
    while heap and len(found) < _MOST and budget > 0:
        cost, _, text = heappop(heap)
        if cost >= min(most, _FARTHEST):
            break
        if text in seen:
            continue
        seen.add(text)
        again, tokens = read(text)
        budget -= tokens + _READING
        if isinstance(again, Failed):
            budget -= _FAILURE
            expand(again, cost)
        else:
            found.setdefault(again, text)
            most = min(most, cost + _FURTHER)
    return tuple(found.values())


def _spliced(original: str, start: int, end: int, instead: str) -> str:
    """The reply with a part exchanged, and the space around it as a person would leave it."""
    front, back = original[:start], original[end:]
    if instead[:1] in (",", ";") or (not instead and back.lstrip()[:1] in _CLOSING):
        front, back = front.rstrip(" "), back if instead else back.lstrip(" ")
    elif not instead and front[-1:] in ("", " "):
        back = back.lstrip(" ")
    glued = not instead and start < end and front[-1:].isalnum() and back[:1].isalnum()
    spliced = (front + (" " if glued else instead) + back).strip()
    # What was left out takes the sign at the edge with it.
    return spliced if instead else spliced.strip(_JOINING).strip()
