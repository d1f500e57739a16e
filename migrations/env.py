"""Alembic's way in: run by `leeboard migrate`, or by hand to write a new revision.

By hand: `alembic -c migrations/alembic.ini revision --autogenerate -m "why"`.
"""

from alembic import context
from sqlalchemy import Connection
from sqlmodel import SQLModel

import app.record.tables  # noqa: F401  (fills the metadata)
from app.record.database import Database
from app.settings import Settings


def run(connection: Connection) -> None:
    """Bring the database behind the connection to the revision that was asked for.

    `render_as_batch` stays off. Batch mode copies a table, drops it and renames the copy, and the
    refusals would go with the old one: a record table only ever grows by nullable columns, which
    both engines can add in place.
    """
    context.configure(
        connection=connection,
        target_metadata=SQLModel.metadata,
        render_as_batch=False,
        transactional_ddl=True,
    )
    with context.begin_transaction():
        context.run_migrations()


given = context.config.attributes.get("connection")
if given is not None:
    run(given)
else:
    with Database(Settings.from_process().database_url).connection() as opened:
        run(opened)
