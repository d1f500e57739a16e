"""A store that cannot be written or read says so in words a page can show."""

import sqlite3
import threading
from pathlib import Path

import psycopg
import pytest
from sqlalchemy import exc, text
from sqlmodel import Session

from app.record import connections
from app.record.database import CHAIN_LOCK, Database
from app.record.errors import Conflict, NotReadable, NotWritable
from app.record.migrate import upgrade
from app.record.tables import HandoffNoteRow
from app.record.troubles import cause_of
from tests.record.scene import set_scene


@pytest.fixture
def on_sqlite(sqlite_database, clock):
    return set_scene(sqlite_database, clock)


@pytest.fixture
def on_postgresql(postgresql, clock):
    with postgresql.fresh() as database:
        yield set_scene(database, clock)


def long_note(scene) -> HandoffNoteRow:
    return HandoffNoteRow(
        course_id=scene.course, heading="worry", words="x" * 100_000, observed_at=scene.clock()
    )


def test_a_full_disk_means_not_saved(on_sqlite):
    with on_sqlite.database.working() as session:
        pages = session.execute(text("PRAGMA page_count")).scalar_one()
        session.execute(text(f"PRAGMA max_page_count = {pages}"))
    with pytest.raises(NotWritable, match="the disk is full") as refused:
        on_sqlite.write(long_note(on_sqlite))
    assert not refused.value.uncertain


def test_reading_goes_on_while_the_disk_is_full(on_sqlite):
    test_a_full_disk_means_not_saved(on_sqlite)
    with on_sqlite.database.reading() as session:
        assert session.execute(text("SELECT count(*) FROM handoff_note")).scalar_one() == 0


def test_another_program_that_keeps_writing_means_not_saved(on_sqlite, monkeypatch):
    monkeypatch.setattr(connections, "BUSY_MS", 50)
    other = sqlite3.connect(on_sqlite.database.url.database, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    waiting = Database(on_sqlite.database.url.render_as_string())
    with pytest.raises(NotWritable, match="another program is writing"), waiting.working():
        pytest.fail("the write lock was given twice")
    waiting.close()
    other.close()


def test_another_thread_that_keeps_writing_means_not_saved(on_sqlite, monkeypatch):
    monkeypatch.setattr("app.record.database.BUSY_MS", 50)
    begun, done = threading.Event(), threading.Event()

    def hold() -> None:
        with on_sqlite.database.working():
            begun.set()
            done.wait(10)

    thread = threading.Thread(target=hold)
    thread.start()
    begun.wait(10)
    with pytest.raises(NotWritable, match="another writer"), on_sqlite.database.working():
        pytest.fail("the write lock was given twice")
    done.set()
    thread.join()


def test_a_file_that_is_no_database_cannot_be_read(tmp_path):
    path = tmp_path / "note.txt"
    path.write_text("not a database at all, however long this text may be" * 20)
    database = Database(f"sqlite:///{path}")
    with pytest.raises(NotReadable, match="damaged"), database.reading() as session:
        session.execute(text("SELECT * FROM sqlite_master"))
    database.close()


def test_a_read_only_server_means_not_saved(on_postgresql):
    name = on_postgresql.database.url.database
    with on_postgresql.database.connection() as connection:
        connection.execute(text(f"ALTER DATABASE {name} SET default_transaction_read_only = on"))
    on_postgresql.database.close()
    with pytest.raises(NotWritable, match="read-only"):
        on_postgresql.write(long_note(on_postgresql))


def test_a_connection_lost_in_the_middle_means_not_saved(on_postgresql, postgresql):
    with pytest.raises(NotWritable, match=r"server is stopping|connection is gone"):
        write_and_lose_the_connection(on_postgresql, postgresql)
    on_postgresql.chart(peep="8")


def write_and_lose_the_connection(scene, postgresql) -> None:
    with scene.writing() as writing:
        pid = writing.session.execute(text("SELECT pg_backend_pid()")).scalar_one()
        with psycopg.connect(postgresql.server.get_uri(), autocommit=True) as admin:
            admin.execute("SELECT pg_terminate_backend(%s, 5000)", [pid])
        writing.add(long_note(scene))
        writing.audit("note")


def test_a_commit_that_breaks_is_uncertain(on_postgresql, monkeypatch):
    def broken(_session) -> None:
        raise exc.OperationalError("COMMIT", None, psycopg.OperationalError("gone"))

    monkeypatch.setattr(Session, "commit", broken)
    with pytest.raises(NotWritable) as refused:
        on_postgresql.write(long_note(on_postgresql))
    assert refused.value.uncertain


def test_waiting_too_long_for_the_chain_means_not_saved(on_postgresql, postgresql, monkeypatch):
    monkeypatch.setattr(connections, "BUSY_MS", 50)
    url = on_postgresql.database.url
    waiting = Database(url.render_as_string(hide_password=False))
    with psycopg.connect(postgresql.server.get_uri(url.database)) as other:
        other.execute("SELECT pg_advisory_xact_lock(%s)", [CHAIN_LOCK])
        with (
            pytest.raises(NotWritable, match="another writer"),
            waiting.writing(on_postgresql.clock),
        ):
            pytest.fail("the lock was given twice")
    waiting.close()


def test_a_server_that_is_not_there_can_be_neither_read_nor_written(clock):
    database = Database("postgresql+psycopg://nobody@/nothing?host=/nowhere/at/all")
    with pytest.raises(NotReadable, match="connection is gone"), database.reading() as session:
        session.execute(text("SELECT 1"))
    with pytest.raises(NotWritable, match="connection is gone"), database.writing(clock):
        pytest.fail("there is nothing to write to")


def test_too_many_readers_are_told_so():
    assert cause_of(exc.TimeoutError()) == "every connection is in use"


def test_a_mistake_in_a_statement_is_not_the_stores_trouble(scene):
    with pytest.raises(exc.SQLAlchemyError), scene.database.reading() as session:
        session.execute(text("SELECT nothing FROM nowhere"))


def test_what_people_typed_never_shows_in_an_exception(scene):
    note = long_note(scene)
    note.words, note.heading = "Mrs Example", None
    with pytest.raises(Conflict) as refused:
        scene.write(note)
    error = refused.value
    assert "Mrs Example" not in str(error)
    assert error.__suppress_context__


def test_no_empty_store_takes_the_place_of_one_that_is_gone(on_sqlite):
    url = on_sqlite.database.url
    database = Database(url.render_as_string())
    path = Path(url.database)
    moved = path.rename(path.with_suffix(".moved"))
    with pytest.raises(NotReadable, match="cannot be opened"), database.reading() as session:
        session.execute(text("SELECT 1"))
    with pytest.raises(NotWritable, match="cannot be opened"), database.working():
        pytest.fail("there is nothing to write to")
    assert not path.exists()
    moved.rename(path)
    database.close()


def test_a_folder_that_cannot_be_made_is_said_where_a_store_begins(tmp_path):
    (tmp_path / "file").write_text("no folder")
    database = Database(f"sqlite:///{tmp_path}/file/record.sqlite3")
    with pytest.raises(NotWritable, match="cannot be opened"):
        upgrade(database)
    database.close()
