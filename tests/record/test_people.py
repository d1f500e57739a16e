"""People and their standing: the newest row holds, and nobody signs in as the set-up person."""

import pytest

from app.record.errors import Conflict, NotFound
from app.record.people import (
    IMPORTER,
    find_by_sign_in_name,
    find_person,
    list_people,
    password_hash,
)
from app.record.tables import StaffRow, StaffStandingRow


def stand(scene, **more) -> None:
    values = {"role": "therapist", "password_hash": "argon2", **more}
    scene.write(StaffStandingRow(staff_id=scene.therapist, since=scene.clock(), **values))


@pytest.mark.parametrize("typed", ["mira", " Mira ", "MIRA"])
def test_a_name_is_found_however_it_is_typed(scene, typed):
    with scene.database.reading() as session:
        assert find_by_sign_in_name(session, typed).id == scene.therapist


def test_an_unknown_name_finds_nobody(scene):
    with scene.database.reading() as session:
        assert find_by_sign_in_name(session, "nobody") is None
        with pytest.raises(NotFound):
            find_person(session, "0")


def test_the_newest_standing_holds(scene):
    stand(scene, role="lead")
    stand(scene, role="student")
    with scene.database.reading() as session:
        assert find_person(session, scene.therapist).role == "student"
        assert [person.role for person in list_people(session)] == ["student"]


def test_somebody_who_left_has_no_password(scene):
    stand(scene)
    with scene.database.reading() as session:
        assert password_hash(session, scene.therapist) == "argon2"
    stand(scene, active=False)
    with scene.database.reading() as session:
        assert password_hash(session, scene.therapist) == ""
        assert not find_person(session, scene.therapist).active


def test_somebody_without_standing_may_nothing(scene):
    scene.write(row := StaffRow(sign_in_name="new", display_name="New"))
    with scene.database.reading() as session:
        person = find_person(session, row.id)
        assert (person.role, person.active, person.since) == ("", False, None)
        assert password_hash(session, row.id) == ""


def test_nobody_signs_in_as_the_set_up_person(scene):
    with scene.database.reading() as session:
        person = find_by_sign_in_name(session, IMPORTER)
        assert (person.active, password_hash(session, person.id)) == (False, "")
        assert person.id not in [found.id for found in list_people(session)]


def test_a_sign_in_name_is_taken_once(scene):
    with pytest.raises(Conflict):
        scene.write(StaffRow(sign_in_name="mira", display_name="Another Mira"))
