"""Seed the demo: the unit, its people, and three days charted through the same actions as a
person's, each entry at its own time."""

from datetime import UTC, datetime

from msgspec import Struct
from sqlmodel import Session

from app.actions.assign_beds import assign_beds
from app.actions.passwords import Passwords
from app.actions.refresh_summary import refresh_summary
from app.actions.set_up_unit import NewUnit, set_up_unit
from app.record.beds import unit_beds
from app.record.database import Database
from app.record.people import set_up_person
from app.record.units import list_units
from app.rules.policy import starting_policy
from seed_demo.enter import Taken, enter
from seed_demo.history import Line, history
from seed_demo.people import add_people
from seed_demo.plans import PLANS, plans
from seed_demo.shift import CLOCK, Span
from seed_demo.stories import STORIES

SEED = 12
UNIT_CODE = "LARCH"
UNIT_NAME = "Quillmere Regional (fictional), Unit Larch"
WORKSTATION = "demo"


class Seeded(Struct, frozen=True):
    """What was written: the unit, its people by sign-in name, its taken beds by code."""

    unit_id: str
    people: dict[str, str]
    taken: dict[str, Taken]

    @property
    def courses(self) -> dict[str, str]:
        """The id of the course in each taken bed, by the bed's code."""
        return {bed: taken.course_id for bed, taken in self.taken.items()}

    @property
    def checks(self) -> int:
        """How many checks and gases were charted."""
        return sum(taken.checks for taken in self.taken.values())


def is_seeded(session: Session) -> bool:
    """Whether the demo's unit is in this record already."""
    return any(unit.code == UNIT_CODE for unit in list_units(session))


def seed(
    database: Database, now: datetime, *, seed: int = SEED, passwords: Passwords | None = None
) -> Seeded:
    """Write the demo unit as it stands at `now`, an aware moment; nothing is dated after it.

    The same `seed` and `now` give the same readings. The caller asks `is_seeded` first: a second
    call raises UnitRefused, because the unit is there, and writes nothing.
    """
    span = Span(now.astimezone(UTC), starting_policy().rounds)
    seeded = _set_up(database, span.opened, passwords or Passwords())
    lines = history(span, seed)
    last = {line.bed: place for place, line in enumerate(lines)}
    for place, line in enumerate(lines):
        _write(database, seeded, line, is_last=last[line.bed] == place)
    _plan_shifts(database, seeded, span)
    return seeded


def _plan_shifts(database: Database, seeded: Seeded, span: Span) -> None:
    """The lead plans this shift and the next."""
    lead, now = seeded.people[PLANS], span.now
    with database.writing(lambda: now, lead, zone=CLOCK.info, workstation=WORKSTATION) as writing:
        for shift, chosen in plans(span, seeded.unit_id, seeded.people):
            assign_beds(writing, shift, chosen)


def _set_up(database: Database, at: datetime, passwords: Passwords) -> Seeded:
    with database.writing(lambda: at, zone=CLOCK.info, workstation=WORKSTATION) as writing:
        writing.author_id = set_up_person(writing)
        codes = [story.bed for story in STORIES]
        unit_id = set_up_unit(writing, NewUnit(UNIT_CODE, UNIT_NAME, CLOCK.zone, codes))
        people = add_people(writing, passwords)
        beds = {bed.code: bed.id for bed in unit_beds(writing.session, unit_id)}
    taken = {
        story.bed: Taken(unit_id, beds[story.bed], story.bedside)
        for story in STORIES
        if story.bedside is not None
    }
    return Seeded(unit_id, people, taken)


def _write(database: Database, seeded: Seeded, line: Line, *, is_last: bool) -> None:
    """One entry in a write of its own; with its last, a bed's line on the board is brought up."""
    at, author = line.entry.recorded_at, seeded.people[line.entry.author]
    with database.writing(lambda: at, author, zone=CLOCK.info, workstation=WORKSTATION) as writing:
        taken = seeded.taken[line.bed]
        enter(writing, taken, line.entry, seeded.people)
        if is_last:
            refresh_summary(writing, taken.course_id)
