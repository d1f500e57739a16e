"""Courses of support: which there are, and everything known of one of them as facts."""

from collections.abc import Collection, Iterable, Sequence
from datetime import datetime
from typing import Any, Protocol

from msgspec import Struct
from sqlalchemy import Row, bindparam, select
from sqlmodel import Session

from app.charting.closed_by_tube import closed_by_tube
from app.charting.facts import Assessment, CareLimits, CourseEnd, CourseFacts, Identity
from app.record import stands
from app.record.answers import flag_answers
from app.record.chart import assessments
from app.record.errors import NotFound
from app.record.events import events
from app.record.handoffs import handoff_steps, if_thens, tasks
from app.record.ids import written_by
from app.record.tables import (
    CourseEndRow,
    CourseRow,
    OccupancyRow,
    PatientDetailsRow,
    table_of,
)
from app.record.treatments import treatments
from app.record.versions import authored, chains, newest

COURSE = table_of(CourseRow)
DETAILS = table_of(PatientDetailsRow)
END = table_of(CourseEndRow)
OCCUPANCY = table_of(OccupancyRow)


_PATIENT = select(COURSE.c.patient_id).where(COURSE.c.id == bindparam("course"))
_OF_SAME_PATIENT = (
    select(COURSE)
    .where(COURSE.c.patient_id == _PATIENT.scalar_subquery())
    .order_by(COURSE.c.recorded_at)
)
_OF_PATIENTS = (
    select(COURSE)
    .where(COURSE.c.patient_id.in_(bindparam("patients", expanding=True)))
    .order_by(COURSE.c.recorded_at)
)
_ENDS = authored(CourseEndRow, END.c.course_id.in_(bindparam("ids", expanding=True)))
_DETAILS = authored(PatientDetailsRow, DETAILS.c.patient_id == bindparam("patient"))
_DETAILS_UNTIL = _DETAILS.where(DETAILS.c.id <= bindparam("until"))
_TAKEN = select(OCCUPANCY).where(OCCUPANCY.c.course_id.in_(bindparam("ids", expanding=True)))


class Course(Struct, frozen=True):
    """One course without its chart; `version_id` is the row that a correction supersedes."""

    id: str
    version_id: str
    patient_id: str
    unit_id: str
    support_started_at: datetime
    origin: str
    source_key: str | None
    ended_at: datetime | None
    end_kind: str
    end_version_id: str | None
    bed_id: str | None
    end_words: str = ""
    ends: tuple[CourseEnd, ...] = ()
    """Every end and every taking back, in the order of writing."""


def find_course(session: Session, course_id: str, until: str | None = None) -> Course:
    """One course; with `until`, as the row with that key left it. Raises NotFound."""
    rows = session.execute(_OF_SAME_PATIENT, {"course": course_id}).all()
    if until is not None:
        rows = [row for row in rows if row.recorded_at <= written_by(until)]
    found = [course for course in _courses(session, rows, until) if course.id == course_id]
    if not found:
        raise NotFound("course", course_id)
    return found[0]


def list_courses(session: Session, unit_id: str, origin: str | None = None) -> tuple[Course, ...]:
    """The courses of a unit by the start of support; of one origin, if asked."""
    statement = select(COURSE).where(COURSE.c.unit_id == unit_id).order_by(COURSE.c.recorded_at)
    if origin is not None:
        statement = statement.where(COURSE.c.origin == origin)
    return _by_start(_courses(session, session.execute(statement).all()))


def courses_of(session: Session, unit_id: str, patient_ids: Collection[str]) -> tuple[Course, ...]:
    """The unit's courses of these patients by the start of support, however many others it has."""
    if not patient_ids:
        return ()
    rows = session.execute(_OF_PATIENTS, {"patients": list(patient_ids)}).all()
    return _by_start(course for course in _courses(session, rows) if course.unit_id == unit_id)


def _by_start(courses: Iterable[Course]) -> tuple[Course, ...]:
    return tuple(sorted(courses, key=lambda course: (course.support_started_at, course.id)))


def course_by_source(session: Session, source_key: str) -> str | None:
    """The id of the course that was imported from there; None when none was."""
    return session.execute(
        select(COURSE.c.id).where(COURSE.c.source_key == source_key)
    ).scalar_one_or_none()


KEPT = "kept courses"
"""Under which name a session holds the courses that are kept; without any each is read whole."""


class Courses(Protocol):
    """Courses that were read before."""

    def facts(self, session: Session, course_id: str) -> CourseFacts:
        """Everything known of a course, as this session sees it."""


def course_facts(
    session: Session,
    course_id: str,
    *,
    since: datetime | None = None,
    until: str | None = None,
) -> CourseFacts:
    """Everything known of a course; with `since`, only assessments and events observed from then.

    With `until`, the course as it was known when the row with that key was the last one written.
    What holds from a moment on (airway, body size, bed, targets, notes) is always complete.
    Raises NotFound.
    """
    kept: Courses | None = session.info.get(KEPT)
    if kept is not None and since is None and until is None:
        return kept.facts(session, course_id)
    course = find_course(session, course_id, until)
    chart = assessments(session, course_id, since, until)
    return read_facts(session, course, chart, since=since, until=until)


