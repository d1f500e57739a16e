"""Where somebody was moved to, or why, in a person's words."""

from alembic import op

from app.record.new_tables import words

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """A column that may be empty, so that no row's hash changes."""
    op.add_column("bed_stay", words("words", null=True))


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
