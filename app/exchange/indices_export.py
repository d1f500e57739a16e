"""The indices of every assessment as one CSV file: unrounded values, and the state of each."""

import csv
from collections.abc import Iterable, Iterator, Mapping
from typing import Final, TextIO

from sqlmodel import Session

from app.charting.derive import CHARTED, work_out_course
from app.charting.facts import Assessment
from app.charting.terms import WorkedOut
from app.physiology.answer import Answer, NotAvailable, Query, Value, Verdict
from app.record.courses import Course, course_facts, list_courses
from app.record.judging import Judging
from app.rules.unit_clock import UnitClock

WHERE: Final = ("course", "observed_at")
HEADER: Final = (*WHERE, *(name for key in CHARTED for name in (key, f"{key}_state")))
"""`course` and `observed_at`, then each index and its state."""


def export_indices(session: Session, judge: Judging, out: TextIO) -> int:
    """Write the indices of every course of a unit, bedside and imported; returns how many rows.

    One row for each assessment that stands, blood gases included, in the order of time. An imported
    course is named by its stay, others by their id. Heights are those known now; adult age and
    barometric pressure those in force at each row's moment.
    """
    writer = csv.writer(out)
    writer.writerow(HEADER)
    written = 0
    for course in list_courses(session, judge.unit.id):
        for row in _rows(session, course, judge):
            writer.writerow(row)
            written += 1
    return written


def _rows(session: Session, course: Course, judge: Judging) -> Iterator[list[str]]:
    done = work_out_course(course_facts(session, course.id), judge.site)
    name = course.source_key or course.id
    return (_row(name, assessment, answers, judge.clock) for assessment, answers in done)


def _row(
    course: str, assessment: Assessment, answers: Mapping[str, WorkedOut], clock: UnitClock
) -> list[str]:
    moment = clock.local(assessment.observed_at).isoformat()
    return [course, moment, *_cells(answers[key].answer for key in CHARTED)]


def _cells(answers: Iterable[Answer]) -> Iterator[str]:
    for answer in answers:
        yield value_of(answer)
        yield state_of(answer)


def value_of(answer: Answer) -> str:
    """The unrounded number, or the word of a class; blank where the index is not valid."""
    if isinstance(answer, Value):
        return f"{answer.number:f}"
    return answer.word if isinstance(answer, Verdict) else ""


def state_of(answer: Answer) -> str:
    """The words of the file calculator, and `not_applicable` for an index without meaning here."""
    if isinstance(answer, Value):
        return "value"
    if isinstance(answer, Verdict):
        return "class"
    if isinstance(answer, Query):
        return "query"
    return _why_not(answer)


def _why_not(answer: NotAvailable) -> str:
    return "not_available" if answer.applicable else "not_applicable"
