"""What came in: kept once, handled once."""

from datetime import datetime
from typing import Any

from sqlalchemy import bindparam, func, select, update

from bot.ports import Chat, Inbound
from bot.storage.rows import inbound_from_row, inbound_row
from bot.storage.tables import ATHLETE, INBOX
from bot.storage.transaction import Transaction

_SAME = (INBOX.c.source == bindparam("of_source")) & (INBOX.c.update_id == bindparam("of_update"))
_TURN = select(
    func.pg_advisory_xact_lock(
        func.hashtextextended(bindparam("of_chat"), 7_319_205)  # any number, not used elsewhere
    )
)
_FIRST = (
    select(INBOX)
    .where(
        INBOX.c.adapter == bindparam("of_adapter"),
        INBOX.c.chat_id == bindparam("of_chat"),
        INBOX.c.handled_at.is_(None),
    )
    .order_by(INBOX.c.id)
    .limit(1)
)
_HANDLED = (
    update(INBOX)
    .where(_SAME)
    .values(handled_at=bindparam("handled"), problem=bindparam("its_problem"))
)
_HEARD = (
    update(ATHLETE)
    .where(
        ATHLETE.c.adapter == bindparam("of_adapter"),
        ATHLETE.c.chat_id == bindparam("of_chat"),
        ATHLETE.c.gone_at.is_not(None),
    )
    .values(gone_at=None)
)


class InboxWork(Transaction):
    """Keeping and handling what came in."""

    def record(self, inbound: Inbound) -> bool:
        """Keep what came in; False when this source's number was already kept.

        Whoever writes can be reached, so a chat that was marked gone is so no longer.
        """
        insert = self._insert_new(INBOX)
        if self._connection.execute(insert, inbound_row(inbound, self._seal)).first() is None:
            return False
        chat = inbound.chat
        self._connection.execute(_HEARD, {"of_adapter": chat.adapter, "of_chat": chat.chat_id})
        return True

    def waiting(self, limit: int) -> tuple[Inbound, ...]:
        """What was kept and not yet handled, oldest first."""
        query = select(INBOX).where(INBOX.c.handled_at.is_(None)).order_by(INBOX.c.id).limit(limit)
        return tuple(inbound_from_row(row, self._seal) for row in self._connection.execute(query))

    def first_waiting(self, chat: Chat) -> Inbound | None:
        """The oldest of a chat that was kept and not handled; nobody else has it until the end.

        Processes that answer the same chat take turns here, so that what came first is
        answered first whoever kept it.
        """
        if self._connection.dialect.name == "postgresql":  # SQLite has one writer anyway
            self._connection.execute(_TURN, {"of_chat": f"{chat.adapter}:{chat.chat_id}"})
        values = {"of_adapter": chat.adapter, "of_chat": chat.chat_id}
        row = self._connection.execute(_FIRST, values).first()
        return None if row is None else inbound_from_row(row, self._seal)

    def handled(self, inbound: Inbound, *, at: datetime, problem: str | None = None) -> None:
        """Mark it as handled, with the name of the error if handling it failed."""
        values = _key(inbound) | {"handled": at, "its_problem": problem}
        self._connection.execute(_HANDLED, values)

    def _inbox_count(self) -> int:
        query = select(func.count()).select_from(INBOX).where(INBOX.c.handled_at.is_(None))
        return self._connection.execute(query).scalar_one()


def _key(inbound: Inbound) -> dict[str, Any]:
    return {"of_source": inbound.source, "of_update": inbound.update_id}
