"""Take a patient into an empty bed: who, body, airway, machine, orders and first tasks at once."""

from collections.abc import Iterator
from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import asdict, replace

from app.actions.admit_patient import Admission, admit_patient
from app.actions.chart_machine import chart_machine
from app.actions.order_targets import NewOrder, order_row
from app.actions.record_airway import NewAirway, act_refused
from app.actions.refresh_summary import refresh_summary
from app.actions.refused import ActRefused
from app.actions.rule_tasks import RuleTask, open_rule_tasks
from app.actions.sent_once import did_before, keep_sent
from app.charting.act_time import is_to_come
from app.charting.airways import PLACED, TUBES
from app.charting.check import TypedCheck
from app.charting.facts import Targets
from app.charting.typed_check import Objection
from app.charting.typed_sheet import SheetHeldUp
from app.record.beds import find_bed, occupants
from app.record.courses import course_facts, courses_of, identity, patients_by_record_number
from app.record.writing import Writing

SOON, LATER = timedelta(minutes=30), timedelta(hours=1)
"""A gas 15 to 30 min after a change: common practice. The other times: engineering judgement."""

ALWAYS_FIRST = (
    RuleTask("first_gas", "First blood gas"),
    RuleTask("oxygen_again", "Oxygen looked at again, against what was ordered"),
)
FIRST_OF_A_TUBE = (
    RuleTask("cuff", "Cuff pressure"),
    RuleTask("first_plateau", "First plateau pressure"),
)


class Intake(Struct, frozen=True):
    """What the form says; every part but name, number and bed may be left open.

    `admission` holds who, body and airway; its bed is found by `bed`. `machine` is the row that
    charts machine, mode and oxygen at the start.
    """

    bed: str
    admission: Admission
    order: NewOrder | None = None
    machine: TypedCheck | None = None
    accepted: frozenset[str] = frozenset()


class IntakeRefused(ActRefused):
    """Nobody can be taken in so."""


def take_in(writing: Writing, intake: Intake, *, save_key: str = "") -> str:
    """Write the patient, the course and everything that is known of it; returns the course's id.

    The same record number on an open course is refused; on an ended one it is asked whether the
    patient came back. Raises IntakeRefused, SheetHeldUp for that question and for a machine that
    stands elsewhere, OrderRefused, what `chart_machine` raises, KeyReused, and NotFound for a bed.
    """
    content = _content(intake)
    done = did_before(writing, "", save_key, content)
    if done is not None:
        return done
    said = intake.admission
    for sentence in _refused(intake, writing):
        raise IntakeRefused(sentence)
    admission = replace(
        said,
        bed_id=_empty_bed(writing, said.unit_id, intake.bed),
        patient_id=_patient(writing, intake),
        targets=_targets(writing, intake),
    )
    course_id = admit_patient(writing, admission)
    if intake.machine is not None:
        chart_machine(writing, course_id, intake.machine)
    open_rule_tasks(writing, course_facts(writing.session, course_id), _first_tasks(admission))
    refresh_summary(writing, course_id)
    keep_sent(writing, "", save_key, content, course_id)
    return course_id


def _content(intake: Intake) -> dict[str, object]:
    content = asdict(replace(intake, accepted=frozenset(), machine=None))
    return {**content, "machine": dict(intake.machine.typed) if intake.machine else {}}


def _refused(intake: Intake, writing: Writing) -> Iterator[str]:
    said = intake.admission
    if not said.name.strip() or not said.record_number.strip():
        yield "Two identifiers are needed: name and record number. A bed is none."
    if is_to_come(said.support_started_at, writing.recorded_at):
        yield "The time is still to come."
    if said.height_cm is not None and not said.height_method:
        yield "Say how the height was found."
    yield from _age_refused(said)
    if said.airway is not None:
        placed = NewAirway(act=PLACED, observed_at=said.support_started_at, **asdict(said.airway))
        yield from act_refused(placed, None)


def _age_refused(said: Admission) -> Iterator[str]:
    if said.birth_date is None:
        return
    started = said.support_started_at.date()
    if said.birth_date > started:
        yield "The birth date is after the start of support."
    years = _years(said.birth_date, started)
    if said.age_y is not None and abs(years - said.age_y) > 1:
        yield f"The birth date gives {years} years, and the age says {said.age_y}."


def _years(born: date, day: date) -> int:
    return day.year - born.year - ((day.month, day.day) < (born.month, born.day))


def _empty_bed(writing: Writing, unit_id: str, code: str) -> str:
    """The bed's id. Raises IntakeRefused for a taken one, and NotFound."""
    bed = find_bed(writing.session, unit_id, code)
    there = occupants(writing.session, unit_id).get(bed.id)
    if there is not None:
        raise IntakeRefused(f"{code} is taken: somebody was put there already.", there)
    return bed.id


def _patient(writing: Writing, intake: Intake) -> str | None:
    """Who came back; None for somebody new. Raises IntakeRefused and SheetHeldUp."""
    said = intake.admission
    known = patients_by_record_number(writing.session, said.record_number)
    here = courses_of(writing.session, said.unit_id, known)
    for course in here:
        if course.ended_at is None:
            sentence = "This record number is on an open course of this unit."
            raise IntakeRefused(sentence, course.id)
    if not here:
        return None
    before = here[-1].patient_id
    key = f"came_back:{before}"
    if key not in intake.accepted:
        name = identity(writing.session, before).name
        sentence = f"{name} was here before under this record number. Is it {name}, come back?"
        raise SheetHeldUp((Objection("mrn", "asked", sentence, key),))
    return before


def _targets(writing: Writing, intake: Intake) -> Targets:
    if intake.order is None or not intake.order.says_something:
        return Targets()
    order_row("", intake.order, writing.recorded_at)  # refuses what cannot be
    return Targets(**asdict(intake.order))


def _first_tasks(said: Admission) -> list[RuleTask]:
    """What a new course begins with; an image is to be read unless somebody has read one."""
    start = said.support_started_at
    airway = said.airway
    first = [replace(task, due_at=start + SOON) for task in ALWAYS_FIRST]
    if airway is None or airway.category not in TUBES:
        return first
    first += [replace(task, due_at=start + LATER) for task in FIRST_OF_A_TUBE]
    if "image" not in airway.confirmed_how.split():
        first.append(RuleTask("first_image", "Image of the tube's place read", start + LATER))
    return first
