"""The facts of one course of support, as the record hands them upward: frozen, ordered, complete.

Times are aware and in UTC. Numbers are decimals in the field's canonical unit. Nothing here is
computed: what the facts mean is the business of `derive` and of the rules.
"""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum
from functools import cached_property

from msgspec import Struct, field

from app.charting.airway_told import AirwayTold
from app.charting.answering import FlagAnswer
from app.charting.event_facts import Event
from app.charting.handing_over import HandoffStep, IfThen, Task
from app.charting.treatments import Treatment


class State(StrEnum):
    """How a reading came to be: confirmed is not measured, and missing is a reading of its own."""

    MEASURED = "measured"
    CONFIRMED = "confirmed"
    CHANGED = "changed"
    NOT_MEASURED = "not_measured"


class Kind(StrEnum):
    """What sort of row an assessment is; a gas has its own sample time."""

    FULL = "full"
    BRIEF = "brief"
    EVENT = "event"
    GAS = "gas"


class Mark(StrEnum):
    """What a reader must know about where a reading came from."""

    UNCONFIRMED_IMPORT = "unconfirmed_import"
    INFERRED = "inferred"
    ASKED = "asked"
    AS_FOUND = "as_found"


class Reading(Struct, frozen=True):
    """One field at one moment: a number or a word, or the reason why there is none."""

    id: str
    field: str
    observed_at: datetime
    state: State
    author: str
    recorded_at: datetime
    number: Decimal | None = None
    word: str = ""
    raw: str = ""
    unit_typed: str = ""
    reason: str = ""
    """Why it was not measured (a reason's code or the words somebody gave)."""
    marks: tuple[Mark, ...] = ()
    question: str = ""
    """The question that was put before saving and accepted, in the words shown then."""
    corrected_from: "Reading | None" = None
    why: str = ""
    """Why this version took the place of the one before; empty for what was charted first."""

    @property
    def has_value(self) -> bool:
        """Whether there is something to read off: a number or a word."""
        return self.state is not State.NOT_MEASURED and (self.number is not None or self.word != "")


class Assessment(Struct, frozen=True, dict=True):
    """One row of the chart: what one person saw at one time. Readings are keyed by field code."""

    id: str
    kind: Kind
    observed_at: datetime
    recorded_at: datetime
    author: str
    mode_family: str
    readings: Mapping[str, Reading]
    source: str = "bedside"
    """bedside or "import": where the row came from."""
    struck: str = ""
    """Why the row no longer counts; empty while it stands."""
    struck_by: str = ""
    struck_at: datetime | None = None
    signed: bool = True
    """False for a student's draft that nobody has co-signed: never a fact."""
    co_signed_by: str = ""
    """Who signed beside the author; empty for a draft, and for who charts without one."""
    co_signed_at: datetime | None = None
    author_id: str = ""
    """Whose row it is; two people may go by one name."""
    paper_by: str = ""
    """Who wrote it on paper, where `author` typed it in from there."""

    @property
    def counts(self) -> bool:
        """Whether the row is part of what is known: signed and not struck."""
        return self.signed and not self.struck

    @cached_property
    def values(self) -> Mapping[str, Reading]:
        """The readings that have a value; kept, since a course is walked again with each check."""
        return {code: reading for code, reading in self.readings.items() if reading.has_value}

    @cached_property
    def corrected(self) -> tuple[str, ...]:
        """The fields whose value took the place of an earlier one."""
        readings = self.readings.items()
        return tuple(code for code, reading in readings if reading.corrected_from is not None)


def newest_values(rows: Iterable[Assessment]) -> dict[str, Reading]:
    """The last value of each field in these rows, which come oldest first."""
    newest: dict[str, Reading] = {}
    for row in rows:
        newest.update(row.values)
    return newest


class BodySize(Struct, frozen=True):
    """Height with its method and the sex used in the weight formula, from a moment on."""

    observed_at: datetime
    height_cm: Decimal | None
    height_method: str
    pbw_sex: str
    weight_kg: Decimal | None
    author: str
    source: str = ""
    id: str = ""
    recorded_at: datetime | None = None
    corrected_from: "BodySize | None" = None
    why: str = ""
    """Why this version took the place of the one before."""

    @property
    def versions(self) -> "tuple[BodySize, ...]":
        """What was held to be true, one after the other, this one last."""
        earlier = self.corrected_from.versions if self.corrected_from is not None else ()
        return (*earlier, self)

    def as_of(self, moment: datetime) -> "BodySize | None":
        """The version that had been written by then; None where none had."""
        written = [v for v in self.versions if v.recorded_at is None or v.recorded_at <= moment]
        return written[-1] if written else None


class Airway(AirwayTold, frozen=True, kw_only=True):
    """The airway in place from a moment on; `act` says what made it so (`charting.airways`)."""

    observed_at: datetime
    act: str
    author: str
    why: str = ""
    id: str = ""
    struck: str = ""
    """Why it does not count; empty while it stands."""
    struck_by: str = ""
    struck_at: datetime | None = None


class BedStay(Struct, frozen=True):
    """In which bed the patient is from a moment on; `bed` is None when in none of this unit's."""

    from_at: datetime
    bed: str | None
    author: str
    words: str = ""
    """Where to or why, in a person's words."""


