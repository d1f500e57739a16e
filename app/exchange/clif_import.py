"""Drive the plan of an import through the same actions as a person's typing."""

from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from app.actions.admit_patient import admit_patient
from app.actions.chart_assessment import NothingCharted, add_check
from app.charting.check import NewReading, ReadCheck, TypedCheck
from app.charting.facts import Assessment, CourseFacts, Kind, Mark, Reading
from app.exchange.clif_checks import ClifCheck
from app.exchange.clif_courses import Course
from app.exchange.clif_people import Height, Heights, admission_of
from app.exchange.clif_plan import PlannedCourse, plan_of
from app.exchange.clif_tables import ClifTables, read_tables
from app.exchange.import_report import ImportReport, Line
from app.record.courses import course_by_source, course_facts
from app.record.database import Database
from app.record.judging import clock_of
from app.record.people import set_up_person
from app.record.units import Unit
from app.record.writing import Clock, Writing


def import_clif(database: Database, clock: Clock, unit: Unit, folder: Path) -> ImportReport:
    """Read the folder and write what it holds into a unit, one transaction per course.

    A course that is already there is left alone, so a second import adds nothing, and one that was
    cut off goes on where it stopped. Raises TablesError before anything is written.
    """
    tables = read_tables(folder)
    plan = plan_of(tables, clock_of(unit))
    heights = Heights(tables.stays, tables.vitals)
    report = ImportReport(tables.rows_read, tables.absent, plan.rows, plan.began)
    with database.writing(clock, zone=unit.zone) as writing:
        author = set_up_person(writing)
        writing.audit("import_clif", staff_id=author, detail={"courses": len(plan.courses)})
    for planned in plan.courses:
        with database.reading() as session:
            before = course_by_source(session, planned.course.key)
        if before is not None:
            report.courses_before += 1
        elif planned.course.stay not in tables.stays:
            report.courses_left_out += 1
        else:
            with database.writing(clock, author, zone=unit.zone) as writing:
                _write(Typist(writing, unit.id, tables, heights, report), planned)
    return report


class Typist(Struct, frozen=True):
    """What one write of the import needs at hand."""

    writing: Writing
    unit_id: str
    tables: ClifTables
    heights: Heights
    report: ImportReport


def _write(typist: Typist, planned: PlannedCourse) -> None:
    course, report = planned.course, typist.report
    height = typist.heights.of(course.stay, course.started_at)
    admission = admission_of(course, typist.tables.stays[course.stay], typist.unit_id, height)
    course_id = admit_patient(typist.writing, admission)
    report.courses_made += 1
    report.zeros += planned.zeros
    _tell_height(report, course, height)
    facts = course_facts(typist.writing.session, course_id)
    for check in planned.checks:
        facts = _type(typist, course, facts, check)


def _tell_height(report: ImportReport, course: Course, height: Height | None) -> None:
    if height is None:
        return
    at = course.started_at
    if height.number is None:
        report.refused.append(Line(course.key, at, "height_cm", height.typed, height.refusal))
        return
    report.values_taken += 1
    if height.question:
        report.unconfirmed.append(Line(course.key, at, "height_cm", height.typed, height.question))


def _type(typist: Typist, course: Course, facts: CourseFacts, check: ClifCheck) -> CourseFacts:
    """Chart one check as a form and note what became of it; returns the facts with it in them."""
    report = typist.report
    form = TypedCheck(
        kind=check.kind,
        observed_at=check.at,
        mode_family=check.family,
        typed=check.typed,
        source="import",
        accept_everything=True,
        inferred=check.inferred,
    )
    report.conflicts.extend(
        Line(course.key, check.at, code, typed, "another value of this round came first")
        for code, typed in check.conflicts
    )
    try:
        charted, read = add_check(typist.writing, facts, form, now=typist.tables.now)
    except NothingCharted as nothing:
        report.refused.extend(_dropped(course, check, nothing.read))
        return facts
    if check.kind is Kind.GAS:
        report.gases += 1
    else:
        report.checks += 1
    report.values_taken += len(read.readings)
    report.values_inferred += sum(Mark.INFERRED in value.marks for value in read.readings)
    report.refused.extend(_dropped(course, check, read))
    report.unconfirmed.extend(_unconfirmed(course, check, read))
    return _with(facts, _fact(typist.writing, charted.assessment_id, form, read))


def _dropped(course: Course, check: ClifCheck, read: ReadCheck) -> Iterator[Line]:
    for refused in read.dropped:
        yield Line(course.key, check.at, refused.field, refused.raw, refused.sentence)


def _unconfirmed(course: Course, check: ClifCheck, read: ReadCheck) -> Iterator[Line]:
    for value in read.readings:
        if Mark.UNCONFIRMED_IMPORT in value.marks:
            yield Line(course.key, check.at, value.field, value.raw, value.question)


def _with(facts: CourseFacts, row: Assessment) -> CourseFacts:
    return replace(facts, assessments=(*facts.assessments, row))


def _fact(writing: Writing, row_id: str, form: TypedCheck, read: ReadCheck) -> Assessment:
    """The row that was just written, as the record would hand it up again."""
    readings = {value.field: _reading(writing, row_id, form, value) for value in read.readings}
    return Assessment(
        id=row_id,
        kind=form.kind,
        observed_at=form.observed_at,
        recorded_at=writing.recorded_at,
        author=writing.author_id or "",
        mode_family=form.mode_family,
        readings=readings,
        source=form.source,
    )


def _reading(writing: Writing, row_id: str, form: TypedCheck, value: NewReading) -> Reading:
    return Reading(
        id=f"{row_id}:{value.field}",
        field=value.field,
        observed_at=form.observed_at,
        state=value.state,
        author=writing.author_id or "",
        recorded_at=writing.recorded_at,
        number=value.number,
        word=value.word,
        raw=value.raw,
        marks=value.marks,
    )
