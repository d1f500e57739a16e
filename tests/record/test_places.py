"""Units and the policy in force: each moment is judged by the version of that moment."""

from datetime import timedelta

import pytest

from app.record.errors import Conflict, NotFound
from app.record.policies import next_policy_version, policy_history, policy_in_force
from app.record.tables import PolicyRow, UnitRow
from app.record.units import find_unit, find_unit_by_code, list_units
from tests.record.scene import ZONE


def policy(scene, version, hours) -> PolicyRow:
    return PolicyRow(
        unit_id=scene.unit,
        version=version,
        toml=f"version = {version}",
        reason="why",
        in_force_from=scene.clock() + timedelta(hours=hours),
    )


def test_a_unit_is_found_by_key_and_by_code(scene):
    with scene.database.reading() as session:
        assert find_unit(session, scene.unit) == find_unit_by_code(session, "A")
        for missing in (find_unit, find_unit_by_code):
            with pytest.raises(NotFound):
                missing(session, "nowhere")


def test_a_changed_unit_keeps_its_identity(scene):
    scene.write(
        UnitRow(
            supersedes_id=scene.unit,
            unit_id=scene.unit,
            code="A",
            name="Unit A, east",
            zone=ZONE.key,
            shift_times="07:00 19:00",
        )
    )
    with scene.database.reading() as session:
        (unit,) = list_units(session)
    assert (unit.id, unit.name) == (scene.unit, "Unit A, east")
    assert unit.shift_times == ("07:00", "19:00")
    assert unit.zone == ZONE


@pytest.mark.parametrize(("minutes", "version"), [(-1, None), (0, 1), (119, 1), (120, 2), (600, 2)])
def test_the_policy_of_a_moment_is_the_highest_then_in_force(scene, minutes, version):
    scene.write(policy(scene, 1, hours=0), policy(scene, 2, hours=2))
    with scene.database.reading() as session:
        found = policy_in_force(session, scene.unit, scene.clock() + timedelta(minutes=minutes))
    assert (found.version if found else None) == version


def test_every_version_stays_readable_with_its_author(scene):
    scene.write(policy(scene, 1, hours=0), policy(scene, 2, hours=2))
    with scene.database.reading() as session:
        history = policy_history(session, scene.unit)
        assert next_policy_version(session, scene.unit) == 3
    assert [(p.version, p.author) for p in history] == [(1, "Mira Holt"), (2, "Mira Holt")]


def test_a_unit_without_a_policy_begins_with_version_one(scene):
    with scene.database.reading() as session:
        assert next_policy_version(session, scene.unit) == 1
        assert policy_history(session, scene.unit) == ()


def test_a_version_number_is_given_once(scene):
    scene.write(policy(scene, 1, hours=0))
    with pytest.raises(Conflict):
        scene.write(policy(scene, 1, hours=1))
