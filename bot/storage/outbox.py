"""What goes out: queued with the facts it answers, claimed, sent, and accounted for."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from sqlalchemy import Row, Select, Update, bindparam, case, exists, func, select, update

from bot.ports import Chat, Claim, MessageKind, Outgoing, Parcel, SendLimits, SendResult
from bot.storage.rows import outgoing_row, parcel_from_row
from bot.storage.tables import ATHLETE, CHAT_TURN, OUTBOX
from bot.storage.transaction import Holding
from bot.storage.turns import AHEAD, TurnWork
from core.errors import Unknown

RANKS: Mapping[MessageKind, int] = {
    "answer": 0,
    "question": 0,
    "timer": 0,
    "reminder": 1,
    "follow-up": 1,
    "digest": 2,
}
"""Who goes first when several chats wait."""

UNCERTAIN: SendResult = "uncertain"
"""Why a message is given up of which two may have arrived, or one and two would be worse."""

GONE = "gone"
"""Why a message is given up when its chat is closed to us."""


KEPT_TRYING = timedelta(hours=24)
"""How long a message is tried that has no end of its own. The chat service, too, keeps what it
could not deliver for a day."""

_OLDER = OUTBOX.alias("older")
_ALL_CHATS = datetime(9999, 1, 1, tzinfo=UTC)

_IS_OLDEST = ~exists().where(
    _OLDER.c.athlete_id == OUTBOX.c.athlete_id,
    _OLDER.c.done_at.is_(None),
    _OLDER.c.id < OUTBOX.c.id,
)
_MAY_BE_TAKEN = (
    (OUTBOX.c.adapter == bindparam("of_adapter"))
    & OUTBOX.c.done_at.is_(None)
    & (OUTBOX.c.not_before <= bindparam("now"))
)
_OF_CHAT = OUTBOX.c.athlete_id == CHAT_TURN.c.athlete_id

# The oldest open message of each chat, if it may be taken now. A chat whose oldest message
# is claimed, waits for another try or for its turn is left alone, so that its messages keep
# their order.
_HEADS = (
    select(OUTBOX, ATHLETE.c.chat_id, CHAT_TURN.c.spent_until)
    .join(ATHLETE, ATHLETE.c.id == OUTBOX.c.athlete_id)
    .outerjoin(CHAT_TURN, _OF_CHAT)
    .where(
        _MAY_BE_TAKEN,
        _IS_OLDEST,
        CHAT_TURN.c.spent_until.is_(None) | (CHAT_TURN.c.spent_until <= bindparam("chats_until")),
    )
    .order_by(OUTBOX.c.rank, OUTBOX.c.id)
    .limit(bindparam("most"))
    .with_for_update(of=OUTBOX, skip_locked=True)
)
_NEXT_CHAT = (
    select(func.min(CHAT_TURN.c.spent_until))
    .select_from(OUTBOX)
    .join(CHAT_TURN, _OF_CHAT)
    .where(_MAY_BE_TAKEN, CHAT_TURN.c.spent_until > bindparam("chats_until"))
)
_STALE = (
    select(OUTBOX.c.id)
    .where(_MAY_BE_TAKEN, OUTBOX.c.until < bindparam("now"))
    .with_for_update(skip_locked=True)
)
_CLAIM = (
    update(OUTBOX)
    .where(OUTBOX.c.id.in_(bindparam("ids", expanding=True)))
    .values(
        state="claimed",
        not_before=bindparam("leased_until"),
        attempts=OUTBOX.c.attempts + 1,
        doubts=case(
            ((OUTBOX.c.state == "claimed") & (OUTBOX.c.doubts == 0), 1), else_=OUTBOX.c.doubts
        ),
    )
)
_CALLING = (
    update(OUTBOX)
    .where(OUTBOX.c.id == bindparam("of_id"), OUTBOX.c.state == "claimed")
    .values(state="calling")
)
_SENT = (
    update(OUTBOX)
    .where(OUTBOX.c.id == bindparam("of_id"))
    .values(state="sent", done_at=bindparam("sent_at"), message_id=bindparam("as_id"), why=None)
)
_ADDRESS = Holding(
    select(ATHLETE.c.adapter, ATHLETE.c.gone_at).where(ATHLETE.c.id == bindparam("of_id"))
)


class OutboxWork(TurnWork):
    """Queueing, claiming and closing messages."""

    def queue(
        self,
        athlete_id: int,
        messages: Sequence[Outgoing],
        *,
        at: datetime,
        until: datetime | None = None,
    ) -> None:
        """Put messages in the outbox, in order; past ``until`` they are not sent any more.

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
            "until": until or at + KEPT_TRYING,
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
        """Take messages to show, however many: at most one per chat, its oldest; by rank."""
        heads, _ = self._heads(adapter, now=now, most=limit, chats_until=_ALL_CHATS)
        self._take(heads, until=now + timedelta(seconds=lease_s))
        return tuple(self._parcel(row, goes_at=None) for row in heads)

    def claim_turns(
        self, adapter: str, *, now: datetime, limit: int, lease_s: float, limits: SendLimits
    ) -> Claim:
        """Take messages to send, as far as the account has turns: low ranks first.

        At most one per chat, its oldest. A message that was claimed and not closed before
        its lease ran out is taken again, unless two of its tries may have arrived.
        """
        turns = self._turns(adapter, limits, now=now, holding=False)
        if turns.silent_until is not None:
            return Claim((), silent_until=turns.silent_until)
        if not turns.count:
            return Claim((), turns.first_at)
        credit = timedelta(seconds=(limits.chat_burst - 1) / limits.chat_per_s)
        chats_until = now + AHEAD + credit
        most = min(limit, turns.count)
        heads, closed = self._heads(adapter, now=now, most=most, chats_until=chats_until)
        if not heads:
            again_at = self._next_chat_turn(adapter, now=now, chats_until=chats_until)
            return Claim((), again_at, closed)
        # Locked only where something is to be sent: who finds nothing keeps nobody waiting.
        self._make_account(adapter)
        turns = self._turns(adapter, limits, now=now, holding=True)
        taken = heads[: turns.count]
        starts = [
            max(now, turns.at(index), row.spent_until - credit if row.spent_until else now)
            for index, row in enumerate(taken)
        ]
        if taken:
            self._take(taken, until=now + timedelta(seconds=lease_s))
            self._spend(adapter, turns, taken=len(taken))
            spent = [max(at, row.spent_until or at) for at, row in zip(starts, taken, strict=True)]
            ids = [row.athlete_id for row in taken]
            self._spend_chats(list(zip(ids, spent, strict=True)), limits)
        again_at = turns.at(len(taken)) if len(taken) == turns.count else None
        if again_at is None and len(heads) < most:
            again_at = self._next_chat_turn(adapter, now=now, chats_until=chats_until)
        return Claim(tuple(map(self._parcel, taken, starts)), again_at, closed)

    def _heads(
        self, adapter: str, *, now: datetime, most: int, chats_until: datetime
    ) -> tuple[list[Row[Any]], tuple[tuple[MessageKind, SendResult], ...]]:
        """What may be taken; and those given up on the way, since their time or chance is over."""
        closed: list[tuple[MessageKind, SendResult]] = []
        values = {"of_adapter": adapter, "now": now, "most": most, "chats_until": chats_until}
        while True:
            heads = list(self._connection.execute(_HEADS, values))
            uncertain = [row.id for row in heads if row.state == "calling"]
            if any(row.until is not None and row.until < now for row in heads):
                closed += self._give_up_all(_STALE, values, at=now, why="stale")
            elif uncertain:
                these = select(OUTBOX.c.id).where(OUTBOX.c.id.in_(uncertain))
                closed += self._give_up_all(these, {}, at=now, why=UNCERTAIN)
            else:
                return heads, tuple(closed)

    def _give_up_all(
        self, ids: Select[Any], values: dict[str, Any], *, at: datetime, why: SendResult
    ) -> list[tuple[MessageKind, SendResult]]:
        found = list(self._connection.execute(ids, values).scalars())
        mark = _given_up(at=at, why=why).where(OUTBOX.c.id.in_(found)).returning(OUTBOX.c.kind)
        return [(kind, why) for kind in self._connection.execute(mark).scalars()]

    def _take(self, rows: Sequence[Row[Any]], *, until: datetime) -> None:
        if rows:
            ids = [row.id for row in rows]
            self._connection.execute(_CLAIM, {"ids": ids, "leased_until": until})

    def _parcel(self, row: Row[Any], goes_at: datetime | None) -> Parcel:
        doubts = max(row.doubts, int(row.state == "claimed"))
        return replace(parcel_from_row(row, doubts=doubts, seal=self._seal), goes_at=goes_at)

    def _next_chat_turn(
        self, adapter: str, *, now: datetime, chats_until: datetime
    ) -> datetime | None:
        """When the next chat that waits for nothing but its turn may be claimed."""
        values = {"of_adapter": adapter, "now": now, "chats_until": chats_until}
        spent: datetime | None = self._connection.execute(_NEXT_CHAT, values).scalar()
        return None if spent is None else now + (spent - chats_until)

    def calling(self, parcel_id: int) -> None:
        """From now on this try may arrive."""
        self._connection.execute(_CALLING, {"of_id": parcel_id})

    def renew(self, parcel_ids: Sequence[int], *, until: datetime) -> None:
        """Keep the leases of messages that are being sent."""
        mine = OUTBOX.c.id.in_(parcel_ids) & OUTBOX.c.state.in_(("claimed", "calling"))
        self._connection.execute(update(OUTBOX).where(mine).values(not_before=until))

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
        claimed = (OUTBOX.c.adapter == adapter) & OUTBOX.c.state.in_(("claimed", "calling"))
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
