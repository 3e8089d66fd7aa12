"""The tables. Their classes never leave this package; ``rows`` turns rows into values and back.

Keys and the numbers that chat services give are 64 bits wide: user numbers need
up to 52 of them. Instants are aware UTC (SQLModel's own type). JSON is kept as
text, so that both databases hold the same bytes.

A row that is still to be dealt with has no ``handled_at`` or ``done_at``; partial
indexes over those rows keep every claim independent of the size of the past.
"""

from datetime import date, datetime

from sqlalchemy import BigInteger, Column, Index, Integer, Table, UniqueConstraint, text
from sqlmodel import Field, SQLModel

# Before the first table: SQLite cannot drop a constraint that has no name.
SQLModel.metadata.naming_convention = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


def _key(*, autoincrement: bool = True) -> Column[int]:
    # SQLite numbers rows by itself only where the type is spelt INTEGER.
    kind = BigInteger().with_variant(Integer(), "sqlite")
    return Column(kind, primary_key=True, autoincrement=autoincrement)


def _while_null(name: str, *columns: str, column: str) -> Index:
    """A partial index over the rows where ``column`` is null."""
    where = text(f"{column} IS NULL")
    return Index(name, *columns, sqlite_where=where, postgresql_where=where)


def _once_set(name: str, column: str) -> Index:
    """A partial index over the rows where ``column`` is set, which are to be pruned some day."""
    where = text(f"{column} IS NOT NULL")
    return Index(name, column, sqlite_where=where, postgresql_where=where)


class AthleteRow(SQLModel, table=True):
    """One athlete, known by one chat. ``talk`` is the conversation's state, JSON."""

    __tablename__ = "athlete"
    __table_args__ = (UniqueConstraint("adapter", "chat_id"),)

    id: int | None = Field(default=None, sa_column=_key())
    adapter: str
    chat_id: int = Field(sa_type=BigInteger)
    opened_at: datetime
    gone_at: datetime | None
    talk: str


class FactRow(SQLModel, table=True):
    """One entry of an athlete's record. ``kind`` names the fact's type, ``body`` is its JSON."""

    __tablename__ = "fact"
    __table_args__ = (UniqueConstraint("athlete_id", "number"),)

    id: int | None = Field(default=None, sa_column=_key())
    athlete_id: int = Field(foreign_key="athlete.id", sa_type=BigInteger)
    number: int
    reply: int
    at: datetime
    day: date
    kind: str
    body: str


class InboxRow(SQLModel, table=True):
    """What came in, once per source and number."""

    __tablename__ = "inbox"
    __table_args__ = (
        UniqueConstraint("source", "update_id"),
        _while_null("ix_inbox_waiting", "id", column="handled_at"),
        _once_set("ix_inbox_handled", "handled_at"),
        _while_null("ix_inbox_chat", "adapter", "chat_id", "id", column="handled_at"),
    )

    id: int | None = Field(default=None, sa_column=_key())
    source: str
    update_id: int = Field(sa_type=BigInteger)
    adapter: str
    chat_id: int = Field(sa_type=BigInteger)
    text: str
    pressed: bool
    at: datetime
    handled_at: datetime | None
    problem: str | None


class OutboxRow(SQLModel, table=True):
    """A message to send, and what became of it.

    ``state`` is waiting, claimed, calling (of one in doubt: the service is being called),
    sent or given-up. ``not_before`` is the first moment at which it may be taken: while
    claimed, the end of the lease. Past ``until`` it has lost its point. ``rank`` puts
    answers before reminders. ``attempts`` counts tries, ``doubts`` those that may have
    arrived although nobody knows.
    """

    __tablename__ = "outbox"
    __table_args__ = (
        _while_null("ix_outbox_order", "adapter", "rank", "id", column="done_at"),
        _while_null("ix_outbox_chat", "athlete_id", "id", column="done_at"),
        _once_set("ix_outbox_done", "done_at"),
    )

    id: int | None = Field(default=None, sa_column=_key())
    athlete_id: int = Field(foreign_key="athlete.id", sa_type=BigInteger)
    adapter: str
    kind: str
    rank: int
    text: str
    buttons: str
    targets: str
    queued_at: datetime
    not_before: datetime
    until: datetime | None
    state: str
    attempts: int
    doubts: int
    done_at: datetime | None
    message_id: int | None = Field(sa_type=BigInteger)
    why: str | None


_TIMERS = text("done_at IS NULL AND kind = 'timer'")


class DueRow(SQLModel, table=True):
    """A planned moment. ``at`` is the plan; ``due_at`` is ``at``, or the end of a lease.

    ``state`` is pending, fired or dropped.
    """

    __tablename__ = "due"
    __table_args__ = (
        UniqueConstraint("athlete_id", "kind", "key"),
        _while_null("ix_due_moment", "due_at", "id", column="done_at"),
        _while_null("ix_due_athlete", "athlete_id", "kind", column="done_at"),
        _once_set("ix_due_done", "done_at"),
        Index("ix_due_timer", "due_at", "id", sqlite_where=_TIMERS, postgresql_where=_TIMERS),
    )

    id: int | None = Field(default=None, sa_column=_key())
    athlete_id: int = Field(foreign_key="athlete.id", sa_type=BigInteger)
    kind: str
    key: str
    at: datetime
    due_at: datetime
    until: datetime
    state: str
    done_at: datetime | None


class AccountRow(SQLModel, table=True):
    """How fast one account sends, whoever sends: turns are spent up to ``spent_until``.

    Until ``silent_until`` the service wants to hear nothing of the account.
    """

    __tablename__ = "account"

    adapter: str = Field(primary_key=True)
    spent_until: datetime
    silent_until: datetime | None


class ChatTurnRow(SQLModel, table=True):
    """Up to when the turns of one athlete's chat are spent. Kept while that is still to come."""

    __tablename__ = "chat_turn"
    __table_args__ = (Index("ix_chat_turn_spent_until", "spent_until"),)

    athlete_id: int = Field(sa_column=_key(autoincrement=False))
    spent_until: datetime


class LeaseRow(SQLModel, table=True):
    """A right that one process at a time holds until a moment of the database's own clock."""

    __tablename__ = "lease"

    name: str = Field(primary_key=True)
    holder: str
    until: datetime


class SealingRow(SQLModel, table=True):
    """A key that something is sealed with. ``proof`` is a value that only this key opens.

    ``swept`` is false while free space may hold what was there before it was sealed.
    """

    __tablename__ = "sealing"

    key_id: str = Field(primary_key=True)
    proof: str
    swept: bool


def _table(row: type[SQLModel]) -> Table:
    return SQLModel.metadata.tables[str(row.__tablename__)]


ATHLETE = _table(AthleteRow)
FACT = _table(FactRow)
INBOX = _table(InboxRow)
OUTBOX = _table(OutboxRow)
DUE = _table(DueRow)
LEASE = _table(LeaseRow)
SEALING = _table(SealingRow)
ACCOUNT = _table(AccountRow)
CHAT_TURN = _table(ChatTurnRow)
