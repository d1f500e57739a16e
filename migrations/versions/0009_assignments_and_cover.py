"""Who is to have which bed in a shift, and who covers for whom."""

from app.record.new_tables import moment, record_table, words

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Two tables that only grow."""
    record_table(
        "assignment",
        words("unit_id", to="unit"),
        words("bed_id", to="bed"),
        moment("shift_at"),
        words("staff_id", null=True, to="staff"),
        index=(("unit_id",),),
    )
    record_table(
        "cover",
        words("unit_id", to="unit"),
        words("staff_id", to="staff"),
        words("for_staff_id", to="staff"),
        moment("from_at"),
        moment("to_at"),
        words("words"),
        index=(("unit_id",),),
    )


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
