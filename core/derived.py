"""What is worked out of an athlete's record: once per athlete, and gone on with as it grows.

An athlete never changes, so what was derived from one stays true of it (``once``). A later
athlete of the same person has mostly the same past: a walk over it goes on where the walk
over the earlier one stopped (``folded``). Neither changes any answer, only how soon it comes.
"""

from collections.abc import Callable, Hashable
from typing import Any, NamedTuple, TypeVar

from core.athlete import Athlete

T = TypeVar("T")
S = TypeVar("S")
I = TypeVar("I")  # noqa: E741 - an item

KEPT_STATES = 4
"""Lengths at which a walk may be taken up: before and after the last day, each with and
without its last item."""


def once(athlete: Athlete, key: Hashable, derive: Callable[[], T]) -> T:
    """What ``derive`` gives, worked out once for this athlete and that key.

    An athlete never changes, so the answer cannot go stale; another athlete begins anew.
    """
    memo = athlete.memo
    if key not in memo:
        memo[key] = derive()
    found: T = memo[key]
    return found


class _Walk(NamedTuple):
    """A walk that was made.

    Attributes:
        items: What was walked over.
        given: What else the steps looked at.
        states: (items walked over, what they came to), longest first.
    """

    items: tuple[Any, ...]
    given: Any
    states: tuple[tuple[int, Any], ...]


def folded(
    athlete: Athlete,
    key: Hashable,
    items: tuple[I, ...],
    more: Callable[[S, tuple[I, ...]], S],
    *,
    begin: S,
    given: Any = None,
) -> S:
    """What all items come to, in order; gone on with from an earlier athlete's walk if it fits.

    Args:
        athlete: Whose.
        key: Which walk; one is kept of each.
        items: What to walk over.
        more: What a state and some further items come to. It must not change the state, and
            taking items in two portions must come to the same as taking them at once.
        begin: The state before the first item.
        given: What else ``more`` looks at: a walk made under something else is not gone on with.
    """
    walks = athlete.walks
    kept: _Walk | None = walks.get(key)
    states: tuple[tuple[int, S], ...] = ()
    if kept is not None and (kept.given is given or kept.given == given):
        states = _usable(kept, items)
    at, state = states[0] if states else (0, begin)
    fresh = items[at:]
    if not fresh:
        return state
    if len(fresh) > 1:
        # The last item may be a day that goes on: the walk can be taken up before it.
        state = more(state, fresh[:-1])
        states = ((len(items) - 1, state), *states)
    state = more(state, fresh[-1:])
    walks[key] = _Walk(items, given, ((len(items), state), *states)[:KEPT_STATES])
    return state


def _usable(kept: _Walk, items: tuple[Any, ...]) -> tuple[tuple[int, Any], ...]:
    """The kept states from which a walk over these items can go on, longest first."""
    if kept.items is items:
        return kept.states
    for place, (length, _) in enumerate(kept.states):
        # Items that are the same object compare at once: a year takes some microseconds.
        if length <= len(items) and items[:length] == kept.items[:length]:
            return kept.states[place:]
    return ()
