"""What passes from one shift to the next: tasks, if-then lines, and what each step has to hold."""

from alembic import op
from sqlalchemy import Boolean, Column

from app.record.new_tables import flag, moment, number, record_table, whole, words

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

OF_COURSE = ("course_id",)


def upgrade() -> None:
    """Two tables that only grow, and columns that may be empty, so that no row's hash changes."""
    record_table(
        "task",
        words("course_id", to="course"),
        words("words"),
        moment("due_at", null=True),
        words("owner"),
        words("source"),
        words("state"),
        words("reason"),
        index=(OF_COURSE,),
    )
    record_table(
        "if_then",
        words("course_id", to="course"),
        words("measure"),
        words("comparison"),
        words("value"),
        words("lasting"),
        words("action"),
        words("call"),
        number("within_min"),
        words("tried"),
        words("limit_key"),
        flag("stands"),
        index=(OF_COURSE,),
    )
    op.add_column("handoff_note", words("level", null=True))
    op.add_column("handoff", whole("version", null=True))
    op.add_column("handoff", words("seen", null=True))
    op.add_column("handoff", Column("on_behalf", Boolean(), nullable=True))


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
