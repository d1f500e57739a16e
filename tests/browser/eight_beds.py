"""Eight charted beds that Ash has, and what happens to four of them while they are handed over."""

from decimal import Decimal

from msgspec import Struct

from app.actions.admit_patient import Admission, admit_patient
from app.actions.chart_assessment import chart_assessment
from app.actions.correct_reading import Correction, correct_reading
from app.actions.refresh_summary import refresh_summary
from app.actions.set_up_unit import NewUnit, set_up_unit
from app.actions.take_over import take_over
from app.charting.airway_told import AirwayTold
from app.charting.correcting import Retyped
from app.charting.facts import CourseFacts, Kind, Targets
from app.charting.handing_over import HandoffStep
from app.charting.typed_check import TypedCheck
from app.record.beds import move, unit_beds
from app.record.courses import course_facts
from app.record.database import Database
from app.record.people import set_up_person
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import hire

BEDS = tuple(f"L{number}" for number in range(1, 10))
TAKEN = BEDS[:8]


class EightBeds(Struct):
    """The unit and what can happen in it, past the pages, as if at another screen."""

    database: Database
    clock: Clock
    staff: dict[str, str]
    courses: dict[str, str]
    beds: dict[str, str]

    def facts(self, bed: str) -> CourseFacts:
        with self.database.reading() as session:
            return course_facts(session, self.courses[bed])

    def steps(self, bed: str) -> tuple[HandoffStep, ...]:
        return self.facts(bed).handoffs

    def chart(self, bed: str, **typed: str) -> None:
        check = TypedCheck(
            kind=Kind.FULL,
            observed_at=self.clock(),
            mode_family="ac_vc",
            accept_everything=True,
            typed={
                code: text for code, text in {**PLAIN, **typed}.items() if code != "mode_family"
            },
        )
        with self.database.writing(self.clock, self.staff["ash"]) as writing:
            chart_assessment(writing, self.courses[bed], check)

    def move(self, bed: str, to: str) -> None:
        with self.database.writing(self.clock, self.staff["cedar"]) as writing:
            move(writing, {self.courses[bed]: self.beds[to]}, self.clock())
            writing.audit("move_bed", course_id=self.courses[bed])
            refresh_summary(writing, self.courses[bed])

    def correct(self, bed: str, field: str, text: str) -> None:
        reading = self.facts(bed).latest_readings()[field]
        correction = Correction(reading.id, Retyped(text), "read from the wrong screen")
        with self.database.writing(self.clock, self.staff["ash"]) as writing:
            correct_reading(writing, self.courses[bed], correction)


def open_eight_beds(database: Database, clock: Clock) -> EightBeds:
    """Set up, hire, admit, chart; Ash takes all eight."""
    with database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        unit_id = set_up_unit(writing, NewUnit("larch", "Unit Larch", "America/New_York", BEDS))
        beds = {bed.code: bed.id for bed in unit_beds(writing.session, unit_id)}
    roles = {"ash": "therapist", "birch": "therapist", "cedar": "lead"}
    staff = {name: hire(database, clock, name, role) for name, role in roles.items()}
    scene = EightBeds(database, clock, staff, {}, beds)
    for place, bed in enumerate(TAKEN, start=1):
        with database.writing(clock, staff["ash"]) as writing:
            scene.courses[bed] = admit_patient(
                writing, _admission(unit_id, place, beds[bed], clock)
            )
            take_over(writing, scene.courses[bed], "Known since the morning")
        scene.chart(bed)
    return scene


def _admission(unit_id: str, place: int, bed_id: str, clock: Clock) -> Admission:
    return Admission(
        unit_id=unit_id,
        record_number=f"LR-90{place}0",
        name=f"P-{place:02} Test",
        support_started_at=clock(),
        age_y=54,
        pbw_sex="F",
        height_cm=Decimal(160),
        height_method="supine_tape",
        airway=AirwayTold("ett_oral", Decimal("7.5"), Decimal(22), "lip"),
        targets=Targets(Decimal(88), Decimal(95)),
        bed_id=bed_id,
    )
