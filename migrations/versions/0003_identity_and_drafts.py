"""Whose chart it is, as said in a session; and an index over the rows that nobody has signed."""

from alembic import op
from sqlalchemy import text

from app.record.new_tables import moment, whole, words

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """A working table, and an index over the few rows that nobody has signed."""
    op.create_table(
        "identity_check",
        words("token_sha256", key=True),
        words("course_id", key=True, to="course"),
        whole("wrong"),
        moment("confirmed_at", null=True),
    )
    op.create_index(
        "ix_assessment_unsigned",
        "assessment",
        ["course_id"],
        sqlite_where=text("signed = 0"),
        postgresql_where=text("NOT signed"),
    )


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
