"""The refusals: triggers by which the database itself says no to UPDATE, DELETE and the like.

Migrations put them on, `verify` reads whether they still stand, word for word. SQLite has no
TRUNCATE, but its REPLACE removes a row without any DELETE trigger (unless `recursive_triggers` is
on, which another program need not set); so an insert under a key that exists is refused as well.
PostgreSQL gets statement triggers, which also refuse a change of no rows and TRUNCATE, and row
triggers, the only ones that fire when rows arrive by replication; all are ENABLE ALWAYS.
"""

from collections.abc import Iterable, Sequence

from sqlalchemy import Table

Key = tuple[str, ...]

FUNCTION = "leeboard_only_grows"
FUNCTION_BODY = (
    "BEGIN RAISE EXCEPTION 'the record only grows: % of % is refused', TG_OP, TG_TABLE_NAME"
    " USING ERRCODE = 'restrict_violation'; END"
)
REFUSED = "the record only grows"
TAKEN = "already in use, a key of"


def sqlite_triggers(table: str, keys: Iterable[Key]) -> dict[str, str]:
    """Name and statement of each trigger that one table has on SQLite.

    `keys` are the table's primary and unique keys. Each key gets an EXISTS of its own, so that
    each is answered from its index.
    """
    refuse = f"BEGIN SELECT RAISE(ABORT, '{REFUSED}'); END"
    refuse_key = f"BEGIN SELECT RAISE(ABORT, '{TAKEN} {table}'); END"
    taken = " OR ".join(_exists(table, key) for key in keys)
    bodies = {
        f"{table}_refuses_update": f"BEFORE UPDATE ON {table} {refuse}",
        f"{table}_refuses_delete": f"BEFORE DELETE ON {table} {refuse}",
        f"{table}_refuses_replace": f"BEFORE INSERT ON {table} WHEN {taken} {refuse_key}",
    }
    return {name: f"CREATE TRIGGER {name} {body}" for name, body in bodies.items()}


def _exists(table: str, key: Key) -> str:
    same = " AND ".join(f"{column} = NEW.{column}" for column in key)
    return f"EXISTS (SELECT 1 FROM {table} WHERE {same})"  # noqa: S608 - names of our own tables


def postgresql_triggers(table: str) -> dict[str, str]:
    """Name and statement of each trigger that one table has on PostgreSQL, as it prints them."""
    bodies = {
        f"{table}_refuses_rows": f"BEFORE DELETE OR UPDATE ON {table} FOR EACH ROW",
        f"{table}_refuses_statements": (
            f"BEFORE DELETE OR UPDATE OR TRUNCATE ON {table} FOR EACH STATEMENT"
        ),
    }
    return {
        name: f"CREATE TRIGGER {name} {body} EXECUTE FUNCTION {FUNCTION}()"
        for name, body in bodies.items()
    }


def statements(dialect: str, table: str, keys: Sequence[Key]) -> list[str]:
    """What a migration runs after it made a record table."""
    if dialect == "sqlite":
        return list(sqlite_triggers(table, keys).values())
    function = (
        f"CREATE OR REPLACE FUNCTION {FUNCTION}() RETURNS trigger LANGUAGE plpgsql"
        f" AS $${FUNCTION_BODY}$$"
    )
    triggers = postgresql_triggers(table)
    always = [f"ALTER TABLE {table} ENABLE ALWAYS TRIGGER {name}" for name in triggers]
    return [function, *triggers.values(), *always]


def keys_of(table: Table) -> list[Key]:
    """The primary key and every unique key of a table, sorted."""
    primary = tuple(column.name for column in table.primary_key.columns)
    unique = [tuple(c.name for c in index.columns) for index in table.indexes if index.unique]
    return sorted([primary, *unique])
