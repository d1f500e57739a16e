"""The plan of a shift for a route, read once between two writes."""

from datetime import datetime

from sqlmodel import Session

from app.actions.permissions import Act, may
from app.record.assignments import assignments, covers
from app.record.beds import unit_beds
from app.record.people import list_people
from app.rules.shift_plan import Plan
from app.web.kept import Memory
from app.web.visit import Visit

_PLAN = "shift plan"


def plan_now(visit: Visit, memory: Memory) -> Plan:
    """The plan of the shift that runs now."""
    starts_at = visit.clock.shift_start(visit.now)
    plan: Plan | None = memory.get(_PLAN)
    if plan is None or plan.starts_at != starts_at:
        with visit.reading() as session:
            plan = memory[_PLAN] = read_plan(session, visit, starts_at)
    return plan


def read_plan(session: Session, visit: Visit, starts_at: datetime) -> Plan:
    """The plan of the shift that begins then."""
    codes = {bed.id: bed.code for bed in unit_beds(session, visit.unit.id)}
    chosen = assignments(session, visit.unit.id, starts_at)
    return Plan(
        starts_at=starts_at,
        ends_at=visit.clock.shift_end(starts_at),
        assigned={codes[bed]: each for bed, each in chosen.items()},
        covers=covers(session, visit.unit.id, min(starts_at, visit.now)),
    )


def takers(session: Session) -> tuple[tuple[str, str], ...]:
    """Id and name of everybody who can have a bed here."""
    return tuple(
        (person.id, person.display_name)
        for person in list_people(session)
        if person.active and may(person.role, Act.OFFER)
    )