def read_facts(
    session: Session,
    course: Course,
    chart: tuple[Assessment, ...] | None = None,
    *,
    since: datetime | None = None,
    until: str | None = None,
) -> CourseFacts:
    """The same from the record itself, around a chart that is at hand, or read now."""
    details = _details(session, course.patient_id, until)
    airways = stands.airways(session, course.id, until)
    standing = tuple(airway for airway in airways if not airway.struck)
    happened = events(session, course.id, since, until)
    return CourseFacts(
        course_id=course.id,
        unit_id=course.unit_id,
        identity=_identity(details[-1], course.patient_id)
        if details
        else _nobody(course.patient_id),
        support_started_at=course.support_started_at,
        origin=course.origin,
        ended_at=course.ended_at,
        end_kind=course.end_kind,
        body_sizes=stands.body_sizes(session, course.id, until),
        airways=standing,
        bed_stays=stands.bed_stays(session, course.id, until),
        assessments=assessments(session, course.id) if chart is None else chart,
        events=closed_by_tube((event for event in happened if not event.struck), standing),
        notes=stands.notes(session, course.id, until),
        targets=stands.targets(session, course.id, until),
        tasks=tasks(session, course.id, until),
        if_thens=if_thens(session, course.id, until),
        handoffs=handoff_steps(session, course.id, until),
        care_limits=_care_limits(details),
        treatments=treatments(session, course.id, until),
        answers=flag_answers(session, course.id, until),
        own_ranges=stands.own_ranges(session, course.id, until),
        struck_events=tuple(event for event in happened if event.struck),
        struck_airways=tuple(airway for airway in airways if airway.struck),
        ends=course.ends,
    )


def identity(session: Session, patient_id: str, until: str | None = None) -> Identity:
    """Who the patient is as last written; empty words where nobody wrote any."""
    details = _details(session, patient_id, until)
    if not details:
        return _nobody(patient_id)
    return _identity(details[-1], patient_id)


def _details(session: Session, patient_id: str, until: str | None) -> Sequence[Row[Any]]:
    asked = _DETAILS if until is None else _DETAILS_UNTIL
    return session.execute(asked, {"patient": patient_id, "until": until}).all()


def _nobody(patient_id: str) -> Identity:
    return Identity(patient_id, name="", record_number="", birth_date=None, age_y=None)


def _care_limits(details: Sequence[Row[Any]]) -> tuple[CareLimits, ...]:
    """How far treatment goes, each time it was said otherwise than before."""
    said: list[CareLimits] = []
    for row in details:
        if row.code_limits and (not said or said[-1].words != row.code_limits):
            said.append(CareLimits(row.code_limits, row.recorded_at, row.author))
    return tuple(said)


def _identity(row: Row[Any], patient_id: str) -> Identity:
    return Identity(
        patient_id=patient_id,
        name=row.name,
        record_number=row.record_number,
        birth_date=row.birth_date,
        age_y=row.age_y,
        code_limits=row.code_limits,
        isolation=row.isolation,
        allergies=row.allergies,
        reason_for_support=row.reason_for_support,
    )


def patients_by_record_number(session: Session, record_number: str) -> tuple[str, ...]:
    """Ids of the patients whose newest details carry that number."""
    named = select(DETAILS.c.patient_id).where(DETAILS.c.record_number == record_number).distinct()
    ids = session.execute(named.order_by(DETAILS.c.patient_id)).scalars().all()
    return tuple(key for key in ids if identity(session, key).record_number == record_number)


def _courses(session: Session, rows: Sequence[Row[Any]], until: str | None = None) -> list[Course]:
    versions = chains(rows)
    ids = [chain[0].id for chain in versions]
    written = session.execute(_ENDS, {"ids": ids}).all()
    said: dict[str, list[Row[Any]]] = {}
    for end in written:
        if until is None or end.id <= until:
            said.setdefault(end.course_id, []).append(end)
    beds = {row.course_id: row.bed_id for row in session.execute(_TAKEN, {"ids": ids})}
    return [_course(chain, said.get(chain[0].id, []), beds.get(chain[0].id)) for chain in versions]


def _course(versions: tuple[Row[Any], ...], ends: Sequence[Row[Any]], bed_id: str | None) -> Course:
    """Key and source are the first version's: a source can be named once only."""
    first, row = versions[0], versions[-1]
    end = newest(ends)[-1] if ends else None
    over = end is not None and end.ended_at is not None
    return Course(
        id=first.id,
        version_id=row.id,
        patient_id=row.patient_id,
        unit_id=row.unit_id,
        support_started_at=row.support_started_at,
        origin=row.origin,
        source_key=first.source_key,
        ended_at=end.ended_at if end is not None else None,
        end_kind=end.kind if end is not None and over else "",
        end_version_id=end.id if end is not None else None,
        bed_id=bed_id,
        end_words=end.words if end is not None and over else "",
        ends=tuple(_end(each) for each in ends),
    )


def _end(row: Row[Any]) -> CourseEnd:
    return CourseEnd(row.ended_at, row.kind, row.words, row.author, row.recorded_at)
