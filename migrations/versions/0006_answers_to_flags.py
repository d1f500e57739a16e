"""What people said of flags: seen with a plan and an owner, or muted until a time."""

from app.record.new_tables import moment, record_table, words

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """One table that only grows."""
    record_table(
        "flag_answer",
        words("course_id", to="course"),
        words("cause"),
        words("said"),
        moment("answers_at"),
        words("rules"),
        words("words"),
        words("owner"),
        moment("muted_until", null=True),
        index=(("course_id",),),
    )


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
