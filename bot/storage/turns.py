"""Turns to send: one budget for everything that an account sends, whichever process sends it.

Turns stand in a row, ``1 / per_s`` apart. The account's row says up to when they are spent, so
that whoever claims messages takes the next ones in the same transaction: one row for a batch,
not one for a message. Turns that nobody took are lost, but for those of the last moment.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlalchemy import bindparam, delete, select, update

from bot.ports import SendLimits
from bot.storage.tables import ACCOUNT, CHAT_TURN
from bot.storage.transaction import Holding, Transaction

AHEAD = timedelta(milliseconds=100)
"""How far ahead turns are given out: what is claimed and waits for its turn stands behind
nothing that comes meanwhile, and is in doubt if its process dies. House rule."""

BEHIND = timedelta(milliseconds=200)
"""Turns that passed in this time and were not taken are made up for: a claim is seldom on time."""

_LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)

_ACCOUNT = Holding(select(ACCOUNT).where(ACCOUNT.c.adapter == bindparam("of_adapter")))
_SPEND = (
    update(ACCOUNT)
    .where(ACCOUNT.c.adapter == bindparam("of_adapter"))
    .values(spent_until=bindparam("until"))
)


@dataclass(frozen=True, slots=True)
class Turns:
    """The turns of an account that may be taken now.

    Attributes:
        first_at: When the first is. Aware, UTC.
        count: How many there are, >= 0.
        step: From one to the next.
        silent_until: Until when the service wants to hear nothing; None when it listens.
    """

    first_at: datetime
    count: int
    step: timedelta
    silent_until: datetime | None = None

    def at(self, index: int) -> datetime:
        """When that turn is; the first has index 0."""
        return self.first_at + index * self.step


class TurnWork(Transaction):
    """Giving out turns."""

    def hold(self, adapter: str, *, until: datetime) -> None:
        """Nothing is claimed for that account before ``until``, by any process."""
        self._make_account(adapter)
        longer = ACCOUNT.c.silent_until.is_(None) | (ACCOUNT.c.silent_until < until)
        mine = update(ACCOUNT).where(ACCOUNT.c.adapter == adapter, longer)
        self._connection.execute(mine.values(silent_until=until))

    def _turns(self, adapter: str, limits: SendLimits, *, now: datetime, holding: bool) -> Turns:
        """The account's free turns up to a little ahead of now; ``holding`` locks them."""
        query = _ACCOUNT.statement(locks=holding)
        row = self._connection.execute(query, {"of_adapter": adapter}).first()
        spent_until = row.spent_until if row else _LONG_AGO
        silent_until = row.silent_until if row else None
        step = timedelta(seconds=1 / limits.per_s)
        first_at = max(spent_until, now - BEHIND)
        if silent_until is not None and silent_until > now:
            return Turns(first_at, 0, step, silent_until)
        count = 0 if first_at > now + AHEAD else (now + AHEAD - first_at) // step + 1
        return Turns(first_at, count, step)

    def _spend(self, adapter: str, turns: Turns, *, taken: int) -> None:
        self._connection.execute(_SPEND, {"of_adapter": adapter, "until": turns.at(taken)})

    def _spend_chats(self, athletes: Sequence[tuple[int, datetime]], limits: SendLimits) -> None:
        """Spend a turn of each of these athletes' chats, at that moment."""
        step = timedelta(seconds=1 / limits.chat_per_s)
        insert = self._insert(CHAT_TURN)
        upsert = insert.on_conflict_do_update(
            index_elements=["athlete_id"], set_={"spent_until": insert.excluded.spent_until}
        )
        rows = [{"athlete_id": athlete, "spent_until": at + step} for athlete, at in athletes]
        self._connection.execute(upsert, rows)

    def _make_account(self, adapter: str) -> None:
        new = {"adapter": adapter, "spent_until": _LONG_AGO}
        insert = self._insert(ACCOUNT).on_conflict_do_nothing()
        self._connection.execute(insert, new)

    def _forget_chat_turns(self, *, now: datetime) -> None:
        """Turns that are past limit nothing any more."""
        self._connection.execute(delete(CHAT_TURN).where(CHAT_TURN.c.spent_until < now))
