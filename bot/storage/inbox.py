"""What came in: kept once, handled once."""

from datetime import datetime

from sqlalchemy import ColumnElement, func, select, update

from bot.ports import Inbound
from bot.storage.rows import inbound_from_row, inbound_row
from bot.storage.tables import ATHLETE, INBOX
from bot.storage.transaction import Transaction


class InboxWork(Transaction):
    """Keeping and handling what came in."""

    def record(self, inbound: Inbound) -> bool:
        """Keep what came in; False when this source's number was already kept.

        Whoever writes can be reached, so a chat that was marked gone is so no longer.
        """
        insert = self._insert(INBOX).on_conflict_do_nothing().returning(INBOX.c.id)
        if self._connection.execute(insert, inbound_row(inbound)).first() is None:
            return False
        heard = update(ATHLETE).where(
            ATHLETE.c.adapter == inbound.chat.adapter,
            ATHLETE.c.chat_id == inbound.chat.chat_id,
            ATHLETE.c.gone_at.is_not(None),
        )
        self._connection.execute(heard.values(gone_at=None))
        return True

    def waiting(self, limit: int) -> tuple[Inbound, ...]:
        """What was kept and not yet handled, oldest first."""
        query = select(INBOX).where(INBOX.c.handled_at.is_(None)).order_by(INBOX.c.id).limit(limit)
        return tuple(inbound_from_row(row) for row in self._connection.execute(query))

    def is_waiting(self, inbound: Inbound) -> bool:
        """True when it was kept and not yet handled; it is then locked until the end."""
        query = select(INBOX.c.id).where(_same(inbound), INBOX.c.handled_at.is_(None))
        return self._connection.execute(self._held(query)).first() is not None

    def handled(self, inbound: Inbound, *, at: datetime, problem: str | None = None) -> None:
        """Mark it as handled, with the name of the error if handling it failed."""
        mark = update(INBOX).where(_same(inbound))
        self._connection.execute(mark.values(handled_at=at, problem=problem))

    def _inbox_count(self) -> int:
        query = select(func.count()).select_from(INBOX).where(INBOX.c.handled_at.is_(None))
        return self._connection.execute(query).scalar_one()


def _same(inbound: Inbound) -> ColumnElement[bool]:
    return (INBOX.c.source == inbound.source) & (INBOX.c.update_id == inbound.update_id)
