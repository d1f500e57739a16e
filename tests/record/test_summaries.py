"""The board's rows: one query however many beds, and a mark that moves whenever they would."""

from contextlib import contextmanager

import pytest
from sqlalchemy import event

from app.record.beds import move, settle
from app.record.summaries import (
    board_lines,
    cells_of,
    drop_summary,
    find_summary,
    store_summary,
)
from app.record.tables import BedRow, CourseEndRow
from tests.record.scene import set_scene


@contextmanager
def counted(session):
    """The statements that run meanwhile."""
    ran = []

    def note(_connection, _cursor, statement, *_rest):
        ran.append(statement)

    engine = session.get_bind()
    event.listen(engine, "before_cursor_execute", note)
    yield ran
    event.remove(engine, "before_cursor_execute", note)


def store(scene, cells, edge=None, course=""):
    with scene.writing() as writing:
        store_summary(writing, course or scene.course, scene.unit, cells, edge)
        writing.audit("chart")
    return writing.sequence


def board(scene):
    with scene.database.reading() as session:
        return board_lines(session, scene.unit)


@pytest.mark.parametrize("beds", [1, 24, 200])
def test_the_board_is_two_queries_however_many_beds(database, clock, beds):
    scene = set_scene(database, clock, beds)
    with database.reading() as session, counted(session) as ran:
        assert len(board_lines(session, scene.unit)) == beds
        cells_of(session, [scene.course])
    assert len([statement for statement in ran if "SELECT" in statement]) == 2


def test_beds_stand_in_order_taken_or_empty(scene):
    sequence = store(scene, '{"peep":"8"}')
    first, second, third = board(scene)
    assert (first.bed_code, first.course_id) == ("1", scene.course)
    assert (first.version, first.changed_seq) == (2, sequence)
    assert (second.course_id, second.version) == (None, 0)
    assert third.bed_code == "3"


def test_the_cells_of_some_courses_are_those_stored(scene):
    other = scene.admit(scene.beds[1])
    store(scene, '{"peep":"8"}')
    with scene.database.reading() as session:
        assert cells_of(session, [scene.course]) == {scene.course: '{"peep":"8"}'}
        assert set(cells_of(session, [scene.course, other, "0" * 32])) == {scene.course, other}
        assert cells_of(session, []) == {}


def test_another_units_board_shows_nothing_of_this_one(scene):
    with scene.database.reading() as session:
        assert board_lines(session, "elsewhere") == ()


def test_a_bed_out_of_use_is_shown_only_while_somebody_is_in_it(scene):
    for bed, code in ((scene.beds[0], "1"), (scene.beds[1], "2")):
        scene.write(
            BedRow(
                supersedes_id=bed,
                bed_id=bed,
                unit_id=scene.unit,
                code=code,
                position=1,
                in_use=False,
            )
        )
    assert [row.bed_code for row in board(scene)] == ["1", "3"]


def test_a_dropped_summary_is_gone(scene):
    with scene.writing() as writing:
        drop_summary(writing, scene.course)
        writing.audit("end")
    with scene.database.reading() as session:
        assert find_summary(session, scene.course) is None


def test_a_failed_write_leaves_the_summary_as_it_was(scene):
    store(scene, "before")
    with pytest.raises(ZeroDivisionError):
        store_and_fail(scene)
    with scene.database.reading() as session:
        assert find_summary(session, scene.course) == "before"


def store_and_fail(scene):
    with scene.writing() as writing:
        store_summary(writing, scene.course, scene.unit, "after", None)
        raise ZeroDivisionError


def change_cells(scene):
    store(scene, "other")


def move_patient(scene):
    with scene.writing() as writing:
        move(writing, {scene.course: scene.beds[1]}, scene.clock.forward(minutes=1))
        writing.audit("move")


def admit_another(scene):
    scene.admit(scene.beds[2])


def end_course(scene):
    with scene.writing() as writing:
        writing.add(CourseEndRow(course_id=scene.course, ended_at=scene.clock(), kind="died"))
        settle(writing, [scene.course])
        drop_summary(writing, scene.course)
        writing.audit("end")


def rename_bed(scene):
    bed = scene.beds[1]
    scene.write(BedRow(supersedes_id=bed, bed_id=bed, unit_id=scene.unit, code="2W", position=2))


def end_and_take_back(scene):
    end_course(scene)
    store(scene, "{}")


@pytest.mark.parametrize(
    "change",
    [change_cells, move_patient, admit_another, end_course, rename_bed, end_and_take_back],
)
def test_a_line_moves_with_everything_that_the_board_shows(scene, change):
    before = board(scene)
    change(scene)
    assert board(scene) != before


def test_the_lines_stand_still_while_nothing_on_the_board_changes(scene):
    before = board(scene)
    scene.chart(peep="8")
    assert board(scene) == before
