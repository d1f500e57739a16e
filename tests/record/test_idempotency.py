"""A form that arrives twice is saved once."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest

from app.record.errors import KeyReused
from app.record.idempotency import forget_before, recall, remember
from app.record.tables import PatientRow


def send(scene, key="k", content="c", *, staff="", fail=False) -> str:
    """What an action does: ask, save, remember, all in one write."""
    person = staff or scene.therapist
    with scene.writing() as writing:
        answer = recall(writing.session, person, key, content)
        if answer is not None:
            writing.audit("repeated")
            return answer
        writing.add(row := PatientRow())
        remember(writing, person, key, content, row.id)
        writing.audit("admit")
        if fail:
            raise ZeroDivisionError
    return row.id


def test_a_repeated_form_gets_the_first_answer(scene):
    assert send(scene) == send(scene)


def test_other_keys_save_again(scene):
    assert send(scene, "one") != send(scene, "two")


def test_other_content_under_the_same_key_is_refused(scene):
    send(scene, content="peep 8")
    with pytest.raises(KeyReused):
        send(scene, content="peep 80")


def test_keys_of_different_people_never_meet(scene):
    with scene.database.reading() as session:
        importer = session.connection().exec_driver_sql(
            "SELECT id FROM staff WHERE sign_in_name = 'import'"
        )
        other = importer.scalar_one()
    assert send(scene, content="mine") != send(scene, content="theirs", staff=other)


def test_a_failed_save_forgets_its_key(scene):
    with pytest.raises(ZeroDivisionError):
        send(scene, fail=True)
    with scene.database.reading() as session:
        assert recall(session, scene.therapist, "k", "c") is None


def test_the_same_form_sent_at_once_is_saved_once(scene):
    with ThreadPoolExecutor(6) as pool:
        answers = set(pool.map(lambda _: send(scene), range(6)))
    assert len(answers) == 1


@pytest.mark.parametrize(("minutes", "known"), [(-1, True), (0, True), (1, False)])
def test_old_keys_are_forgotten(scene, minutes, known):
    send(scene)
    with scene.database.working() as session:
        forget_before(session, scene.clock() + timedelta(minutes=minutes))
    with scene.database.reading() as session:
        assert (recall(session, scene.therapist, "k", "c") is not None) is known
