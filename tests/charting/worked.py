"""Answers of a course's rows, taken apart for the tests."""

from app.charting.derive import work_out_course
from app.charting.facts import Assessment, CourseFacts
from app.charting.terms import WorkedOut
from app.physiology.answer import NotAvailable, Value
from tests.charting.rows import course, gas, later

HOLD = {
    "tidal_volume_obs": 420,
    "plateau_pressure_obs": 26,
    "peep_total": 12,
    "peep_set": 10,
    "hold_passive": "yes",
}


def answers(facts: CourseFacts, at: int = -1) -> dict[str, WorkedOut]:
    return dict(work_out_course(facts)[at][1])


def of(assessment: Assessment, key: str) -> WorkedOut:
    return answers(course(assessment))[key]


def value(worked: WorkedOut) -> Value:
    assert isinstance(worked.answer, Value), worked.answer
    return worked.answer


def absent(worked: WorkedOut) -> NotAvailable:
    assert isinstance(worked.answer, NotAvailable), worked.answer
    return worked.answer


def drawn(minutes: float = 20, **values: object) -> Assessment:
    return gas(later(minutes=minutes), **{"pao2": 90, "paco2": 40, **values})
