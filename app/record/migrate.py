"""Bring a store to the newest revision, from any directory and from an installed wheel.

Alembic is imported where it is used: a server that starts on a current store needs it for one
short question only, and it brings half a dozen libraries along.
"""

from pathlib import Path
from typing import TYPE_CHECKING

from sqlmodel import Session

from app.record.database import Database

if TYPE_CHECKING:
    from alembic.config import Config

_APP = Path(__file__).resolve().parents[1]


def migrations_folder() -> Path:
    """Where the revisions are: packed into the wheel, or beside `app` in a checkout."""
    packed = _APP / "_assets" / "migrations"
    return packed if packed.is_dir() else _APP.parent / "migrations"


def revisions() -> list[str]:
    """Every revision, oldest first."""
    from alembic.script import ScriptDirectory

    scripts = ScriptDirectory.from_config(_config()).walk_revisions()
    return [script.revision for script in scripts][::-1]


def current_revision(database: Database) -> str | None:
    """The store's revision; None for an empty store. Raises NotReadable without a store."""
    with database.reading() as session:
        return revision_in(session)


def revision_in(session: Session) -> str | None:
    """The revision of the store that an open session reads."""
    from alembic.runtime.migration import MigrationContext

    return MigrationContext.configure(session.connection()).get_current_revision()


def is_current(database: Database) -> bool:
    """Whether the store has the schema that this version of the app was written for."""
    return current_revision(database) == revisions()[-1]


def upgrade(database: Database, revision: str = "head") -> None:
    """Run what is missing, all in one transaction. Raises NotWritable when the store cannot."""
    from alembic import command

    config = _config()
    with database.connection() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, revision)


def _config() -> "Config":
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(migrations_folder()).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config
