"""What an intake and an airway page write down: how a tube was confirmed, orders, a task's rule."""

from alembic import op

from app.record.new_tables import day, number, words

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

OF_AIRWAY = (
    "tube_type",
    "confirmed_by",
    "confirmed_how",
    "inner_cannula",
    "spare_same",
    "spare_smaller",
    "may_change",
    "why",
)
OF_TARGET = ("pao2_low", "pao2_high", "ph_low", "ph_high", "paco2_low", "paco2_high")


def upgrade() -> None:
    """Columns that may be empty, so that no row's hash changes."""
    for name in OF_AIRWAY:
        op.add_column("airway", words(name, null=True))
    op.add_column("airway", day("stoma_on"))
    for name in OF_TARGET:
        op.add_column("target", number(name))
    op.add_column("target", words("why", null=True))
    op.add_column("task", words("rule", null=True))


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
