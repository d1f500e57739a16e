"""What every row of the record carries, and how its table is made so that it can only grow."""

from datetime import datetime
from typing import Any, ClassVar

from sqlalchemy import Index, text
from sqlalchemy.schema import SchemaItem
from sqlmodel import Field, SQLModel

# Set before any table exists: Alembic can only name what it later has to find by name.
SQLModel.metadata.naming_convention = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class RecordRow(SQLModel):
    """One fact as one person wrote it down. A correction, an end or a strike is another row.

    `id`, `recorded_at`, `author_id` and `zone_offset_min` are filled in by `Writing.add` where
    they are empty. `zone_offset_min` is the offset of the unit's zone at the moment the row is
    about (`moment_column`); NULL for a row that belongs to no unit. Later revisions may only add
    nullable columns, so that a row's hash never changes.
    """

    moment_column: ClassVar[str] = "recorded_at"
    random_id: ClassVar[bool] = False
    """True where the id stands in an address and must not tell when the row was made."""

    id: str = Field(default="", primary_key=True)
    recorded_at: datetime = Field(default=None, nullable=False)
    author_id: str = Field(default="", foreign_key="staff.id", nullable=False)
    zone_offset_min: int | None = None


def supersedes(table: str) -> Any:  # noqa: ANN401 - Field() itself is typed so
    """The link to the row that this one replaces; its index lets a row be replaced once only."""
    return Field(default=None, foreign_key=f"{table}.id")


def record_table(table: str, *more: SchemaItem) -> tuple[SchemaItem | dict[str, object], ...]:
    """Arguments of a record table: one successor per row, and no hidden row number on SQLite.

    A hidden row number would be a second key, by which REPLACE could reach an existing row.
    """
    given = text("supersedes_id IS NOT NULL")
    successor = Index(
        f"uq_{table}_supersedes_id",
        "supersedes_id",
        unique=True,
        sqlite_where=given,
        postgresql_where=given,
    )
    return (successor, *more, {"sqlite_with_rowid": False})


def unique_key(table: str, *columns: str) -> Index:
    """A key that can be taken once, as a unique index (which both engines can add later)."""
    return Index(f"uq_{table}_{'_'.join(columns)}", *columns, unique=True)
