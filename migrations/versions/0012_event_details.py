"""What is said of an event beyond its line: a table that only grows."""

from app.record.new_tables import moment, record_table, words

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """One row for each time that somebody said something of an event."""
    record_table(
        "event_detail",
        words("course_id", to="course"),
        words("event_id", to="event"),
        moment("observed_at"),
        words("details"),
        index=(("course_id",),),
    )


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
