"""Every connection keeps what it is told, on each engine."""

import stat

import pytest
from sqlalchemy import text

from app.record.database import Database

PREPARED_AFTER = 5
"""How often psycopg sends a statement before it prepares it (its documentation)."""


@pytest.mark.parametrize(
    ("setting", "value"),
    [
        ("foreign_keys", 1),
        ("recursive_triggers", 1),
        ("synchronous", 2),  # FULL
        ("journal_mode", "wal"),
        ("busy_timeout", 10_000),
    ],
)
def test_sqlite_is_set_up_on_every_connection(sqlite_database, setting, value):
    for opened in (sqlite_database.working, sqlite_database.reading, sqlite_database.reading):
        with opened() as session:
            assert session.execute(text(f"PRAGMA {setting}")).scalar_one() == value


def test_postgresql_writers_see_what_was_committed_while_they_waited(postgresql):
    with postgresql.fresh() as database, database.working() as session:
        level = session.execute(text("SHOW transaction_isolation")).scalar_one()
        assert level == "read committed"


def test_postgresql_readers_have_one_view_and_may_not_write(postgresql):
    with postgresql.fresh() as database:
        for _again in range(2):
            with database.reading() as session:
                level = session.execute(text("SHOW transaction_isolation")).scalar_one()
                read_only = session.execute(text("SHOW transaction_read_only")).scalar_one()
                assert (level, read_only) == ("repeatable read", "on")


def test_what_is_made_for_the_store_is_the_owners_alone(tmp_path):
    folder = tmp_path / "data"
    database = Database(f"sqlite:///{folder / 'leeboard.sqlite3'}")
    with database.connection():
        assert stat.S_IMODE(folder.stat().st_mode) == 0o700
        assert stat.S_IMODE((folder / "leeboard.sqlite3").stat().st_mode) == 0o600
    database.close()


def test_postgresql_keeps_what_readers_prepared(postgresql):
    with postgresql.fresh() as database:
        for _ in range(PREPARED_AFTER + 1):
            with database.reading() as session:
                session.execute(text("SELECT count(*) FROM unit WHERE code = :code"), {"code": ""})
        with database.reading() as session:
            kept = session.execute(text("SELECT statement FROM pg_prepared_statements")).scalars()
            assert any("FROM unit" in statement for statement in kept)
