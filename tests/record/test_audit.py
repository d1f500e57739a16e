"""The chain: every write sealed by the one before, whoever writes at the same time."""

import json
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from itertools import pairwise

import pytest
from sqlalchemy import text

from app.record import audit
from app.record.audit import NO_LINE, chain, check_chain, seal
from app.record.canonical import row_sha256, sha256, values_of
from app.record.database import Database
from app.record.people import set_up_person
from app.record.tables import PatientRow, TaskRow
from tests.processes import FORKED
from tests.record.scene import Scene
from tests.record.writers import write_many

WRITERS, TIMES = 8, 15


def lines_of(scene: Scene) -> list:
    with scene.database.reading() as session:
        assert check_chain(session) == ""
        return list(chain(session))


def test_each_line_holds_the_hash_of_the_line_before(scene):
    lines = lines_of(scene)
    assert lines[0]["previous_hash"] == NO_LINE
    for before, line in pairwise(lines):
        assert line["previous_hash"] == before["hash"]


def test_a_line_says_who_did_what_to_what_and_where(scene):
    assessment = scene.chart(peep="8")
    line = lines_of(scene)[-1]
    said = [line[name] for name in ("act", "staff_id", "course_id", "workstation")]
    assert said == ["chart", scene.therapist, scene.course, "desk"]
    assert (line["subject_table"], line["subject_id"]) == ("assessment", assessment)


def test_a_row_that_is_added_as_an_act_is_what_the_acts_line_is_about(scene):
    task = TaskRow(course_id=scene.course, words="cuff", source="person", state="open")
    with scene.writing() as writing:
        writing.add_as("add_task", task, course_id=scene.course)
    line = lines_of(scene)[-1]
    said = [line[name] for name in ("act", "course_id", "subject_table", "subject_id")]
    assert said == ["add_task", scene.course, "task", task.id]
    assert task.id in line["rows_sha256"]


def test_the_first_line_of_a_write_names_every_row_with_its_hash(scene):
    with scene.writing() as writing:
        rows = [PatientRow(), PatientRow()]
        writing.add(*rows)
        writing.audit("admit")
        writing.audit("and more")
    first, second = lines_of(scene)[-2:]
    expected = [["patient", row.id, row_sha256("patient", values_of(row))] for row in rows]
    assert json.loads(first["rows_sha256"]) == expected
    assert second["rows_sha256"] == "[]"


def test_a_seal_is_the_hash_of_the_lines_content_in_a_form_anyone_can_rebuild():
    line = {"seq": 1, "at": datetime(2026, 3, 2, 8, tzinfo=UTC), "act": "look", "staff_id": None}
    expected = '["audit_line",{"act":"look","at":"2026-03-02T08:00:00.000000+00:00","seq":1}]'
    assert seal({**line, "hash": "not part of it"}) == sha256(expected)


def test_a_column_added_later_and_left_empty_changes_no_hash():
    assert row_sha256("bed", {"id": "1"}) == row_sha256("bed", {"id": "1", "added_later": None})


def test_eight_threads_at_once_make_one_chain(scene):
    def write(_writer: int) -> None:
        for _ in range(TIMES):
            with scene.database.writing(lambda: datetime.now(UTC), scene.therapist) as writing:
                writing.add(PatientRow())
                writing.audit("admit")

    before = len(lines_of(scene))
    with ThreadPoolExecutor(WRITERS) as pool:
        list(pool.map(write, range(WRITERS)))
    lines = lines_of(scene)
    assert len(lines) == before + WRITERS * TIMES
    moments = [line["at"] for line in lines]
    assert moments == sorted(moments)


def test_three_processes_at_once_make_one_chain(scene):
    url = scene.database.url.render_as_string(hide_password=False)
    before = len(lines_of(scene))
    processes = [
        FORKED.Process(target=write_many, args=(url, scene.therapist, TIMES)) for _ in range(3)
    ]
    for process in processes:
        process.start()
    for process in processes:
        process.join()
    assert [process.exitcode for process in processes] == [0, 0, 0]
    assert len(lines_of(scene)) == before + 3 * TIMES


def without_refusals(database: Database, *statements: str) -> None:
    """What only the owner of the store can do: take the refusals off, and change something."""
    with database.connection() as connection:
        if database.dialect == "sqlite":
            names = connection.execute(text("SELECT name FROM sqlite_master WHERE type='trigger'"))
            for name in names.scalars().all():
                connection.execute(text(f"DROP TRIGGER {name}"))
        else:
            connection.execute(text("ALTER TABLE audit_line DISABLE TRIGGER ALL"))
        for statement in statements:
            connection.execute(text(statement))


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ("UPDATE audit_line SET act = 'nothing' WHERE seq = 2", "line 2 was changed"),
        ("UPDATE audit_line SET workstation = 'x' WHERE seq = 1", "line 1 was changed"),
        ("DELETE FROM audit_line WHERE seq = 2", "line 2 is missing"),
        ("UPDATE audit_line SET previous_hash = 'x' WHERE seq = 2", "line 2 does not follow"),
    ],
)
def test_what_was_done_to_the_chain_is_found(scene, change, found):
    scene.chart(peep="8")
    without_refusals(scene.database, change)
    with scene.database.reading() as session:
        assert check_chain(session).startswith(found)


def test_a_chain_whose_end_was_cut_looks_whole(scene):
    scene.chart(peep="8")
    without_refusals(
        scene.database,
        "DELETE FROM audit_line WHERE seq = (SELECT max(seq) FROM audit_line)",
    )
    with scene.database.reading() as session:
        assert check_chain(session) == ""


def test_a_long_chain_is_read_to_its_end(scene, monkeypatch):
    monkeypatch.setattr(audit, "AT_ONCE", 2)
    for _ in range(5):
        scene.chart(peep="8")
    lines = lines_of(scene)
    assert [line["seq"] for line in lines] == list(range(1, len(lines) + 1))


def test_an_empty_chain_is_whole(database):
    with database.reading() as session:
        assert check_chain(session) == ""


def test_the_set_up_person_is_made_once_and_is_its_own_author(database, clock):
    made = []
    for _ in range(2):
        with database.writing(clock) as writing:
            made.append(set_up_person(writing))
            writing.audit("set_up", staff_id=made[-1])
    assert made[0] == made[1]
