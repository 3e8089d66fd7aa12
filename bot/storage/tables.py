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


def _key() -> Column[int]:
    # SQLite numbers rows by itself only where the type is spelt INTEGER.
    return Column(BigInteger().with_variant(Integer(), "sqlite"), primary_key=True)


def _while_null(name: str, *columns: str, column: str) -> Index:
    """A partial index over the rows where ``column`` is null."""
    where = text(f"{column} IS NULL")
    return Index(name, *columns, sqlite_where=where, postgresql_where=where)


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

    ``state`` is waiting, claimed, sent or given-up. ``not_before`` is the first
    moment at which it may be taken: while claimed, the end of the lease. ``rank``
    puts answers before reminders. ``attempts`` counts tries, ``doubts`` those that
    may have arrived although nobody knows.
    """

    __tablename__ = "outbox"
    __table_args__ = (
        _while_null("ix_outbox_order", "adapter", "rank", "id", column="done_at"),
        _while_null("ix_outbox_chat", "athlete_id", "id", column="done_at"),
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
    state: str
    attempts: int
    doubts: int
    done_at: datetime | None
    message_id: int | None = Field(sa_type=BigInteger)
    why: str | None


class DueRow(SQLModel, table=True):
    """A planned moment. ``at`` is the plan; ``due_at`` is ``at``, or the end of a lease.

    ``state`` is pending, fired or dropped.
    """

    __tablename__ = "due"
    __table_args__ = (
        UniqueConstraint("athlete_id", "kind", "key"),
        _while_null("ix_due_moment", "due_at", "id", column="done_at"),
        _while_null("ix_due_athlete", "athlete_id", "kind", column="done_at"),
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


class LeaseRow(SQLModel, table=True):
    """A right that one process at a time holds until a moment of the database's own clock."""

    __tablename__ = "lease"

    name: str = Field(primary_key=True)
    holder: str
    until: datetime


def _table(row: type[SQLModel]) -> Table:
    return SQLModel.metadata.tables[str(row.__tablename__)]


ATHLETE = _table(AthleteRow)
FACT = _table(FactRow)
INBOX = _table(InboxRow)
OUTBOX = _table(OutboxRow)
DUE = _table(DueRow)
LEASE = _table(LeaseRow)
