"""The grammar's LALR table as plain rows, and the short loop that walks it.

The library makes the table, and has a loop of its own; that one looks up every callback by
the hash of its rule, and raises where a token does not fit. The search for suggestions reads
mostly what does not fit, so here that is a value.
"""

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from lark import Lark
from lark.parsers.lalr_analysis import Shift

from core.replies.token import Token

_END = "$END"


class _Step(NamedTuple):
    """What to do for a terminal: go on to ``state``, or first make one value of ``size``."""

    state: int
    build: Callable[[list[Any]], object] | None
    size: int
    origin: str


class Stuck(NamedTuple):
    """Where a clause stopped to fit: the token without a place, None at the end; the way there."""

    token: Token | None
    states: tuple[int, ...]


class ParseTable:
    """The rows of a parser that was made for tokens of one kind.

    Attributes:
        rows: For each state, what to do for each terminal that has a place there.
    """

    def __init__(self, parser: Lark) -> None:
        lalr: Any = parser.parser.parser
        table = lalr._parse_table
        self._starts: dict[str, int] = table.start_states
        self._ends: dict[str, int] = table.end_states
        self.rows = {
            state: {
                terminal: _Step(does[1], None, 0, "")
                if does[0] is Shift
                else _Step(
                    0, lalr.parser.callbacks[does[1]], len(does[1].expansion), does[1].origin.name
                )
                for terminal, does in actions.items()
            }
            for state, actions in table.states.items()
        }

    def walk(self, tokens: Sequence[Token], *, start: str) -> object | Stuck:
        """The value that the tokens make, or where they stopped to fit."""
        rows, end = self.rows, self._ends[start]
        states = [self._starts[start]]
        values: list[Any] = []
        for token in (*tokens, None):
            terminal = _END if token is None else token.type
            while True:
                step = rows[states[-1]].get(terminal)
                if step is None:
                    return Stuck(token, tuple(states))
                state, build, size, origin = step
                if build is None:
                    states.append(state)
                    values.append(token)
                    break
                made = build(values[len(values) - size :])
                if size:
                    del states[-size:], values[-size:]
                values.append(made)
                states.append(rows[states[-1]][origin].state)
                if token is None and states[-1] == end:
                    return made
        raise AssertionError("the end of a clause is shifted by no table")

    def accepted(self, stuck: Stuck, *, start: str) -> frozenset[str]:
        """The terminals that would have had a place there."""
        row = self.rows[stuck.states[-1]]
        return frozenset(
            terminal
            for terminal in row
            if terminal.isupper() and self._fits(stuck, terminal, start)
        )

    def _fits(self, stuck: Stuck, terminal: str, start: str) -> bool:
        """Whether all that has to be made before it lets the terminal in."""
        states = list(stuck.states)
        while True:
            step = self.rows[states[-1]].get(terminal)
            if step is None:
                return False
            if step.build is None:
                return True
            if step.size:
                del states[-step.size :]
            states.append(self.rows[states[-1]][step.origin].state)
            if terminal == _END and states[-1] == self._ends[start]:
                return True
