"""Planned moments: one key fires once, whoever ticks."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any, Literal

from sqlalchemy import Row, bindparam, case, delete, func, select, update

from bot.ports import ClaimedDue, Due
from bot.storage.rows import due_from_row, due_row
from bot.storage.tables import DUE
from bot.storage.transaction import Transaction

_PENDING = select(DUE.c.id, DUE.c.kind, DUE.c.key, DUE.c.at, DUE.c.until).where(
    DUE.c.athlete_id == bindparam("of_athlete"), DUE.c.done_at.is_(None)
)
_CLAIMABLE = (
    select(DUE)
    .where(DUE.c.done_at.is_(None), DUE.c.due_at <= bindparam("now"))
    .order_by(DUE.c.due_at, DUE.c.id)
    .limit(bindparam("most"))
    .with_for_update(skip_locked=True)
)
_FINISH = (
    update(DUE)
    .where(DUE.c.id == bindparam("of_id"))
    .values(state=bindparam("outcome"), done_at=bindparam("over_at"))
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
        """Take moments that have come, oldest first, moving each ahead by the lease.

        Moments past their ``until`` are among them: the caller drops and counts those.
        """
        rows = self._connection.execute(_CLAIMABLE, {"now": now, "most": limit}).all()
        if rows:
            mark = update(DUE).where(DUE.c.id.in_([row.id for row in rows]))
            self._connection.execute(mark.values(due_at=now + timedelta(seconds=lease_s)))
        return tuple(ClaimedDue(row.id, row.athlete_id, due_from_row(row)) for row in rows)

    def finish_due(
        self, due_id: int, *, at: datetime, outcome: Literal["fired", "dropped"]
    ) -> None:
        """The moment is over."""
        self._connection.execute(_FINISH, {"of_id": due_id, "outcome": outcome, "over_at": at})

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
