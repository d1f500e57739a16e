"""A small named cast: each person and bed with its reason to be there.

Unit Larch of Quillmere Regional (fictional). P-01 in L3 breathes passively on volume control; P-05
in L5 is on pressure support; P-06 in L6 has no height; P-19 in L10 is a child; L11 is empty.
"""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from app.actions.admit_patient import Admission, admit_patient
from app.actions.set_up_unit import NewUnit, set_up_unit
from app.charting.airway_told import AirwayTold
from app.charting.facts import CourseFacts, Targets
from app.record.beds import unit_beds
from app.record.courses import course_facts
from app.record.database import Database
from app.record.people import set_up_person
from tests.clock import Clock
from tests.site import hire

BEDS = tuple(f"L{number}" for number in range(1, 13))
ZONE = "America/New_York"
EVENING = datetime(2026, 11, 26, 0, 30, tzinfo=UTC)
"""19:30 in the unit, on the evening before Thanksgiving week ends."""
STAFF = {
    "ash": "therapist",
    "birch": "therapist",
    "cedar": "lead",
    "fern": "student",
    "oak": "reader",
    "alder": "auditor",
}
IDENTIFIERS = frozenset({"P-01 Test", "LR-2086", "P-05 Test", "LR-4471"})
"""What no title, address or log line may hold."""


class Ward(Struct, frozen=True):
    """The unit, its people by sign-in name, its courses by bed."""

    unit_id: str
    staff: dict[str, str]
    courses: dict[str, str]


def open_ward(database: Database, clock: Clock) -> Ward:
    """Set up the unit, hire the staff and admit the patients, two days before the clock's now."""
    with database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        unit_id = set_up_unit(writing, NewUnit("larch", "Unit Larch", ZONE, BEDS))
        beds = {bed.code: bed.id for bed in unit_beds(writing.session, unit_id)}
    staff = {name: hire(database, clock, name, role) for name, role in STAFF.items()}
    courses = {
        bed: _admit(database, clock, staff["ash"], replace(patient, unit_id=unit_id), beds[bed])
        for bed, patient in _patients(clock).items()
    }
    return Ward(unit_id, staff, courses)


def _admit(database: Database, clock: Clock, author: str, admission: Admission, bed_id: str) -> str:
    with database.writing(clock, author) as writing:
        return admit_patient(writing, replace(admission, bed_id=bed_id))


def _patients(clock: Clock) -> dict[str, Admission]:
    started = clock.now - timedelta(days=2)
    tube = AirwayTold("ett_oral", Decimal("7.5"), Decimal(22), "lip", "right")
    passive = Admission(
        unit_id="",
        record_number="LR-2086",
        name="P-01 Test",
        age_y=54,
        pbw_sex="F",
        height_cm=Decimal(160),
        height_method="supine_tape",
        reason_for_support="Pneumonia, both bases",
        code_limits="Full treatment",
        support_started_at=started,
        airway=tube,
        targets=Targets(Decimal(88), Decimal(95), ordered_by="Dr Oak", ordered_at=started),
    )
    return {
        "L3": passive,
        "L5": replace(passive, name="P-05 Test", record_number="LR-4471", age_y=58),
        "L6": replace(passive, name="P-06 Test", record_number="LR-6006", height_cm=None),
        "L10": replace(passive, name="P-19 Test", record_number="LR-1919", age_y=9),
    }


def facts_of(database: Database, ward: Ward, bed: str = "L3") -> CourseFacts:
    """Everything that is written of the patient who was admitted to that bed."""
    with database.reading() as session:
        return course_facts(session, ward.courses[bed])
