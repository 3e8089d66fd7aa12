"""Planned moments: one key fires once, whoever ticks."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any, Literal

from sqlalchemy import (
    ColumnElement,
    Row,
    Select,
    bindparam,
    case,
    delete,
    func,
    select,
    text,
    update,
)

from bot.ports import ClaimedDue, Due, DueKind
from bot.storage.rows import due_from_row, due_row
from bot.storage.tables import DUE
from bot.storage.transaction import Transaction

SAYS_MORE: Mapping[DueKind, int] = {"timer": 2, "reminder": 1, "follow-up": 0}
"""Which of an athlete's moments is said when several have come: the others are dropped."""

_PENDING = select(DUE.c.id, DUE.c.kind, DUE.c.key, DUE.c.at, DUE.c.until).where(
    DUE.c.athlete_id == bindparam("of_athlete"), DUE.c.done_at.is_(None)
)
_IS_TIMER = DUE.c.kind == text("'timer'")  # spelt out, as in its index


def _claimable(these: ColumnElement[bool]) -> Select[Any]:
    return (
        select(DUE)
        .where(DUE.c.done_at.is_(None), these, DUE.c.due_at <= bindparam("now"))
        .order_by(DUE.c.due_at, DUE.c.id)
        .limit(bindparam("most"))
        .with_for_update(skip_locked=True)
    )


_CLAIMABLE_TIMERS = _claimable(_IS_TIMER)
_CLAIMABLE_OTHERS = _claimable(~_IS_TIMER)
_HAVE_COME = select(DUE.c.id, DUE.c.kind, DUE.c.at).where(
    DUE.c.athlete_id == bindparam("of_athlete"),
    DUE.c.done_at.is_(None),
    DUE.c.at <= bindparam("now"),
    DUE.c.until >= bindparam("now"),
)
_FINISH = (
    update(DUE)
    .where(
        DUE.c.id == bindparam("of_id"), DUE.c.done_at.is_(None), DUE.c.at <= bindparam("over_at")
    )
    .values(state=bindparam("outcome"), done_at=bindparam("over_at"))
    .returning(DUE.c.id)
)
_NEXT = select(func.min(DUE.c.due_at)).where(DUE.c.done_at.is_(None))


class DueWork(Transaction):
    """Planning, claiming and finishing moments."""

    def plan(self, athlete_id: int, dues: Sequence[Due]) -> None:
        """Make the athlete's pending moments exactly these.

        Keys that fired or were dropped stay so. A moment that is claimed just now and
        not among these is dropped rather than forgotten, so that its key cannot fire
        a second time.
        """
        rows = self._connection.execute(_PENDING, {"of_athlete": athlete_id}).all()
        pending = {(row.kind, row.key): row for row in rows}
        wanted = {(due.kind, due.key) for due in dues}
        changed = [due for due in dues if not _stands(due, pending.get((due.kind, due.key)))]
        if changed:
            self._write(athlete_id, changed)
        unwanted = [row.id for place, row in pending.items() if place not in wanted]
        if unwanted:
            self._forget(unwanted)

    def _write(self, athlete_id: int, dues: Sequence[Due]) -> None:
        insert = self._insert(DUE)
        new = insert.excluded
        moved = DUE.c.at != new.at
        upsert = insert.on_conflict_do_update(
            index_elements=["athlete_id", "kind", "key"],
            set_={
                "at": new.at,
                "until": new.until,
                "due_at": case((moved, new.at), else_=DUE.c.due_at),
            },
            where=DUE.c.done_at.is_(None),
        )
        self._connection.execute(upsert, [due_row(athlete_id, due) for due in dues])

    def _forget(self, ids: Sequence[int]) -> None:
        unclaimed = DUE.c.id.in_(ids) & (DUE.c.due_at == DUE.c.at)
        self._connection.execute(delete(DUE).where(unclaimed))
        claimed = update(DUE).where(DUE.c.id.in_(ids), DUE.c.done_at.is_(None))
        self._connection.execute(claimed.values(state="dropped", done_at=DUE.c.due_at))

    def claim_due(self, *, now: datetime, limit: int, lease_s: float) -> tuple[ClaimedDue, ...]:
        """Take moments that have come, timers first, then the oldest, each for the lease.

        Moments past their ``until`` are among them: the caller drops and counts those.
        """
        rows: list[Row[Any]] = []
        for query in (_CLAIMABLE_TIMERS, _CLAIMABLE_OTHERS):
            if len(rows) < limit:
                rows += self._connection.execute(query, {"now": now, "most": limit - len(rows)})
        if rows:
            mark = update(DUE).where(DUE.c.id.in_([row.id for row in rows]))
            self._connection.execute(mark.values(due_at=now + timedelta(seconds=lease_s)))
        return tuple(ClaimedDue(row.id, row.athlete_id, due_from_row(row)) for row in rows)

    def is_outdone(self, claimed: ClaimedDue, *, now: datetime) -> bool:
        """True when another moment of this athlete has come that says more, or later news.

        After a pause of the program several may have come at once: one is said.
        """
        values = {"of_athlete": claimed.athlete_id, "now": now}
        others = self._connection.execute(_HAVE_COME, values)
        mine = (SAYS_MORE[claimed.due.kind], claimed.due.at, claimed.id)
        return any((SAYS_MORE[kind], at, number) > mine for number, kind, at in others)

    def finish_due(
        self, due_id: int, *, at: datetime, outcome: Literal["fired", "dropped"]
    ) -> bool:
        """The moment is over; False if it was over before, or was moved to a later time."""
        values = {"of_id": due_id, "outcome": outcome, "over_at": at}
        return self._connection.execute(_FINISH, values).first() is not None

    def _release_dues(self) -> None:
        claimed = DUE.c.done_at.is_(None) & (DUE.c.due_at > DUE.c.at)
        self._connection.execute(update(DUE).where(claimed).values(due_at=DUE.c.at))

    def next_due_at(self) -> datetime | None:
        """When the next pending moment comes; None when nothing is planned."""
        moment: datetime | None = self._connection.execute(_NEXT).scalar()
        return moment

    def _due_count(self) -> int:
        query = select(func.count()).select_from(DUE).where(DUE.c.done_at.is_(None))
        return self._connection.execute(query).scalar_one()


def _stands(due: Due, row: Row[*tuple[Any, ...]] | None) -> bool:
    """True when it is planned so already: most messages change no plan."""
    return row is not None and (row.at, row.until) == (due.at, due.until)
