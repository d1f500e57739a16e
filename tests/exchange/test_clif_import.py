"""A folder goes in through the door of a person's typing, once, and what became of it is told."""

from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import select

from app.charting.facts import CourseFacts, Kind, Mark
from app.exchange.clif_files import TablesError
from app.exchange.clif_import import import_clif
from app.exchange.import_report import ImportReport
from app.record.audit import check_chain
from app.record.courses import course_facts, list_courses
from app.record.database import Database
from app.record.tables import AuditLineRow, OccupancyRow, table_of
from app.record.units import Unit
from tests.clock import Clock
from tests.exchange.clif_folder import at, lab, support, vital, write_folder

VOLUME = "Assist Control-Volume Control"
FULL = {
    "fio2_set": 0.4,
    "peep_set": 8,
    "tidal_volume_set": 450,
    "resp_rate_set": 18,
    "tidal_volume_obs": 455,
    "resp_rate_obs": 18,
    "peak_inspiratory_pressure_obs": 25,
    "plateau_pressure_obs": 20,
    "peep_obs": 9,
}
ROWS = {
    "respiratory_support": [
        support("08:00", "IMV", VOLUME, **FULL),
        support("12:00", "IMV", VOLUME, **FULL | {"tidal_volume_obs": 585573}),
        support("16:00", tidal_volume_obs=11500),
        support("18:00", "Nasal Cannula", lpm_set=2),
    ],
    "vitals": [vital("08:05", "spo2", 95), vital("07:00", "height_cm", 175)],
    "labs": [
        lab("13:00", "ph_arterial", 7.35),
        lab("13:00", "po2_arterial", 90),
        lab("14:00", "ph_arterial", 7.35),
        lab("14:00", "ph_venous", 7.35),
        lab("20:00", "ph_arterial", 7.40),
    ],
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_folder(tmp_path / "tables", ROWS)


@pytest.fixture
def report(database: Database, clock: Clock, unit: Unit, folder: Path) -> ImportReport:
    return import_clif(database, clock, unit, folder)


@pytest.fixture
def facts(report: ImportReport, database: Database, unit: Unit) -> CourseFacts:
    with database.reading() as session:
        (course,) = list_courses(session, unit.id)
        return course_facts(session, course.id)


def test_each_round_and_each_gas_within_the_course_is_an_assessment(facts: CourseFacts):
    assert [(row.kind, row.observed_at) for row in facts.assessments] == [
        (Kind.FULL, at("08:00")),
        (Kind.FULL, at("12:00")),
        (Kind.GAS, at("13:00")),
        (Kind.GAS, at("14:00")),
    ]


def test_every_row_says_that_it_was_imported(facts: CourseFacts):
    assert {row.source for row in facts.assessments} == {facts.origin} == {"import"}


def test_a_value_is_kept_as_typed_in_the_fields_unit(facts: CourseFacts):
    fio2 = facts.assessments[0].readings["fio2_set"]
    assert (fio2.number, fio2.raw) == (Decimal(40), "40")


def test_what_was_inferred_carries_its_mark(facts: CourseFacts):
    first = facts.assessments[0].readings
    assert first["hold_passive"].word == "yes"
    assert Mark.INFERRED in first["hold_passive"].marks
    assert Mark.INFERRED in first["peep_total"].marks
    assert Mark.INFERRED not in first["plateau_pressure_obs"].marks


def test_a_hard_refusal_drops_the_value_and_leaves_the_rest_of_the_round(
    report: ImportReport, facts: CourseFacts
):
    assert "tidal_volume_obs" not in facts.assessments[1].readings
    assert facts.assessments[1].readings["tidal_volume_set"].number == 450
    assert [line.typed for line in report.refused] == ["585573", "11500"]
    assert all("3000" in line.reason for line in report.refused)


def test_a_round_of_which_nothing_is_left_is_no_assessment_but_is_told(report: ImportReport):
    assert report.refused[1].observed_at == at("16:00")
    assert (report.checks, report.gases) == (2, 2)


def test_what_a_person_would_be_asked_is_used_and_marked(
    database: Database, clock: Clock, unit: Unit, tmp_path: Path
):
    high = [support("08:00", "IMV", VOLUME, peep_set=26)]
    report = import_clif(
        database, clock, unit, write_folder(tmp_path / "high", {"respiratory_support": high})
    )
    with database.reading() as session:
        (course,) = list_courses(session, unit.id)
        (row,) = course_facts(session, course.id).assessments
    assert row.readings["peep_set"].number == 26
    assert Mark.UNCONFIRMED_IMPORT in row.readings["peep_set"].marks
    assert [line.typed for line in report.unconfirmed] == ["26"]


def test_a_gas_that_a_vein_shares_is_of_unknown_specimen(facts: CourseFacts):
    gases = [row for row in facts.assessments if row.kind is Kind.GAS]
    assert [row.readings["gas_specimen"].word for row in gases] == ["arterial", "unknown"]


def test_the_course_has_no_bed(facts: CourseFacts, database: Database):
    with database.reading() as session:
        assert session.execute(select(table_of(OccupancyRow))).all() == []
    assert facts.bed_stays == ()


def test_tables_dated_in_the_future_leave_the_records_own_time_alone(
    facts: CourseFacts, clock: Clock
):
    assert {row.recorded_at for row in facts.assessments} == {clock()}


def test_a_second_import_adds_nothing_and_says_so(
    report: ImportReport, database: Database, clock: Clock, unit: Unit, folder: Path
):
    again = import_clif(database, clock, unit, folder)
    assert (report.courses_made, again.courses_made, again.courses_before) == (1, 0, 1)
    assert (again.assessments, again.values_taken) == (0, 0)
    with database.reading() as session:
        assert len(list_courses(session, unit.id)) == 1


def test_a_stay_that_no_hospitalization_knows_is_left_out_and_counted(
    database: Database, clock: Clock, unit: Unit, tmp_path: Path
):
    rows = {"respiratory_support": [support("08:00", "IMV", peep_set=8, stay="lost")]}
    report = import_clif(database, clock, unit, write_folder(tmp_path / "lost", rows))
    assert (report.courses_made, report.courses_left_out) == (0, 1)


def test_a_folder_that_cannot_be_read_writes_nothing(
    database: Database, clock: Clock, unit: Unit, tmp_path: Path
):
    with pytest.raises(TablesError):
        import_clif(database, clock, unit, tmp_path)
    with database.reading() as session:
        acts = session.execute(select(table_of(AuditLineRow).c.act)).scalars().all()
    assert "import_clif" not in acts


def test_the_audit_names_no_stay_and_its_chain_holds(report: ImportReport, database: Database):
    lines = table_of(AuditLineRow).c
    with database.reading() as session:
        told = session.execute(select(lines.act, lines.detail)).all()
        assert check_chain(session) == ""
    assert [line.act for line in told if line.act == "chart_assessment"] == ["chart_assessment"] * 4
    assert not [line for line in told if "S1" in line.detail or "P1" in line.detail]
