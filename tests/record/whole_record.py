"""A record with something in every table, and two records compared value by value."""

import sqlite3
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from sqlalchemy import Table, select

from app.record.beds import settle
from app.record.canonical import as_text
from app.record.copied_rows import COPIED
from app.record.courses import find_course
from app.record.database import Database
from app.record.drafts import Draft, store_draft
from app.record.summaries import store_summary
from app.record.tables import (
    AirwayRow,
    AssessmentStrikeRow,
    AssignmentRow,
    BodySizeRow,
    CoSignatureRow,
    CourseEndRow,
    CourseRow,
    CoverRow,
    EventDetailRow,
    EventEndRow,
    EventRow,
    FlagAnswerRow,
    HandoffNoteRow,
    HandoffRow,
    IfThenRow,
    OutageRow,
    OwnRangeRow,
    PatientDetailsRow,
    PolicyRow,
    TargetRow,
    TaskRow,
    TreatmentGivenRow,
    TreatmentRow,
)
from app.record.writing import Writing
from tests.record.scene import Scene

ODD_WORDS = 'Zoë "Ø" 🌲\n\t — \u2028 back\\slash = + @'
A_MICROSECOND_AFTER = timedelta(microseconds=1)


def fill(scene: Scene) -> None:
    """Something in every table that a backup holds, and a draft, which it does not hold."""
    struck = scene.chart(peep="8.0", fio2="40", ph="7.400", volume="1200")
    scene.clock.forward(minutes=5)
    other = scene.admit(scene.beds[1], name=ODD_WORDS)
    with scene.writing() as writing:
        now = writing.recorded_at + A_MICROSECOND_AFTER
        writing.add(*_of_course(scene.course, now), *_of_assessment(scene.course, struck))
        _event(writing, scene.course, now)
        _treatment(writing, scene.course, now)
        writing.add(CourseEndRow(course_id=other, ended_at=now, kind="extubated"))
        settle(writing, [other])
        writing.add(_superseding(writing, scene.course), _policy(scene.unit, now))
        writing.add(OutageRow(unit_id=scene.unit, from_at=now, to_at=now, words=ODD_WORDS))
        writing.add(*_of_shift(scene, now))
        writing.add(_details(writing, scene.course))
        store_summary(writing, scene.course, scene.unit, '{"peep":"8.0"}', now)
        writing.audit("fill", course_id=scene.course, detail={"why": ODD_WORDS})
    with scene.database.working() as session:
        store_draft(session, scene.therapist, Draft(other, "full", "{}", scene.clock()))


def _of_course(course: str, now: datetime) -> list:
    return [
        BodySizeRow(course_id=course, observed_at=now, height_cm=Decimal("160.50"), pbw_sex="F"),
        AirwayRow(
            course_id=course, observed_at=now, act="placed", category="ett", size_mm=Decimal("7.5")
        ),
        TargetRow(course_id=course, spo2_low=Decimal(88), ordered_by="Dr Oak", ordered_at=now),
        OwnRangeRow(
            course_id=course,
            limit_key="plateau_pressure_obs",
            over=Decimal("34.0"),
            until=now + A_MICROSECOND_AFTER,
            ordered_by="Dr Oak",
            ordered_at=now,
            why=ODD_WORDS,
        ),
        HandoffNoteRow(course_id=course, heading="todo", words=ODD_WORDS, observed_at=now),
        HandoffRow(course_id=course, state="offered", snapshot='{"a":1}', version=1, seen="[]"),
        TaskRow(course_id=course, words=ODD_WORDS, due_at=now, source="person", state="open"),
        IfThenRow(
            course_id=course,
            measure="SpO2",
            comparison="under",
            value="88",
            within_min=Decimal("10.0"),
            stands=True,
        ),
        FlagAnswerRow(
            course_id=course,
            cause="mechanics",
            said="muted",
            answers_at=now,
            rules='["plateau_over"]',
            words=ODD_WORDS,
            muted_until=now + A_MICROSECOND_AFTER,
        ),
    ]


def _of_shift(scene: Scene, now: datetime) -> list:
    return [
        AssignmentRow(unit_id=scene.unit, bed_id=scene.beds[0], shift_at=now, staff_id=None),
        CoverRow(
            unit_id=scene.unit,
            staff_id=scene.therapist,
            for_staff_id=scene.therapist,
            from_at=now,
            to_at=now + A_MICROSECOND_AFTER,
            words=ODD_WORDS,
        ),
    ]


def _of_assessment(course: str, assessment: str) -> list:
    return [
        AssessmentStrikeRow(course_id=course, assessment_id=assessment, reason="wrong patient"),
        CoSignatureRow(course_id=course, assessment_id=assessment),
    ]


def _event(writing: Writing, course: str, now: datetime) -> None:
    event = EventRow(course_id=course, kind="prone", observed_at=now)
    writing.add(event)
    writing.add(EventEndRow(course_id=course, event_id=event.id, ended_at=now))
    details = '{"prone_head_side": "left"}'
    writing.add(
        EventDetailRow(course_id=course, event_id=event.id, observed_at=now, details=details)
    )


def _treatment(writing: Writing, course: str, now: datetime) -> None:
    order = TreatmentRow(
        course_id=course,
        drug=ODD_WORDS,
        dose="2.5 mg",
        route="nebuliser",
        interval_h=Decimal("0.50"),
        ordered_by="Dr Oak",
        ordered_at=now,
    )
    writing.add(order)
    writing.add(
        TreatmentGivenRow(course_id=course, treatment_id=order.id, given_at=now, response=ODD_WORDS)
    )


def _superseding(writing: Writing, course: str) -> CourseRow:
    """A course's id is random, so that this row may well sort before the one that it replaces."""
    known = find_course(writing.session, course)
    return CourseRow(
        id="0" * 32,
        supersedes_id=known.version_id,
        patient_id=known.patient_id,
        unit_id=known.unit_id,
        support_started_at=known.support_started_at - timedelta(days=1),
    )


def _policy(unit: str, now: datetime) -> PolicyRow:
    return PolicyRow(unit_id=unit, version=1, toml="a = 1\n", reason=ODD_WORDS, in_force_from=now)


def _details(writing: Writing, course: str) -> PatientDetailsRow:
    patient = find_course(writing.session, course).patient_id
    return PatientDetailsRow(patient_id=patient, birth_date=date(1971, 2, 28), age_y=None)


def everything(database: Database) -> dict[str, list[tuple]]:
    """Every value of every copied table with its type and, for a decimal, its places."""
    with database.reading() as session:
        return {table.name: _told(session, table) for table in COPIED}


def _told(session, table: Table) -> list[tuple]:
    rows = session.execute(select(table).order_by(*table.primary_key.columns)).all()
    return [tuple((type(value).__name__, as_text(value)) for value in row) for row in rows]


def as_stored(database: Database) -> dict[str, list[tuple]]:
    """What a SQLite file itself holds, past every conversion of ours."""
    other = sqlite3.connect(database.url.database)
    stored = {t.name: other.execute(f"SELECT * FROM {t.name}").fetchall() for t in COPIED}  # noqa: S608
    other.close()
    return {name: sorted(rows, key=repr) for name, rows in stored.items()}


MADE_AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
