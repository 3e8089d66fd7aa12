"""Turns to send that all processes share, ends of messages, timers first, what to prune."""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

FINISHED = (
    ("inbox", "ix_inbox_handled", "handled_at"),
    ("outbox", "ix_outbox_done", "done_at"),
    ("due", "ix_due_done", "done_at"),
)


def upgrade() -> None:
    """Make the change."""
    op.create_table(
        "account",
        sa.Column("adapter", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("spent_until", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("silent_until", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True),
        sa.PrimaryKeyConstraint("adapter", name=op.f("pk_account")),
    )
    op.create_table(
        "chat_turn",
        sa.Column(
            "athlete_id",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            autoincrement=False,
            nullable=False,
        ),
        sa.Column("spent_until", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.PrimaryKeyConstraint("athlete_id", name=op.f("pk_chat_turn")),
    )
    op.create_index("ix_chat_turn_spent_until", "chat_turn", ["spent_until"])
    # SQLite copies the table, so that it reads like one made at once.
    recreate = "always" if op.get_bind().dialect.name == "sqlite" else "never"
    with op.batch_alter_table("outbox", schema=None, recreate=recreate) as batch_op:
        batch_op.add_column(sa.Column("until", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True))
    for table, index, column in FINISHED:
        where = sa.text(f"{column} IS NOT NULL")
        op.create_index(index, table, [column], sqlite_where=where, postgresql_where=where)
    timers = sa.text("done_at IS NULL AND kind = 'timer'")
    op.create_index(
        "ix_due_timer", "due", ["due_at", "id"], sqlite_where=timers, postgresql_where=timers
    )


def downgrade() -> None:
    """Take it back."""
    op.drop_index("ix_due_timer", table_name="due")
    for table, index, _ in reversed(FINISHED):
        op.drop_index(index, table_name=table)
    with op.batch_alter_table("outbox", schema=None) as batch_op:
        batch_op.drop_column("until")
    op.drop_index("ix_chat_turn_spent_until", table_name="chat_turn")
    op.drop_table("chat_turn")
    op.drop_table("account")
