"""${message}.

Revision ${up_revision}, after ${down_revision | comma,n}. ${create_date}
"""

import sqlalchemy as sa
import sqlmodel
from alembic import op
${imports if imports else ""}
revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = ${repr(branch_labels)}
depends_on = ${repr(depends_on)}


def upgrade() -> None:
    """Add what is new. A new record table is followed by `only_grows(table, keys)`."""
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")
