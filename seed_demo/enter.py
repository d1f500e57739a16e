"""How each entry of the told history gets into the record: by the action a person would use."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from decimal import Decimal

from msgspec import Struct, field
from msgspec.structs import replace

from app.actions.admit_patient import Admission, admit_patient
from app.actions.chart_assessment import HeldUp, add_check
from app.actions.record_event import NewEvent, write_details
from app.actions.remove_tube import Removal, remove_tube
from app.charting.facts import Kind, Targets
from app.charting.liberation import EXTUBATION
from app.charting.typed_check import TypedCheck
from app.record.courses import course_facts
from app.record.tables import AirwayRow, EventEndRow, EventRow
from app.record.writing import Writing
from seed_demo.entries import Admitted, AirwaySet, Began, Charted, Ended, Entry, Noted, TubeOut
from seed_demo.hand_over import hand_over, note
from seed_demo.story import Bedside, Who

DAYS_PAST_BIRTHDAY = 120
LOOKED_BACK = timedelta(hours=14)
"""How far back a check is held against the course: whatever is kept was charted a shift ago at
most, and reading three days anew for each row would make the demo slow to start."""


class Taken(Struct):
    """One bed of the unit that is being seeded, and what was written of it so far."""

    unit_id: str
    bed_id: str
    bedside: Bedside
    course_id: str = ""
    events: dict[str, str] = field(default_factory=dict)
    """Id of each event, by the key under which its end will ask for it."""
    checks: int = 0


def enter(writing: Writing, taken: Taken, entry: Entry, people: Mapping[str, str]) -> None:
    """Write one entry; the admission comes first. `people` are ids by sign-in name."""
    match entry:
        case Admitted():
            taken.course_id = admit_patient(writing, _admission(taken, entry))
            _put_machine(writing, taken, entry.started_at)
        case Charted():
            _chart(writing, taken, entry.check)
        case Began():
            _begin(writing, taken, entry)
        case Ended():
            _end(writing, taken, entry)
        case AirwaySet():
            _set_airway(writing, taken, entry)
        case TubeOut():
            _extubate(writing, taken, entry)
        case Noted():
            for heading, words in entry.notes.items():
                note(writing, taken.course_id, heading, words)
        case _:
            hand_over(writing, taken.course_id, entry, people)


def _admission(taken: Taken, entry: Admitted) -> Admission:
    who = taken.bedside.who
    return Admission(
        unit_id=taken.unit_id,
        record_number=who.record_number,
        name=who.code,
        support_started_at=entry.started_at,
        birth_date=_birth_date(who, entry.started_at),
        age_y=None if who.birth_date_known else who.age_y,
        pbw_sex=who.sex,
        height_cm=_decimal(who.height_cm),
        height_method=who.height_method,
        height_source=who.height_source,
        weight_kg=_decimal(who.weight_kg),
        code_limits=who.code_limits,
        isolation=who.isolation,
        allergies=who.allergies,
        reason_for_support=who.reason,
        airway=taken.bedside.airway,
        targets=_targets(who, entry.started_at),
        bed_id=taken.bed_id,
    )


def _put_machine(writing: Writing, taken: Taken, at: datetime) -> None:
    """The machine that the bed began with, tested before; nobody has said so where the height
    is missing too: an intake that was left half open."""
    who = taken.bedside.who
    if not who.height_cm:
        return
    local = at.astimezone(writing.zone).strftime("%Y-%m-%dT%H:%M")
    typed = {
        "device_id": who.code.replace("P", "V"),
        "pre_use_check": "passed",
        "pre_use_check_passed_at": local,
    }
    facts = course_facts(writing.session, taken.course_id)
    looked_at = writing.recorded_at - timedelta(minutes=4)
    add_check(writing, facts, TypedCheck(Kind.EVENT, max(at, looked_at), "", typed))


def _birth_date(who: Who, started: datetime) -> date | None:
    if not who.birth_date_known:
        return None
    lived = timedelta(days=round(who.age_y * 365.25) + DAYS_PAST_BIRTHDAY)
    return started.date() - lived


def _decimal(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def _targets(who: Who, at: datetime) -> Targets:
    low, high = who.spo2
    return Targets(Decimal(low), Decimal(high), _decimal(who.tidal_volume_ml_kg), "Dr Oak", at)


def _chart(writing: Writing, taken: Taken, check: TypedCheck) -> None:
    since = check.observed_at - LOOKED_BACK
    facts = course_facts(writing.session, taken.course_id, since=since)
    try:
        add_check(writing, facts, check)
    except HeldUp as held:
        add_check(writing, facts, _answered(check, held))
    taken.checks += 1


def _answered(check: TypedCheck, held: HeldUp) -> TypedCheck:
    """The same form with yes to everything that was asked, as somebody at the bed would say.

    A refusal or a block is a fault of the simulator: it is raised again.
    """
    if any(objection.kind != "asked" for objection in held.read.objections):
        raise held
    keys = {objection.key for objection in held.read.objections}
    return replace(check, accepted=check.accepted | keys)


def _begin(writing: Writing, taken: Taken, entry: Began) -> None:
    row = EventRow(
        course_id=taken.course_id,
        kind=entry.kind,
        observed_at=entry.observed_at,
        words=entry.words,
    )
    writing.add_as("record_event", row, course_id=taken.course_id)
    taken.events[entry.key] = row.id
    _say(writing, taken, row.id, entry.observed_at, entry.details)


def _end(writing: Writing, taken: Taken, entry: Ended) -> None:
    row = EventEndRow(
        course_id=taken.course_id, event_id=taken.events[entry.key], ended_at=entry.ended_at
    )
    writing.add_as("end_event", row, course_id=taken.course_id)
    _say(writing, taken, row.event_id, entry.ended_at, entry.details)


def _say(
    writing: Writing, taken: Taken, event_id: str, at: datetime, details: Mapping[str, str]
) -> None:
    said = NewEvent("", at, details=details)
    write_details(writing, taken.course_id, event_id, said)


def _set_airway(writing: Writing, taken: Taken, entry: AirwaySet) -> None:
    placed = entry.airway.placed
    row = AirwayRow(
        course_id=taken.course_id,
        observed_at=entry.observed_at,
        act=entry.airway.act,
        category=placed.category,
        size_mm=placed.size_mm,
        depth_cm=placed.depth_cm,
        depth_reference=placed.depth_reference,
        side=placed.side,
        difficult=placed.difficult,
        words=placed.words,
    )
    writing.add_as("change_airway", row, course_id=taken.course_id)


def _extubate(writing: Writing, taken: Taken, entry: TubeOut) -> None:
    told = entry.extubated
    details = {**told.details, "cuff_leak_ml": told.leak_ml}
    removal = Removal(EXTUBATION, entry.observed_at, details, Decimal(told.leak_ml))
    remove_tube(writing, taken.course_id, removal)
