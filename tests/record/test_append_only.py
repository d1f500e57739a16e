"""The database itself refuses to change or remove a row of the record, after every revision."""

# ruff: noqa: S608 - names of our own tables and columns

import sqlite3
from datetime import UTC, datetime

import psycopg
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import MetaData, Table, text
from sqlalchemy.exc import SQLAlchemyError

from app.record.append_only import keys_of, postgresql_triggers, sqlite_triggers, statements
from app.record.errors import OnlyGrows
from app.record.migrate import revisions, upgrade
from app.record.tables import RECORD_TABLES, ReadingRow, table_of
from tests.record.scene import set_scene

NAMES = [table.name for table in RECORD_TABLES]
CHANGES = {
    "update": "UPDATE {table} SET {key} = {key}",
    "update of nothing": "UPDATE {table} SET {key} = {key} WHERE {key} IS NULL",
    "delete": "DELETE FROM {table}",
    "truncate": "TRUNCATE {table} CASCADE",
    "replace": "INSERT OR REPLACE INTO {table} SELECT * FROM {table}",
    "replace by update": "UPDATE OR REPLACE {table} SET {key} = {key}",
    "insert or change": (
        "INSERT INTO {table} SELECT * FROM {table} WHERE true"
        " ON CONFLICT ({key}) DO UPDATE SET {key} = excluded.{key}"
    ),
}
ON_SQLITE = ("update", "delete", "replace", "replace by update", "insert or change")
ON_POSTGRESQL = ("update", "update of nothing", "delete", "truncate", "insert or change")


def attempts(dialect: str, table) -> list[str]:
    names = ON_SQLITE if dialect == "sqlite" else ON_POSTGRESQL
    key = next(iter(table.primary_key.columns)).name
    return [CHANGES[name].format(table=table.name, key=key) for name in names]


def fill_every_table(database) -> list[Table]:
    """The record's tables as they are at this revision, with one row in each.

    Row triggers have to meet something. Every key is "x" and every link names it.
    """
    with database.connection() as connection:
        tables = MetaData()
        tables.reflect(connection)
        found = [table for table in tables.sorted_tables if table.name in NAMES]
        for table in found:
            connection.execute(table.insert(), some_row(table))
    return found


def some_row(table) -> dict[str, object]:
    """Any values that the constraints let through."""
    some = {str: "x", int: 1, bool: True, datetime: datetime(2026, 3, 2, tzinfo=UTC)}
    return {
        column.name: some[column.type.python_type]
        for column in table.columns
        if not column.nullable
    }


def refused(database, statement: str) -> str:
    """The database's own words; fails when it let the statement through."""
    with pytest.raises(SQLAlchemyError) as error, database._engines.writers.begin() as connection:
        connection.exec_driver_sql(statement)
    return str(error.value.orig)


@pytest.mark.parametrize("revision", revisions())
def test_every_table_of_the_record_refuses_every_change(engine, revision):
    with engine.fresh(migrated=False) as database:
        upgrade(database, revision)
        for table in fill_every_table(database):
            for statement in attempts(database.dialect, table):
                words = refused(database, statement)
                assert "only grows" in words or "already in use" in words, statement


def test_a_change_through_the_app_says_that_the_record_only_grows(scene):
    with pytest.raises(OnlyGrows), scene.database.working() as session:
        session.execute(text("UPDATE course SET origin = 'import'"))


def test_sqlite_refuses_replace_to_a_program_with_no_settings_at_all(sqlite):
    with sqlite.fresh() as database:
        fill_every_table(database)
        other = sqlite3.connect(database.url.database)
        for table in RECORD_TABLES:
            with pytest.raises(sqlite3.IntegrityError, match="already in use"):
                other.execute(f"INSERT OR REPLACE INTO {table} SELECT * FROM {table}")
        other.close()


def test_sqlite_refuses_replace_by_any_unique_key(sqlite, clock):
    with sqlite.fresh() as database:
        set_scene(database, clock)
        other = sqlite3.connect(database.url.database)
        columns = [column.name for column in table_of_staff().columns]
        picked = ", ".join("'new'" if name == "id" else name for name in columns)
        with pytest.raises(sqlite3.IntegrityError, match="already in use"):
            other.execute(f"INSERT OR REPLACE INTO staff SELECT {picked} FROM staff")
        other.close()


def table_of_staff():
    return next(table for table in RECORD_TABLES if table.name == "staff")


def test_sqlite_tables_have_no_hidden_row_number(sqlite, clock):
    with sqlite.fresh() as database:
        other = sqlite3.connect(database.url.database)
        for table in RECORD_TABLES:
            with pytest.raises(sqlite3.OperationalError, match="no such column"):
                other.execute(f"SELECT rowid FROM {table}")
        other.close()


def test_the_guard_against_replace_reads_indexes_only(sqlite):
    with sqlite.fresh() as database, database.reading() as session:
        for table in RECORD_TABLES:
            for key in keys_of(table):
                same = " AND ".join(f"{column} = 'x'" for column in key)
                plan = session.execute(
                    text(f"EXPLAIN QUERY PLAN SELECT 1 FROM {table} WHERE {same}")
                ).all()
                assert all("SEARCH" in step.detail for step in plan), (table.name, key)


def test_postgresql_refuses_also_when_rows_arrive_as_if_by_replication(postgresql, clock):
    with postgresql.fresh() as database:
        set_scene(database, clock)
        plain = database.url.set(drivername="postgresql").render_as_string(hide_password=False)
        with psycopg.connect(plain) as owner:
            owner.execute("SET session_replication_role = replica")
            with pytest.raises(psycopg.errors.RestrictViolation):
                owner.execute("DELETE FROM course")


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data())
def test_no_change_of_any_column_of_any_row_gets_through(scene, data):
    table = data.draw(st.sampled_from(RECORD_TABLES))
    column = data.draw(st.sampled_from([column.name for column in table.columns]))
    source = data.draw(st.sampled_from([c.name for c in table.columns]))
    where = data.draw(st.sampled_from(["", f"WHERE {column} IS NOT NULL", "WHERE 1 = 1"]))
    verb = data.draw(
        st.sampled_from([f"UPDATE {table} SET {column} = {source}", f"DELETE FROM {table}"])
    )
    with scene.database.reading() as session:
        rows = session.execute(text(f"SELECT count(*) FROM {table} {where}")).scalar_one()
        before = session.execute(text(f"SELECT * FROM {table}")).all()
    try:
        with scene.database._engines.writers.begin() as connection:
            connection.exec_driver_sql(f"{verb} {where}")
        got_through = True
    except SQLAlchemyError:
        got_through = False
    with scene.database.reading() as session:
        assert session.execute(text(f"SELECT * FROM {table}")).all() == before
    assert not (got_through and rows), verb


def test_statements_name_each_trigger_once():
    table = table_of(ReadingRow)
    on_sqlite = statements("sqlite", "reading", keys_of(table))
    on_postgresql = statements("postgresql", "reading", keys_of(table))
    assert len(on_sqlite) == len(sqlite_triggers("reading", keys_of(table))) == 3
    assert sum("ENABLE ALWAYS" in line for line in on_postgresql) == len(
        postgresql_triggers("reading")
    )
