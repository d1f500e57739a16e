"""An event, its end or an airway is struck; an event or its end is corrected: each says why."""

from alembic import op

from app.record.new_tables import words

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Columns that may be empty, so that no row's hash changes."""
    for table in ("event", "event_end", "airway"):
        op.add_column(table, words("struck", null=True))
    for table in ("event", "event_end"):
        op.add_column(table, words("why", null=True))


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
