"""What a bake is found by, in one column; stale numbers are found at once."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; everything worked out is worked out again when asked for."""
    op.add_column("bakes", sa.Column("found_by", sa.Text))
    op.create_index(op.f("ix_bakes_computed_by"), "bakes", ["computed_by"])
    op.execute("UPDATE bakes SET computed = NULL, computed_by = NULL")
