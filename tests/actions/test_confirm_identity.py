"""Saying whose chart it is: right, wrong, counted, audited without what was typed."""

import json

import pytest

from app.actions.confirm_identity import confirm_identity
from app.record.audit import chain
from app.record.database import Database
from app.record.errors import NotFound
from app.record.identity_checks import find_identity_check
from tests.clock import Clock
from tests.ward import Ward, open_ward


@pytest.fixture
def ward(database: Database, clock: Clock) -> Ward:
    return open_ward(database, clock)


@pytest.fixture
def say(database: Database, clock: Clock, ward: Ward):
    def say(typed: str, digits: int = 2, bed: str = "L3", course: str = ""):
        with database.writing(clock, ward.staff["ash"], workstation="desk") as writing:
            return confirm_identity(writing, "t", course or ward.courses[bed], typed, digits)

    return say


def test_the_end_of_the_record_number_confirms_whose_chart_it_is(say, clock: Clock) -> None:
    said = say("86")
    assert (said.wrong, said.confirmed_at) == (0, clock.now)


def test_another_patients_number_does_not_and_is_counted(say) -> None:
    assert say("71").confirmed_at is None
    assert say("71").wrong == 2


def test_a_right_answer_after_wrong_ones_confirms(say, clock: Clock) -> None:
    say("71")
    assert (say("86").wrong, say("86").confirmed_at) == (1, clock.now)


def test_what_was_said_of_one_patient_says_nothing_of_another(
    say, database: Database, ward: Ward
) -> None:
    say("86")
    with database.reading() as session:
        assert find_identity_check(session, "t", ward.courses["L5"]).confirmed_at is None


def test_both_answers_are_in_the_audit_and_what_was_typed_is_not(
    say, database: Database, ward: Ward
) -> None:
    say("71")
    say("86")
    with database.reading() as session:
        lines = [line for line in chain(session) if line["act"].endswith("_identity")]
    assert [(line["act"], line["staff_id"], line["course_id"]) for line in lines] == [
        ("mistake_identity", ward.staff["ash"], ward.courses["L3"]),
        ("confirm_identity", ward.staff["ash"], ward.courses["L3"]),
    ]
    assert [json.loads(line["detail"]) for line in lines] == [{"wrong": 1}, {"wrong": 1}]


def test_of_an_unknown_course_nothing_can_be_said(say) -> None:
    with pytest.raises(NotFound):
        say("86", course="nobody")
