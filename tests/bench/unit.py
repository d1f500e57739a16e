"""A unit with a patient in every bed and the last day charted, written by the app's own actions."""

from collections.abc import Sequence
from contextlib import AbstractContextManager
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from msgspec import Struct
from msgspec.structs import replace

from app.actions.admit_patient import Admission, admit_patient
from app.actions.chart_assessment import chart_assessment
from app.actions.set_up_unit import NewUnit, set_up_unit
from app.charting.airway_told import AirwayTold
from app.charting.facts import Kind, Targets
from app.charting.typed_check import TypedCheck
from app.record.beds import unit_beds
from app.record.database import Database
from app.record.people import set_up_person
from app.record.summaries import find_summary, store_summary
from app.record.writing import Writing
from tests.clock import Clock
from tests.site import hire

ZONE = "Europe/Berlin"
EVERY = timedelta(hours=4)
TYPED = {
    "fio2_set": "45",
    "peep_set": "12",
    "tidal_volume_set": "420",
    "resp_rate_set": "20",
    "flow_rate_set": "60",
    "flow_pattern": "constant",
    "inspiratory_pause_set": "0",
    "trigger_flow_set": "2",
    "resp_rate_obs": "20",
    "tidal_volume_obs": "420",
    "minute_vent_obs": "8.4",
    "peak_inspiratory_pressure_obs": "32",
    "mean_airway_pressure_obs": "17",
    "plateau_pressure_obs": "28",
    "hold_passive": "yes",
    "peep_total": "12",
    "spo2": "94",
    "etco2_mmhg": "38",
    "airway_depth_cm": "22",
    "airway_depth_reference": "lip",
    "cuff_pressure_cmh2o": "26",
    "position": "supine",
    "humidifier": "heated",
    "leak_percent": "4",
}
"""One full check on volume control, as many fields as a therapist fills in."""


class Unit(Struct, frozen=True):
    """What was written, and the clock that stands at its last moment."""

    database: Database
    clock: Clock
    unit_id: str
    therapist: str
    courses: tuple[str, ...]

    def write(self) -> AbstractContextManager[Writing]:
        """A write by the therapist."""
        return self.database.writing(self.clock, self.therapist, zone=ZoneInfo(ZONE))

    def chart(self, course_id: str, at: datetime, **typed: str) -> None:
        """Save one full check."""
        with self.write() as writing:
            chart_assessment(writing, course_id, full_check(at, **typed))

    def bump(self, courses: Sequence[str]) -> None:
        """Give these courses a new version of their summary, all in one write."""
        with self.write() as writing:
            for course_id in courses:
                _store_anew(writing, self.unit_id, course_id)
            writing.audit("bench", subject=("unit", self.unit_id))


def full_check(at: datetime, **typed: str) -> TypedCheck:
    """What is typed at one bed; another heart rate each time, since a row that repeats is asked."""
    heart_rate = str(80 + 7 * int(at.timestamp() // 60) % 23)
    everything = {**TYPED, "heart_rate": heart_rate, **typed}
    return TypedCheck(kind=Kind.FULL, observed_at=at, mode_family="ac_vc", typed=everything)


def open_unit(database: Database, beds: int, checks: int = 2) -> Unit:
    """A unit that has charted `checks` full checks in every bed, the last one just now."""
    now = datetime.now(UTC).replace(microsecond=0)
    clock = Clock(now - EVERY * checks)
    codes = [f"B{number:04}" for number in range(1, beds + 1)]
    with database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        unit_id = set_up_unit(writing, NewUnit("bench", "Bench", ZONE, codes))
        keys = [bed.id for bed in unit_beds(writing.session, unit_id)]
    therapist = hire(database, clock, "ash")
    unit = Unit(database, clock, unit_id, therapist, ())
    courses = tuple(_admit(unit, number, bed) for number, bed in enumerate(keys))
    for _ in range(checks):
        clock.forward(hours=EVERY.total_seconds() / 3600)
        for course_id in courses:
            unit.chart(course_id, clock.now)
    return replace(unit, courses=courses)


def _admit(unit: Unit, number: int, bed_id: str) -> str:
    started = unit.clock.now - timedelta(days=2)
    admission = Admission(
        unit_id=unit.unit_id,
        record_number=f"B-{number:05}",
        name=f"P-{number:04} Bench",
        age_y=54,
        pbw_sex="F",
        height_cm=Decimal(160),
        height_method="supine_tape",
        support_started_at=started,
        airway=AirwayTold("ett_oral", Decimal("7.5"), Decimal(22), "lip", "right"),
        targets=Targets(Decimal(88), Decimal(95), ordered_by="Dr Oak", ordered_at=started),
        bed_id=bed_id,
    )
    with unit.write() as writing:
        return admit_patient(writing, admission)


def _store_anew(writing: Writing, unit_id: str, course_id: str) -> None:
    cells = find_summary(writing.session, course_id) or ""
    store_summary(writing, course_id, unit_id, cells, None)
