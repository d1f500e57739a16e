"""The plan of a shift for a route, read once between two writes."""

from datetime import datetime, timedelta

from sqlmodel import Session

from app.actions.permissions import Act, may
from app.record.assignments import assignments, covers
from app.record.beds import unit_beds
from app.record.people import list_people
from app.rules.shift_plan import Plan
from app.rules.unit_clock import UnitClock
from app.web.kept import Memory
from app.web.visit import Visit

_PLAN = "shift plan"


BEFORE_A_SHIFT = timedelta(hours=2)
"""How long before a shift beds are offered to those who have them in it (common practice)."""


def plan_now(visit: Visit, memory: Memory) -> Plan:
    """The plan of the shift that runs now."""
    return _plan_at(visit, memory, visit.now)


def plan_coming(visit: Visit, memory: Memory) -> Plan:
    """The plan of the shift that a handoff is for: the next one, once that is near."""
    return _plan_at(visit, memory, visit.now + BEFORE_A_SHIFT)


def _plan_at(visit: Visit, memory: Memory, at: datetime) -> Plan:
    starts_at = visit.clock.shift_start(at)
    key = f"{_PLAN} {starts_at.isoformat()}"
    plan: Plan | None = memory.get(key)
    if plan is None:
        with visit.reading() as session:
            plan = memory[key] = read_plan(session, visit, starts_at)
    return plan


def read_plan(session: Session, visit: Visit, starts_at: datetime) -> Plan:
    """The plan of the shift that begins then."""
    return plan_of(session, visit.unit.id, visit.clock, starts_at, visit.now)


def plan_of(
    session: Session, unit_id: str, clock: UnitClock, starts_at: datetime, now: datetime
) -> Plan:
    """The plan of a unit's shift that begins then."""
    codes = {bed.id: bed.code for bed in unit_beds(session, unit_id)}
    chosen = assignments(session, unit_id, starts_at)
    return Plan(
        starts_at=starts_at,
        ends_at=clock.shift_end(starts_at),
        assigned={codes[bed]: each for bed, each in chosen.items()},
        covers=covers(session, unit_id, min(starts_at, now)),
    )


def takers(session: Session) -> tuple[tuple[str, str], ...]:
    """Id and name of everybody who can have a bed here."""
    return tuple(
        (person.id, person.display_name)
        for person in list_people(session)
        if person.active and may(person.role, Act.OFFER)
    )
