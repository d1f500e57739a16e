"""Seeding the record: once, whole, by people, on both engines."""

from datetime import timedelta

import pytest
from argon2.profiles import CHEAPEST

from app.actions.passwords import Passwords, complaint_about
from app.actions.permissions import Role
from app.actions.set_up_unit import UnitRefused
from app.record.audit import tail
from app.record.people import find_by_sign_in_name, list_people, password_hash
from app.record.policies import policy_in_force
from app.record.verify import verify
from app.rules.bed_summary import summarise, to_text
from app.rules.policy import read_policy
from seed_demo.people import DEMO_PEOPLE, PEOPLE
from seed_demo.shift import CLOCK
from seed_demo.unit import is_seeded, seed
from tests.seed_demo.conftest import NOW

pytestmark = pytest.mark.xdist_group("larch")

CHEAP = Passwords(CHEAPEST)


def differences(database, unit_id: str) -> list:
    with database.reading() as session:
        held = policy_in_force(session, unit_id, NOW)
        policy = read_policy(held.toml, held.version)
        return verify(session, lambda facts: to_text(summarise(facts, policy, CLOCK)))


def test_the_record_is_whole_afterwards(larch):
    assert differences(larch.database, larch.seeded.unit_id) == []


def test_the_unit_is_known_as_seeded(larch, sqlite_database):
    with larch.database.reading() as session:
        assert is_seeded(session)
    with sqlite_database.reading() as session:
        assert not is_seeded(session)


def test_a_second_start_is_refused_and_writes_nothing(larch):
    with larch.database.reading() as session:
        before = tail(session)
    with pytest.raises(UnitRefused):
        seed(larch.database, NOW + timedelta(minutes=1), passwords=CHEAP)
    with larch.database.reading() as session:
        assert tail(session) == before


def test_nothing_is_dated_after_now(larch):
    with larch.database.reading() as session:
        assert tail(session).at <= NOW


def test_rows_are_written_minutes_after_they_were_seen(larch):
    waits = [
        row.recorded_at - row.observed_at
        for facts in larch.facts.values()
        for row in facts.assessments
    ]
    late = [wait for wait in waits if wait > timedelta(minutes=15)]
    assert min(waits) >= timedelta(minutes=2)
    assert len(late) == 1


def test_the_people_can_sign_in_with_what_the_page_shows(larch):
    with larch.database.reading() as session:
        for shown in DEMO_PEOPLE:
            person = find_by_sign_in_name(session, shown.sign_in_name)
            assert CHEAP.matches(password_hash(session, person.id), shown.password)


def test_every_role_has_somebody(larch):
    with larch.database.reading() as session:
        assert {person.role for person in list_people(session)} == set(Role)


@pytest.mark.parametrize("one", PEOPLE, ids=lambda one: one.sign_in_name)
def test_a_demo_password_is_one_that_the_program_takes(one):
    assert complaint_about(one.password) == ""


def test_both_shifts_wrote(larch):
    authors = {row.author for facts in larch.facts.values() for row in facts.assessments}
    assert authors == {"Ash", "Birch", "Cedar"}


def test_postgresql_takes_the_same_unit(larch, postgresql):
    with postgresql.fresh() as database:
        seeded = seed(database, NOW, passwords=CHEAP)
        assert seeded.checks == larch.seeded.checks
        assert differences(database, seeded.unit_id) == []
