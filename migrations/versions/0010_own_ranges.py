"""Ranges of a patient's own in place of the unit's, with who ordered them, why and until when."""

from app.record.new_tables import moment, number, record_table, words

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """One table that only grows."""
    record_table(
        "own_range",
        words("course_id", to="course"),
        words("limit_key"),
        number("under"),
        number("over"),
        moment("until", null=True),
        words("ordered_by"),
        moment("ordered_at"),
        words("why"),
        index=(("course_id",),),
    )


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
