"""Every table: the record itself, what is worked out from it, and what comes and goes."""

from sqlalchemy import Table
from sqlmodel import SQLModel

from app.record.tables.answers import FlagAnswerRow
from app.record.tables.assigning import AssignmentRow, CoverRow
from app.record.tables.audit import AuditLineRow
from app.record.tables.chart import (
    AssessmentRow,
    AssessmentStrikeRow,
    CoSignatureRow,
    EventDetailRow,
    EventEndRow,
    EventRow,
    ReadingRow,
)
from app.record.tables.courses import (
    AirwayRow,
    BedStayRow,
    BodySizeRow,
    CourseEndRow,
    CourseRow,
    OwnRangeRow,
    PatientDetailsRow,
    PatientRow,
    TargetRow,
)
from app.record.tables.handoffs import HandoffNoteRow, HandoffRow, IfThenRow, TaskRow
from app.record.tables.outage import LastLookRow, OutageRow
from app.record.tables.places import BedRow, PolicyRow, UnitRow
from app.record.tables.projections import BedSummaryRow, OccupancyRow
from app.record.tables.row import RecordRow
from app.record.tables.staff import StaffRow, StaffStandingRow
from app.record.tables.treatments import TreatmentGivenRow, TreatmentRow
from app.record.tables.working import (
    DraftRow,
    IdempotencyKeyRow,
    IdentityCheckRow,
    SessionRow,
    ThrottleRow,
)

RECORD_ROWS: tuple[type[RecordRow], ...] = (
    StaffRow,
    StaffStandingRow,
    UnitRow,
    BedRow,
    PolicyRow,
    PatientRow,
    PatientDetailsRow,
    CourseRow,
    CourseEndRow,
    BedStayRow,
    BodySizeRow,
    AirwayRow,
    TargetRow,
    OwnRangeRow,
    AssessmentRow,
    AssessmentStrikeRow,
    CoSignatureRow,
    ReadingRow,
    EventRow,
    EventEndRow,
    EventDetailRow,
    HandoffNoteRow,
    HandoffRow,
    TaskRow,
    IfThenRow,
    FlagAnswerRow,
    OutageRow,
    AssignmentRow,
    CoverRow,
    TreatmentRow,
    TreatmentGivenRow,
)
"""The kinds of rows whose hashes stand in the chain."""


def table_of(kind: type[SQLModel]) -> Table:
    """The SQLAlchemy table behind a class of rows."""
    return SQLModel.metadata.tables[str(kind.__tablename__)]


RECORD_TABLES: tuple[Table, ...] = (*map(table_of, RECORD_ROWS), table_of(AuditLineRow))
"""The tables that only grow: the record rows and the chain."""

__all__ = [
    "RECORD_ROWS",
    "RECORD_TABLES",
    "AirwayRow",
    "AssessmentRow",
    "AssessmentStrikeRow",
    "AssignmentRow",
    "AuditLineRow",
    "BedRow",
    "BedStayRow",
    "BedSummaryRow",
    "BodySizeRow",
    "CoSignatureRow",
    "CourseEndRow",
    "CourseRow",
    "CoverRow",
    "DraftRow",
    "EventDetailRow",
    "EventEndRow",
    "EventRow",
    "FlagAnswerRow",
    "HandoffNoteRow",
    "HandoffRow",
    "IdempotencyKeyRow",
    "IdentityCheckRow",
    "IfThenRow",
    "LastLookRow",
    "OccupancyRow",
    "OutageRow",
    "OwnRangeRow",
    "PatientDetailsRow",
    "PatientRow",
    "PolicyRow",
    "ReadingRow",
    "RecordRow",
    "SessionRow",
    "StaffRow",
    "StaffStandingRow",
    "TargetRow",
    "TaskRow",
    "ThrottleRow",
    "TreatmentGivenRow",
    "TreatmentRow",
    "UnitRow",
    "table_of",
]
