"""Inhaled treatments: orders, and each time one was given or left out."""

from app.record.new_tables import moment, number, record_table, words

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Two tables that only grow."""
    record_table(
        "treatment",
        words("course_id", to="course"),
        words("drug"),
        words("dose"),
        words("route"),
        number("interval_h"),
        words("ordered_by"),
        moment("ordered_at"),
        moment("stopped_at", null=True),
        words("stopped_by", null=True),
        words("stopped_why", null=True),
        index=(("course_id",),),
    )
    record_table(
        "treatment_given",
        words("course_id", to="course"),
        words("treatment_id", to="treatment"),
        moment("given_at"),
        words("before"),
        words("after"),
        words("response"),
        words("not_given"),
        index=(("course_id",),),
    )


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
