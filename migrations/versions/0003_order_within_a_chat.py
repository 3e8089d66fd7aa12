"""Find the oldest waiting message of a chat at once, however many wait."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the change."""
    with op.batch_alter_table("inbox", schema=None) as batch_op:
        batch_op.create_index(
            "ix_inbox_chat",
            ["adapter", "chat_id", "id"],
            unique=False,
            sqlite_where=sa.text("handled_at IS NULL"),
            postgresql_where=sa.text("handled_at IS NULL"),
        )


def downgrade() -> None:
    """Take it back."""
    with op.batch_alter_table("inbox", schema=None) as batch_op:
        batch_op.drop_index(
            "ix_inbox_chat",
            sqlite_where=sa.text("handled_at IS NULL"),
            postgresql_where=sa.text("handled_at IS NULL"),
        )
