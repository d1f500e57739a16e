"""Beds: one patient to a bed by the database itself, and moves that happen together."""

import pytest
from sqlalchemy import text

from app.record.beds import bed_id_of, find_bed, move, occupants, settle, unit_beds
from app.record.errors import Conflict, NotFound
from app.record.tables import BedRow, BedStayRow, CourseEndRow


def shift(scene, beds, at=None):
    with scene.writing() as writing:
        move(writing, beds, at or scene.clock.forward(minutes=1))
        writing.audit("move")


def who_is_where(scene):
    with scene.database.reading() as session:
        return dict(occupants(session, scene.unit))


def test_beds_stand_by_position(scene):
    with scene.database.reading() as session:
        assert [bed.code for bed in unit_beds(session, scene.unit)] == ["1", "2", "3"]


def test_a_changed_bed_keeps_its_identity(scene):
    row = BedRow(
        supersedes_id=scene.beds[0],
        bed_id=scene.beds[0],
        unit_id=scene.unit,
        code="1W",
        position=9,
        note="window",
    )
    scene.write(row)
    with scene.database.reading() as session:
        bed = find_bed(session, scene.unit, "1W")
        assert (bed.id, bed.version_id, bed.note) == (scene.beds[0], row.id, "window")
        assert [bed.code for bed in unit_beds(session, scene.unit)] == ["2", "3", "1W"]
        with pytest.raises(NotFound):
            find_bed(session, scene.unit, "1")
    assert who_is_where(scene) == {scene.beds[0]: scene.course}


def test_a_bed_out_of_use_is_listed_but_not_found(scene):
    scene.write(
        BedRow(
            supersedes_id=scene.beds[2],
            bed_id=scene.beds[2],
            unit_id=scene.unit,
            code="3",
            position=3,
            in_use=False,
        )
    )
    with scene.database.reading() as session:
        assert [bed.in_use for bed in unit_beds(session, scene.unit)] == [True, True, False]
        with pytest.raises(NotFound):
            find_bed(session, scene.unit, "3")


def test_a_move_empties_one_bed_and_fills_another(scene):
    shift(scene, {scene.course: scene.beds[1]})
    assert who_is_where(scene) == {scene.beds[1]: scene.course}


def test_a_patient_in_no_bed_occupies_none(scene):
    shift(scene, {scene.course: None})
    with scene.database.reading() as session:
        assert bed_id_of(session, scene.course) is None


def test_two_patients_change_places_in_one_write(scene):
    other = scene.admit(scene.beds[1])
    shift(scene, {scene.course: scene.beds[1], other: scene.beds[0]})
    assert who_is_where(scene) == {scene.beds[0]: other, scene.beds[1]: scene.course}


def test_a_taken_bed_is_refused_and_nobody_moves(scene):
    other = scene.admit(scene.beds[1])
    before = who_is_where(scene)
    with pytest.raises(Conflict):
        shift(scene, {other: scene.beds[0]})
    assert who_is_where(scene) == before


@pytest.mark.parametrize("taken_twice", ["bed", "course"])
def test_the_database_itself_refuses_a_second_occupant_and_a_second_bed(scene, taken_twice):
    other = scene.admit(None)
    bed, course = {
        "bed": (scene.beds[0], other),
        "course": (scene.beds[1], scene.course),
    }[taken_twice]
    row = {"bed": bed, "course": course}
    with pytest.raises(Conflict), scene.database.working() as session:
        session.execute(text("INSERT INTO occupancy VALUES (:bed, :course)"), row)


def test_a_move_written_late_does_not_undo_a_newer_one(scene):
    now = scene.clock.forward(hours=4)
    shift(scene, {scene.course: scene.beds[1]}, at=now)
    shift(scene, {scene.course: scene.beds[2]}, at=now.replace(hour=9))
    assert who_is_where(scene) == {scene.beds[1]: scene.course}


def test_a_corrected_stay_counts_instead_of_the_first(scene):
    first = BedStayRow(course_id=scene.course, bed_id=scene.beds[1], from_at=scene.clock())
    scene.write(first)
    with scene.writing() as writing:
        writing.add(
            BedStayRow(
                course_id=scene.course,
                supersedes_id=first.id,
                bed_id=scene.beds[2],
                from_at=scene.clock(),
            )
        )
        settle(writing, [scene.course])
        writing.audit("correct")
    assert who_is_where(scene) == {scene.beds[2]: scene.course}


def test_an_ended_course_leaves_its_bed_to_the_next(scene):
    with scene.writing() as writing:
        writing.add(CourseEndRow(course_id=scene.course, ended_at=scene.clock(), kind="died"))
        settle(writing, [scene.course])
        writing.audit("end")
    other = scene.admit(scene.beds[0])
    assert who_is_where(scene) == {scene.beds[0]: other}
