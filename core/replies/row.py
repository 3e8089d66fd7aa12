"""Efforts in a row, one for each set: ``4x22 ok ok hard fail``."""

from collections.abc import Iterator
from decimal import Decimal

from core.replies.group import Apart, Group
from core.replies.node import EffortRow, EffortSaid, Joint, OnSet, Part
from core.replies.trouble import Trouble


def row_at(parts: tuple[Part, ...], start: int) -> tuple[tuple[EffortSaid, ...], int]:
    """The efforts that follow each other from ``start`` on, and how many parts they take.

    Commas may stand between them. An effort in front of "on 3" is not one of them.
    """
    row: list[EffortSaid] = []
    end = start
    for index in range(start, len(parts)):
        part = parts[index]
        after = parts[index + 1] if index + 1 < len(parts) else None
        if isinstance(part, EffortSaid) and not isinstance(after, OnSet):
            row.append(part)
            end = index + 1
        elif isinstance(part, EffortRow):
            row.extend(part.efforts)
            end = index + 1
        elif not (isinstance(part, Joint) and index > start):
            break
    return tuple(row), end - start


def judged(row: tuple[EffortSaid, ...], groups: list[Group]) -> tuple[Apart, ...] | Trouble | None:
    """What the row says of each set; None where it says one effort of all, in several words.

    A row belongs to the last group or list if that has as many sets, else to all sets of
    its side. Sets that somebody judged already are not judged again.
    """
    at, end = row[1].at, row[-1].end
    spans = [groups[start:] for start in _starts(groups)]
    for span in spans:
        if sets_in(span) == len(row):
            for group in span:
                group.is_judged = True
            # Each effort holds from its set on, until the next one says otherwise.
            return tuple(
                Apart(len(groups), len(row) - place, Decimal(0), Group(effort=said), at, end)
                for place, said in enumerate(row)
            )
    same = len({said.effort for said in row}) == 1
    spelt = [said.word for said in row if said.word.isalpha()]
    if same and len(spelt) == len(set(spelt)) and not any(said.terminal == "DONE" for said in row):
        return None
    most = sets_in(spans[-1]) if spans else Decimal(0)
    each = f"an effort for each of the {most:f} sets" if most > 1 else "one effort for the set"
    instead = ("",) if same else (f"last {row[1].word}",) if len(row) == 2 and most > 2 else ()
    return Trouble(at, end, (each, "one effort for all of them"), instead)


def _starts(groups: list[Group]) -> Iterator[int]:
    """Where the last list begins, and where the sets of its side that nobody judged begin."""
    start = len(groups) - 1
    if start < 0 or not groups[start].known or not groups[start].is_open:
        return
    while groups[start].listed and _goes_on(groups, start):
        start -= 1
    yield start
    while start > 0 and _goes_on(groups, start):
        start -= 1
    yield start


def _goes_on(groups: list[Group], start: int) -> bool:
    before = groups[start - 1]
    return start > 0 and before.side == groups[start].side and before.is_open


def sets_in(groups: list[Group]) -> Decimal:
    """How many sets the groups are."""
    counts = (group.known.get("count") for group in groups)
    return sum((Decimal(1) if count is None else count.number for count in counts), Decimal(0))
