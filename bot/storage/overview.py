"""How far behind the work is, for those who watch the program. Small questions, no texts."""

from datetime import datetime

from sqlalchemy import Engine, bindparam, func, select

from bot.ports import QueueState
from bot.storage.engine import reading
from bot.storage.tables import DUE, INBOX, OUTBOX
from bot.storage.trouble import passing_troubles

_INBOX = select(func.count(), func.min(INBOX.c.at)).where(INBOX.c.handled_at.is_(None))
_OUTBOX = select(func.count(), func.min(OUTBOX.c.queued_at)).where(OUTBOX.c.done_at.is_(None))
_DUE = select(func.count(), func.min(DUE.c.due_at)).where(
    DUE.c.done_at.is_(None), DUE.c.due_at <= bindparam("now")
)
_GIVEN_UP = (
    select(OUTBOX.c.why, func.count())
    .where(OUTBOX.c.state == "given-up", OUTBOX.c.done_at >= bindparam("since"))
    .group_by(OUTBOX.c.why)
    .order_by(func.count().desc(), OUTBOX.c.why)
    .limit(bindparam("most"))
)


def queue_state(engine: Engine, *, now: datetime) -> QueueState:
    """Rows that wait, and since when the oldest does.

    Raises:
        StoreAway: The database cannot be asked.
    """
    with passing_troubles(), reading(engine).begin() as connection:
        inbox = connection.execute(_INBOX).one()
        outbox = connection.execute(_OUTBOX).one()
        due = connection.execute(_DUE, {"now": now}).one()
    return QueueState(inbox[0], inbox[1], outbox[0], outbox[1], due[0], due[1])


def given_up(engine: Engine, *, since: datetime, most: int = 10) -> tuple[tuple[str, int], ...]:
    """Why messages were given up since then, and how many, the most frequent first.

    Raises:
        StoreAway: The database cannot be asked.
    """
    with passing_troubles(), reading(engine).begin() as connection:
        rows = connection.execute(_GIVEN_UP, {"since": since, "most": most}).all()
    return tuple((row[0] or "no reason kept", row[1]) for row in rows)
