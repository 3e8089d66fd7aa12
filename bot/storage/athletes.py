"""Athletes and their records."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Row, func, select, update

from bot.ports import Chat, Loaded
from bot.storage.rows import entry_from_row, entry_row
from bot.storage.tables import ATHLETE, FACT
from bot.storage.transaction import Transaction
from core.errors import OutOfRange, Unknown
from core.facts import Entry

NO_TALK = "{}"
"""The conversation's state of a new athlete."""


class AthleteWork(Transaction):
    """Loading and writing one athlete's record."""

    def load(self, chat: Chat) -> Loaded | None:
        """The athlete of that chat, locked until the transaction ends; None when new."""
        mine = (ATHLETE.c.adapter == chat.adapter) & (ATHLETE.c.chat_id == chat.chat_id)
        row = self._connection.execute(self._held(select(ATHLETE).where(mine))).first()
        return self._loaded(row) if row else None

    def load_id(self, athlete_id: int) -> Loaded:
        """The athlete of that number, locked until the transaction ends.

        Raises:
            Unknown: There is no such athlete.
        """
        query = self._held(select(ATHLETE).where(ATHLETE.c.id == athlete_id))
        row = self._connection.execute(query).first()
        if row is None:
            raise Unknown("athlete", str(athlete_id))
        return self._loaded(row)

    def open(self, chat: Chat, *, at: datetime) -> Loaded:
        """A new athlete for that chat; if another process was quicker, the one it opened."""
        insert = self._insert(ATHLETE).on_conflict_do_nothing()
        self._connection.execute(
            insert,
            {"adapter": chat.adapter, "chat_id": chat.chat_id, "opened_at": at, "talk": NO_TALK},
        )
        loaded = self.load(chat)
        if loaded is None:
            raise Unknown("chat", str(chat.chat_id))
        return loaded

    def athletes(self) -> tuple[tuple[int, Chat], ...]:
        """Every athlete's number and chat, oldest first."""
        query = select(ATHLETE.c.id, ATHLETE.c.adapter, ATHLETE.c.chat_id).order_by(ATHLETE.c.id)
        return tuple(
            (number, Chat(adapter, chat_id))
            for number, adapter, chat_id in self._connection.execute(query)
        )

    def append(self, athlete_id: int, entries: Sequence[Entry]) -> None:
        """Add facts.

        Raises:
            OutOfRange: The numbers do not follow on from those stored.
        """
        if not entries:
            return
        last = select(func.max(FACT.c.number)).where(FACT.c.athlete_id == athlete_id)
        expected = (self._connection.execute(last).scalar() or 0) + 1
        for number, entry in enumerate(entries, expected):
            if entry.number != number:
                raise OutOfRange("number", entry.number, str(number))
        rows = [entry_row(athlete_id, entry) for entry in entries]
        self._connection.execute(self._insert(FACT), rows)

    def keep_talk(self, athlete_id: int, talk: str) -> None:
        """Replace the conversation's state."""
        mine = update(ATHLETE).where(ATHLETE.c.id == athlete_id)
        self._connection.execute(mine.values(talk=talk))

    def _loaded(self, row: Row[Any]) -> Loaded:
        query = (
            select(FACT.c.number, FACT.c.reply, FACT.c.at, FACT.c.day, FACT.c.kind, FACT.c.body)
            .where(FACT.c.athlete_id == row.id)
            .order_by(FACT.c.number)
        )
        facts = self._connection.execute(query).all()
        entries = tuple(entry_from_row(fact) for fact in facts)
        return Loaded(row.id, Chat(row.adapter, row.chat_id), entries, row.talk)
