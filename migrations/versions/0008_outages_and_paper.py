"""Hours on paper: their span, whose paper a check came from, and when somebody last looked."""

from alembic import op

from app.record.new_tables import moment, record_table, words

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """One table that only grows, a column that may be empty, and a working table."""
    record_table(
        "outage",
        words("unit_id", to="unit"),
        moment("from_at"),
        moment("to_at"),
        words("words"),
        index=(("unit_id",),),
    )
    op.add_column("assessment", words("paper_by", null=True))
    op.create_table(
        "last_look",
        words("staff_id", key=True, to="staff"),
        words("course_id", key=True, to="course"),
        moment("before_at", null=True),
        moment("last_at"),
    )


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
