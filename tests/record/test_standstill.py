"""Whether the store stands still: SQLite tells, PostgreSQL never claims to."""

import pytest

from app.record.database import Database
from tests.record.scene import set_scene


@pytest.fixture
def scene(sqlite_database, clock):
    return set_scene(sqlite_database, clock)


def look(scene):
    with scene.database.reading() as session:
        session.connection()


def chart(scene):
    scene.chart(peep="8")


def chart_from_elsewhere(scene):
    other = Database(str(scene.database.url))
    scene.database, ours = other, scene.database
    chart(scene)
    other.close()
    scene.database = ours


def give_up(scene):
    with pytest.raises(ZeroDivisionError):
        write_and_fail(scene)


def write_and_fail(scene):
    with scene.writing() as writing:
        writing.audit("look")
        raise ZeroDivisionError


@pytest.mark.parametrize("act", [look, give_up])
def test_the_number_stays_while_nothing_is_written(scene, act):
    before = scene.database.standing_still()
    act(scene)
    assert scene.database.standing_still() == before is not None


@pytest.mark.parametrize("act", [chart, chart_from_elsewhere])
def test_the_number_moves_with_every_write_of_any_process(scene, act):
    before = scene.database.standing_still()
    act(scene)
    assert scene.database.standing_still() != before


def test_a_number_from_before_a_reopening_is_never_met_again(scene):
    before = scene.database.standing_still()
    scene.database.close()
    assert scene.database.standing_still() != before


def test_a_store_that_is_not_there_tells_nothing(tmp_path):
    database = Database(f"sqlite:///{tmp_path}/nothing.sqlite3")
    assert database.standing_still() is None


def test_postgresql_never_claims_to_stand_still(postgresql):
    with postgresql.fresh() as database:
        assert database.standing_still() is None
