"""Readings are found by course and time: one field alone is never asked for.

With the field in between, each of a check's readings went to a page of its own, and a save wrote
twice as much to the disk as it does now.
"""

from alembic import op

from app.record.new_tables import add_indexes

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """One index in place of another; no row is touched."""
    op.drop_index("ix_reading_course_id_field_observed_at", "reading")
    add_indexes("reading", ("course_id", "observed_at"))


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
