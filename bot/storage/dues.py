"""Planned moments: one key fires once, whoever ticks."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Literal

from sqlalchemy import case, delete, func, or_, select, update

from bot.ports import ClaimedDue, Due, DueKind
from bot.storage.rows import due_from_row, due_row
from bot.storage.tables import DUE
from bot.storage.transaction import Transaction


class DueWork(Transaction):
    """Planning, claiming and finishing moments."""

    def plan(self, athlete_id: int, kind: DueKind, dues: Sequence[Due]) -> None:
        """Make the pending moments of that kind exactly these.

        Keys that fired or were dropped stay so. A moment that is claimed just now and
        not among these is dropped rather than forgotten, so that its key cannot fire
        a second time.
        """
        if self._stands(athlete_id, kind, dues):
            return
        if dues:
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
                where=DUE.c.done_at.is_(None) & or_(moved, DUE.c.until != new.until),
            )
            self._connection.execute(upsert, [due_row(athlete_id, due) for due in dues])
        unwanted = (
            (DUE.c.athlete_id == athlete_id)
            & (DUE.c.kind == kind)
            & DUE.c.done_at.is_(None)
            & DUE.c.key.not_in([due.key for due in dues])
        )
        self._connection.execute(delete(DUE).where(unwanted, DUE.c.due_at == DUE.c.at))
        claimed = update(DUE).where(unwanted)
        self._connection.execute(claimed.values(state="dropped", done_at=DUE.c.due_at))

    def _stands(self, athlete_id: int, kind: DueKind, dues: Sequence[Due]) -> bool:
        """True when exactly these are pending: most messages change no plan."""
        query = select(DUE.c.key, DUE.c.at, DUE.c.until).where(
            DUE.c.athlete_id == athlete_id, DUE.c.kind == kind, DUE.c.done_at.is_(None)
        )
        pending = {tuple(row) for row in self._connection.execute(query)}
        return pending == {(due.key, due.at, due.until) for due in dues}

    def claim_due(self, *, now: datetime, limit: int, lease_s: float) -> tuple[ClaimedDue, ...]:
        """Take moments that have come, oldest first, moving each ahead by the lease.

        Moments past their ``until`` are among them: the caller drops and counts those.
        """
        query = (
            select(DUE)
            .where(DUE.c.done_at.is_(None), DUE.c.due_at <= now)
            .order_by(DUE.c.due_at, DUE.c.id)
            .limit(limit)
            .with_for_update(skip_locked=True)
        )
        rows = self._connection.execute(query).all()
        if rows:
            mark = update(DUE).where(DUE.c.id.in_([row.id for row in rows]))
            self._connection.execute(mark.values(due_at=now + timedelta(seconds=lease_s)))
        return tuple(ClaimedDue(row.id, row.athlete_id, due_from_row(row)) for row in rows)

    def finish_due(
        self, due_id: int, *, at: datetime, outcome: Literal["fired", "dropped"]
    ) -> None:
        """The moment is over."""
        mark = update(DUE).where(DUE.c.id == due_id)
        self._connection.execute(mark.values(state=outcome, done_at=at))

    def _release_dues(self) -> None:
        claimed = DUE.c.done_at.is_(None) & (DUE.c.due_at > DUE.c.at)
        self._connection.execute(update(DUE).where(claimed).values(due_at=DUE.c.at))

    def next_due_at(self) -> datetime | None:
        """When the next pending moment comes; None when nothing is planned."""
        query = select(func.min(DUE.c.due_at)).where(DUE.c.done_at.is_(None))
        moment: datetime | None = self._connection.execute(query).scalar()
        return moment

    def _due_count(self) -> int:
        query = select(func.count()).select_from(DUE).where(DUE.c.done_at.is_(None))
        return self._connection.execute(query).scalar_one()
