"""Leases: rights that one process at a time holds."""

import sqlalchemy as sa
import sqlmodel
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the change."""
    op.create_table(
        "lease",
        sa.Column("name", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("holder", sqlmodel.sql.sqltypes.AutoString(), nullable=False),
        sa.Column("until", sqlmodel.sql.sqltypes.UTCDateTime(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_lease")),
    )


def downgrade() -> None:
    """Take it back. Whoever holds a lease asks for it again."""
    op.drop_table("lease")
