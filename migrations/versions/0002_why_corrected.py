"""A correction says why: of a reading, and of a height."""

from alembic import op

from app.record.new_tables import words

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Columns that may be empty, so that no row's hash changes."""
    for table in ("reading", "body_size"):
        op.add_column(table, words("why", null=True))


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
