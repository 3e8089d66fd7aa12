"""Letting go of what is over, once it is no longer needed to tell what happened before.

Messages that came in are kept for three days: the chat service delivers again for one day,
and after a week without any it numbers anew, when an old number must not swallow a new message.
What was given up stays a month, as the record that it was. A planned moment fires once, so it
stays far longer than the day or so in which its key could be planned again.
"""

from datetime import datetime, timedelta

from sqlalchemy import ColumnElement, Table, delete, select

from bot.storage.tables import DUE, INBOX, OUTBOX
from bot.storage.turns import TurnWork

HEARD_KEPT = timedelta(days=3)
SENT_KEPT = timedelta(days=3)
GIVEN_UP_KEPT = timedelta(days=30)
MOMENTS_KEPT = timedelta(days=30)


class PruneWork(TurnWork):
    """Deleting finished rows."""

    def prune(self, *, now: datetime, limit: int) -> int:
        """Delete what is over and no longer needed, at most so much of each kind; how much."""
        self._forget_chat_turns(now=now)
        is_sent = OUTBOX.c.state == "sent"
        old = (
            INBOX.c.handled_at < now - HEARD_KEPT,
            (OUTBOX.c.done_at < now - SENT_KEPT) & is_sent,
            (OUTBOX.c.done_at < now - GIVEN_UP_KEPT) & ~is_sent,
            (DUE.c.done_at < now - MOMENTS_KEPT) & (DUE.c.until < now - MOMENTS_KEPT),
        )
        tables = (INBOX, OUTBOX, OUTBOX, DUE)
        return sum(self._delete(*each, limit) for each in zip(tables, old, strict=True))

    def _delete(self, table: Table, old: ColumnElement[bool], limit: int) -> int:
        # In bites: nobody is to wait long for the rows, or on SQLite for the file.
        these = select(table.c.id).where(old).limit(limit).scalar_subquery()
        return self._connection.execute(delete(table).where(table.c.id.in_(these))).rowcount
