"""Which keys the database is sealed with. The values themselves are sealed at the next start."""

import sqlalchemy as sa
import sqlmodel
from alembic import context, op

from bot.storage.key_use import unseal_all
from bot.storage.sealing import Place

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

SEALED_BY_NOW = (
    Place("athlete", ("talk",), owned_by="id"),
    Place("fact", ("body",), owned_by="athlete_id"),
    Place("inbox", ("text",), owned_by="chat_id"),
    Place("outbox", ("text", "buttons", "targets"), owned_by="athlete_id"),
)


def upgrade() -> None:
    """Make the change."""
    op.create_table(
        "sealing",
        sa.Column("key_id", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("proof", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("swept", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("key_id", name=op.f("pk_sealing")),
    )


def downgrade() -> None:
    """Take it back: everything is kept as it reads again, which needs the keys."""
    keys = context.config.attributes.get("keys")
    if keys is None:
        from bot.wiring import settings_keys

        keys = settings_keys(op.get_bind().engine)
    unseal_all(op.get_bind(), keys, SEALED_BY_NOW)
    op.drop_table("sealing")