class CourseEnd(Struct, frozen=True):
    """That the course ended, or, without `ended_at`, that its end was taken back."""

    ended_at: datetime | None
    kind: str
    words: str
    author: str
    written_at: datetime


class HandoffNote(Struct, frozen=True):
    """A person's own words under one heading of the handoff page; the newest holds."""

    heading: str
    words: str
    observed_at: datetime
    author: str
    level: str = ""
    """Under "concern", how worried the author is; empty where only words were written."""


class Identity(Struct, frozen=True):
    """Who the patient is. Shown on clinical pages, never in an address, a title or a log line."""

    patient_id: str
    name: str
    record_number: str
    birth_date: date | None
    age_y: int | None
    """Age at the start of the course, where no birth date is known."""
    code_limits: str = ""
    isolation: str = ""
    allergies: str = ""
    reason_for_support: str = ""


class CareLimits(Struct, frozen=True):
    """What was agreed on how far treatment goes, from the moment on at which it was written."""

    words: str
    at: datetime
    author: str


BANDS = ("spo2", "pao2", "ph", "paco2")
"""What a band can be ordered of: its ends are `low` and `high` in `Targets`."""


class Targets(Struct, frozen=True):
    """What was ordered for this patient, with who and when; None where nobody gave a band.

    Pressures of gases in mmHg.
    """

    spo2_low: Decimal | None = None
    spo2_high: Decimal | None = None
    tidal_volume_ml_kg: Decimal | None = None
    ordered_by: str = ""
    ordered_at: datetime | None = None
    pao2_low: Decimal | None = None
    pao2_high: Decimal | None = None
    ph_low: Decimal | None = None
    ph_high: Decimal | None = None
    paco2_low: Decimal | None = None
    paco2_high: Decimal | None = None
    why: str = ""

    @property
    def says_something(self) -> bool:
        """Whether any target is ordered."""
        bands = (getattr(self, f"{band}_{end}") for band in BANDS for end in ("low", "high"))
        return self.tidal_volume_ml_kg is not None or any(end is not None for end in bands)


class OwnRange(Struct, frozen=True):
    """Another range than the unit's for one limit of this patient, from when it was written.

    Without ends it ends the one before. It ends with the course, or before at `until`.
    """

    limit: str
    under: Decimal | None
    over: Decimal | None
    from_at: datetime
    ordered_by: str
    ordered_at: datetime
    why: str
    until: datetime | None = None
    author: str = ""

    @property
    def ends(self) -> bool:
        """Whether it only says that no range of the patient's own holds any more."""
        return self.under is None and self.over is None


class CourseFacts(Struct, frozen=True, dict=True):
    """Everything known of one course of support. Every list is oldest first by observed time."""

    course_id: str
    unit_id: str
    identity: Identity
    support_started_at: datetime
    origin: str = "bedside"
    ended_at: datetime | None = None
    end_kind: str = ""
    body_sizes: tuple[BodySize, ...] = ()
    airways: tuple[Airway, ...] = ()
    bed_stays: tuple[BedStay, ...] = ()
    assessments: tuple[Assessment, ...] = ()
    events: tuple[Event, ...] = ()
    """What stands; a struck event is among `struck_events` and counts for nothing."""
    notes: tuple[HandoffNote, ...] = ()
    targets: Targets = field(default_factory=Targets)
    tasks: tuple[Task, ...] = ()
    if_thens: tuple[IfThen, ...] = ()
    """The lines that stand; one that was taken back is not among them."""
    handoffs: tuple[HandoffStep, ...] = ()
    care_limits: tuple[CareLimits, ...] = ()
    """Every version in the order of writing; `identity` holds the newest."""
    treatments: tuple[Treatment, ...] = ()
    """Inhaled treatments in the order of writing, stopped ones too."""
    answers: tuple[FlagAnswer, ...] = ()
    """What was said of open flags, in the order of writing."""
    own_ranges: tuple[OwnRange, ...] = ()
    """Every range of the patient's own, in the order of writing."""
    struck_events: tuple[Event, ...] = ()
    struck_airways: tuple[Airway, ...] = ()
    ends: tuple[CourseEnd, ...] = ()
    """Every end and every taking back, in the order of writing; the newest is in `ended_at`."""

    @property
    def age_y(self) -> int | None:
        """Whole years of age on the day support started (UTC); None where nobody knows it."""
        born = self.identity.birth_date
        if born is None:
            return self.identity.age_y
        day = self.support_started_at.date()
        return day.year - born.year - ((day.month, day.day) < (born.month, born.day))

    @cached_property
    def standing(self) -> tuple[Assessment, ...]:
        """The rows that count, oldest first."""
        return tuple(row for row in self.assessments if row.counts)

    def latest_readings(self) -> Mapping[str, Reading]:
        """The newest reading of each field, "not measured" included, over the rows that count."""
        return self._latest_readings

    @cached_property
    def _latest_readings(self) -> Mapping[str, Reading]:
        latest: dict[str, Reading] = {}
        for row in self.standing:
            latest.update(row.readings)
        return latest
