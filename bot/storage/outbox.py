"""What goes out: queued with the facts it answers, claimed, sent, and accounted for."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import Row, Update, bindparam, case, exists, func, select, update

from bot.ports import Chat, MessageKind, Outgoing, Parcel
from bot.storage.rows import outgoing_row, parcel_from_row
from bot.storage.tables import ATHLETE, OUTBOX
from bot.storage.transaction import Holding, Transaction
from core.errors import Unknown

RANKS: Mapping[MessageKind, int] = {
    "answer": 0,
    "question": 0,
    "timer": 0,
    "reminder": 1,
    "follow-up": 1,
    "digest": 2,
}
"""Who goes first when several chats wait. Rank 0 may rather arrive twice than not at all."""

UNCERTAIN = "uncertain"
"""Why a message is given up that may have arrived: better none than two."""

GONE = "gone"
"""Why a message is given up when its chat is closed to us."""


_OLDER = OUTBOX.alias("older")

# The oldest open message of each chat, if it may be taken now. A chat whose oldest message
# is claimed or waits for another try is left alone, so that its messages keep their order.
_HEADS = (
    select(OUTBOX, ATHLETE.c.chat_id)
    .join(ATHLETE, ATHLETE.c.id == OUTBOX.c.athlete_id)
    .where(
        OUTBOX.c.adapter == bindparam("of_adapter"),
        OUTBOX.c.done_at.is_(None),
        OUTBOX.c.not_before <= bindparam("now"),
        ~exists().where(
            _OLDER.c.athlete_id == OUTBOX.c.athlete_id,
            _OLDER.c.done_at.is_(None),
            _OLDER.c.id < OUTBOX.c.id,
        ),
    )
    .order_by(OUTBOX.c.rank, OUTBOX.c.id)
    .limit(bindparam("most"))
    .with_for_update(of=OUTBOX, skip_locked=True)
)
_CLAIM = (
    update(OUTBOX)
    .where(OUTBOX.c.id.in_(bindparam("ids", expanding=True)))
    .values(
        state="claimed",
        not_before=bindparam("leased_until"),
        attempts=OUTBOX.c.attempts + 1,
        doubts=OUTBOX.c.doubts + case((OUTBOX.c.state == "claimed", 1), else_=0),
    )
)
_SENT = (
    update(OUTBOX)
    .where(OUTBOX.c.id == bindparam("of_id"))
    .values(state="sent", done_at=bindparam("sent_at"), message_id=bindparam("as_id"), why=None)
)
_ADDRESS = Holding(
    select(ATHLETE.c.adapter, ATHLETE.c.gone_at).where(ATHLETE.c.id == bindparam("of_id"))
)


class OutboxWork(Transaction):
    """Queueing, claiming and closing messages."""

    def queue(self, athlete_id: int, messages: Sequence[Outgoing], *, at: datetime) -> None:
        """Put messages in the outbox, in order.

        A chat that was marked gone gets nothing, unless one of them is an answer: then
        the athlete wrote to us and is back.

        Raises:
            Unknown: There is no such athlete.
        """
        if not messages:
            return
        query = _ADDRESS.statement(locks=self._locks)
        row = self._connection.execute(query, {"of_id": athlete_id}).first()
        if row is None:
            raise Unknown("athlete", str(athlete_id))
        if row.gone_at is not None:
            if all(message.kind != "answer" for message in messages):
                return
            mine = update(ATHLETE).where(ATHLETE.c.id == athlete_id)
            self._connection.execute(mine.values(gone_at=None))
        shared = {
            "athlete_id": athlete_id,
            "adapter": row.adapter,
            "queued_at": at,
            "not_before": at,
            "state": "waiting",
            "attempts": 0,
            "doubts": 0,
        }
        rows = [
            shared
            | {"rank": RANKS[m.kind]}
            | outgoing_row(m, athlete_id=athlete_id, seal=self._seal)
            for m in messages
        ]
        self._connection.execute(self._insert(OUTBOX), rows)

    def claim_parcels(
        self, adapter: str, *, now: datetime, limit: int, lease_s: float
    ) -> tuple[Parcel, ...]:
        """Take messages to send: at most one per chat, its oldest; low ranks first.

        A message that was claimed and not closed before its lease ran out is taken again
        if its rank is 0, else given up as uncertain.
        """
        taken: list[Row[Any]] = []
        while not taken:
            values = {"of_adapter": adapter, "now": now, "most": limit}
            heads = self._connection.execute(_HEADS, values).all()
            lost = [row.id for row in heads if row.state == "claimed" and row.rank > 0]
            taken = [row for row in heads if row.id not in lost]
            if not lost:
                break
            self._connection.execute(_given_up(at=now, why=UNCERTAIN).where(OUTBOX.c.id.in_(lost)))
        if taken:
            until = now + timedelta(seconds=lease_s)
            ids = [row.id for row in taken]
            self._connection.execute(_CLAIM, {"ids": ids, "leased_until": until})
        return tuple(
            parcel_from_row(row, doubts=row.doubts + (row.state == "claimed"), seal=self._seal)
            for row in taken
        )

    def sent(self, parcel_id: int, *, at: datetime, message_id: int | None) -> None:
        """It was sent, whatever was thought of it meanwhile."""
        values = {"of_id": parcel_id, "sent_at": at, "as_id": message_id}
        self._connection.execute(_SENT, values)

    def retry(self, parcel_id: int, *, at: datetime, why: str, maybe_sent: bool = False) -> None:
        """Back into the queue, not before ``at``; ``maybe_sent`` if it may have arrived."""
        mark = update(OUTBOX).where(OUTBOX.c.id == parcel_id, OUTBOX.c.done_at.is_(None))
        doubts = OUTBOX.c.doubts + int(maybe_sent)
        self._connection.execute(
            mark.values(state="waiting", not_before=at, why=why, doubts=doubts)
        )

    def give_up(self, parcel_id: int, *, at: datetime, why: str) -> None:
        """Not sent, and not tried again."""
        self._connection.execute(_given_up(at=at, why=why).where(OUTBOX.c.id == parcel_id))

    def mark_gone(self, chat: Chat, *, at: datetime) -> None:
        """The chat is closed to us: what waits there is given up, nothing new is queued."""
        mine = (ATHLETE.c.adapter == chat.adapter) & (ATHLETE.c.chat_id == chat.chat_id)
        mark = update(ATHLETE).where(mine, ATHLETE.c.gone_at.is_(None))
        self._connection.execute(mark.values(gone_at=at))
        athlete = select(ATHLETE.c.id).where(mine).scalar_subquery()
        self._connection.execute(_given_up(at=at, why=GONE).where(OUTBOX.c.athlete_id == athlete))

    def _release_parcels(self, adapter: str, *, now: datetime) -> None:
        claimed = (OUTBOX.c.adapter == adapter) & (OUTBOX.c.state == "claimed")
        self._connection.execute(update(OUTBOX).where(claimed).values(not_before=now))

    def _outbox_count(self) -> int:
        query = select(func.count()).select_from(OUTBOX).where(OUTBOX.c.done_at.is_(None))
        return self._connection.execute(query).scalar_one()


def _given_up(*, at: datetime, why: str) -> Update:
    return (
        update(OUTBOX)
        .where(OUTBOX.c.done_at.is_(None))
        .values(state="given-up", done_at=at, why=why)
    )
