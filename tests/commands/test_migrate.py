"""`leeboard migrate`: from nothing, again, and on a record that cannot be had."""

from app.record.database import Database
from app.record.migrate import is_current, revisions


def test_an_empty_record_is_brought_up_to_date(leeboard, tmp_path):
    result = leeboard("migrate")
    assert (result.exit_code, result.stdout.strip()) == (
        0,
        f"The record is at revision {revisions()[-1]}; it was empty.",
    )
    database = Database(f"sqlite:///{tmp_path / 'leeboard.sqlite3'}")
    assert is_current(database)
    database.close()


def test_a_second_time_changes_nothing(leeboard):
    leeboard("migrate")
    newest = revisions()[-1]
    assert f"revision {newest}; it was {newest}" in leeboard("migrate").stdout


def test_postgresql_is_migrated_alike(leeboard, postgresql):
    with postgresql.fresh(migrated=False) as database:
        url = database.url.render_as_string(hide_password=False)
        assert leeboard("migrate", LEEBOARD_DATABASE_URL=url).exit_code == 0
        assert is_current(database)


def test_a_file_that_is_no_record_is_refused_in_words(leeboard, tmp_path):
    (tmp_path / "leeboard.sqlite3").write_text("no database " * 1000)
    result = leeboard("migrate")
    assert (result.exit_code, result.stderr) == (2, "Not migrated: the store is damaged.\n")


def test_every_wrong_variable_is_named(leeboard):
    result = leeboard("migrate", LEEBOARD_DEMO="perhaps", LEEBOARD_SECRETS="x")
    assert result.exit_code == 2
    assert "LEEBOARD_DEMO" in result.stderr
    assert "LEEBOARD_SECRETS" in result.stderr
