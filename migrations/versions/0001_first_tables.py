"""The first tables: athletes and their facts, inbox, outbox, planned moments."""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the change."""
    op.create_table(
        "athlete",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("adapter", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("chat_id", sa.BigInteger(), nullable=False),
        sa.Column("opened_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("gone_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True),
        sa.Column("talk", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_athlete")),
        sa.UniqueConstraint("adapter", "chat_id", name=op.f("uq_athlete_adapter_chat_id")),
    )
    op.create_table(
        "inbox",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("source", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("update_id", sa.BigInteger(), nullable=False),
        sa.Column("adapter", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("chat_id", sa.BigInteger(), nullable=False),
        sa.Column("text", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("pressed", sa.Boolean(), nullable=False),
        sa.Column("at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("handled_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True),
        sa.Column("problem", sqlmodel.sql.sqltypes.AutoString(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_inbox")),
        sa.UniqueConstraint("source", "update_id", name=op.f("uq_inbox_source_update_id")),
    )
    with op.batch_alter_table("inbox", schema=None) as batch_op:
        batch_op.create_index(
            "ix_inbox_waiting",
            ["id"],
            unique=False,
            sqlite_where=sa.text("handled_at IS NULL"),
            postgresql_where=sa.text("handled_at IS NULL"),
        )

    op.create_table(
        "due",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("athlete_id", sa.BigInteger(), nullable=False),
        sa.Column("kind", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("key", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("due_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("until", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("state", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("done_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True),
        sa.ForeignKeyConstraint(
            ["athlete_id"], ["athlete.id"], name=op.f("fk_due_athlete_id_athlete")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_due")),
        sa.UniqueConstraint("athlete_id", "kind", "key", name=op.f("uq_due_athlete_id_kind_key")),
    )
    with op.batch_alter_table("due", schema=None) as batch_op:
        batch_op.create_index(
            "ix_due_athlete",
            ["athlete_id", "kind"],
            unique=False,
            sqlite_where=sa.text("done_at IS NULL"),
            postgresql_where=sa.text("done_at IS NULL"),
        )
        batch_op.create_index(
            "ix_due_moment",
            ["due_at", "id"],
            unique=False,
            sqlite_where=sa.text("done_at IS NULL"),
            postgresql_where=sa.text("done_at IS NULL"),
        )

    op.create_table(
        "fact",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("athlete_id", sa.BigInteger(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("reply", sa.Integer(), nullable=False),
        sa.Column("at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("kind", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("body", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.ForeignKeyConstraint(
            ["athlete_id"], ["athlete.id"], name=op.f("fk_fact_athlete_id_athlete")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_fact")),
        sa.UniqueConstraint("athlete_id", "number", name=op.f("uq_fact_athlete_id_number")),
    )
    op.create_table(
        "outbox",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("athlete_id", sa.BigInteger(), nullable=False),
        sa.Column("adapter", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("kind", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("rank", sa.Integer(), nullable=False),
        sa.Column("text", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("buttons", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("targets", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("queued_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("not_before", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.Column("state", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("attempts", sa.Integer(), nullable=False),
        sa.Column("doubts", sa.Integer(), nullable=False),
        sa.Column("done_at", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=True),
        sa.Column("message_id", sa.BigInteger(), nullable=True),
        sa.Column("why", sqlmodel.sql.sqltypes.AutoString(), nullable=True),
        sa.ForeignKeyConstraint(
            ["athlete_id"], ["athlete.id"], name=op.f("fk_outbox_athlete_id_athlete")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_outbox")),
    )
    with op.batch_alter_table("outbox", schema=None) as batch_op:
        batch_op.create_index(
            "ix_outbox_chat",
            ["athlete_id", "id"],
            unique=False,
            sqlite_where=sa.text("done_at IS NULL"),
            postgresql_where=sa.text("done_at IS NULL"),
        )
        batch_op.create_index(
            "ix_outbox_order",
            ["adapter", "rank", "id"],
            unique=False,
            sqlite_where=sa.text("done_at IS NULL"),
            postgresql_where=sa.text("done_at IS NULL"),
        )


def downgrade() -> None:
    """Take it back."""
    with op.batch_alter_table("outbox", schema=None) as batch_op:
        batch_op.drop_index(
            "ix_outbox_order",
            sqlite_where=sa.text("done_at IS NULL"),
            postgresql_where=sa.text("done_at IS NULL"),
        )
        batch_op.drop_index(
            "ix_outbox_chat",
            sqlite_where=sa.text("done_at IS NULL"),
            postgresql_where=sa.text("done_at IS NULL"),
        )

    op.drop_table("outbox")
    op.drop_table("fact")
    with op.batch_alter_table("due", schema=None) as batch_op:
        batch_op.drop_index(
            "ix_due_moment",
            sqlite_where=sa.text("done_at IS NULL"),
            postgresql_where=sa.text("done_at IS NULL"),
        )
        batch_op.drop_index(
            "ix_due_athlete",
            sqlite_where=sa.text("done_at IS NULL"),
            postgresql_where=sa.text("done_at IS NULL"),
        )

    op.drop_table("due")
    with op.batch_alter_table("inbox", schema=None) as batch_op:
        batch_op.drop_index(
            "ix_inbox_waiting",
            sqlite_where=sa.text("handled_at IS NULL"),
            postgresql_where=sa.text("handled_at IS NULL"),
        )

    op.drop_table("inbox")
    op.drop_table("athlete")
