"""A cover may be of a single bed: who acts in a colleague's says why, once a shift."""

from alembic import op

from app.record.new_tables import words

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """A column that may be empty, so that no row's hash changes."""
    op.add_column("cover", words("bed_id", null=True))


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
