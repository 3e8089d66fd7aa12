"""Athletes and their records."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Row, bindparam, func, select, update

from bot.ports import Chat, Loaded
from bot.storage.rows import athlete_owner, entry_from_row, entry_row
from bot.storage.tables import ATHLETE, FACT
from bot.storage.transaction import Holding, Transaction
from core.errors import OutOfRange, Unknown
from core.facts import Entry

NO_TALK = "{}"
"""The conversation's state of a new athlete."""

_TALK = "athlete.talk"

_OF_CHAT = Holding(
    select(ATHLETE).where(
        ATHLETE.c.adapter == bindparam("of_adapter"), ATHLETE.c.chat_id == bindparam("of_chat")
    )
)
_OF_NUMBER = Holding(select(ATHLETE).where(ATHLETE.c.id == bindparam("of_id")))
_FACTS = (
    select(FACT.c.number, FACT.c.reply, FACT.c.at, FACT.c.day, FACT.c.kind, FACT.c.body)
    .where(FACT.c.athlete_id == bindparam("of_id"), FACT.c.number > bindparam("after"))
    .order_by(FACT.c.number)
)
_LAST_NUMBER = select(func.max(FACT.c.number)).where(FACT.c.athlete_id == bindparam("of_id"))
_KEEP_TALK = (
    update(ATHLETE).where(ATHLETE.c.id == bindparam("of_id")).values(talk=bindparam("new_talk"))
)


class AthleteWork(Transaction):
    """Loading and writing one athlete's record."""

    def load(self, chat: Chat) -> Loaded | None:
        """The athlete of that chat, locked until the transaction ends; None when new."""
        query = _OF_CHAT.statement(locks=self._locks)
        values = {"of_adapter": chat.adapter, "of_chat": chat.chat_id}
        row = self._connection.execute(query, values).first()
        return self._loaded(row) if row else None

    def load_id(self, athlete_id: int) -> Loaded:
        """The athlete of that number, locked until the transaction ends.

        Raises:
            Unknown: There is no such athlete.
        """
        query = _OF_NUMBER.statement(locks=self._locks)
        row = self._connection.execute(query, {"of_id": athlete_id}).first()
        if row is None:
            raise Unknown("athlete", str(athlete_id))
        return self._loaded(row)

    def open(self, chat: Chat, *, at: datetime) -> Loaded:
        """A new athlete for that chat; if another process was quicker, the one it opened."""
        opened = self._connection.execute(
            self._insert_new(ATHLETE),
            {"adapter": chat.adapter, "chat_id": chat.chat_id, "opened_at": at, "talk": ""},
        ).scalar()
        if opened is not None:
            self.keep_talk(opened, NO_TALK)  # sealed for the number it has only now
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
        last = self._connection.execute(_LAST_NUMBER, {"of_id": athlete_id}).scalar()
        expected = (last or 0) + 1
        for number, entry in enumerate(entries, expected):
            if entry.number != number:
                raise OutOfRange("number", entry.number, str(number))
        rows = [entry_row(athlete_id, entry, self._seal) for entry in entries]
        self._connection.execute(self._insert(FACT), rows)

    def keep_talk(self, athlete_id: int, talk: str) -> None:
        """Replace the conversation's state."""
        sealed = self._seal.seal(talk, owner=athlete_owner(athlete_id), place=_TALK)
        self._connection.execute(_KEEP_TALK, {"of_id": athlete_id, "new_talk": sealed})

    def _loaded(self, row: Row[Any]) -> Loaded:
        # Facts are only added, so those read before need not be read again.
        key, owner = (row.id, row.opened_at), athlete_owner(row.id)
        known = self._read.get(key) or self._records.get(key) or ()
        values = {"of_id": row.id, "after": len(known)}
        added = self._connection.execute(_FACTS, values).all()
        new = [entry_from_row(fact, owner=owner, seal=self._seal) for fact in added]
        entries = (*known, *new)
        if added:
            self._read[key] = entries
        talk = self._seal.open(row.talk, owner=owner, place=_TALK)
        return Loaded(row.id, Chat(row.adapter, row.chat_id), entries, talk)
