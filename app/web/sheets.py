"""Read what a set of sheets shows: the patients of a unit, in one view of the record."""

from collections.abc import Callable, Iterable
from datetime import datetime

from msgspec import Struct
from sqlmodel import Session

from app.pages.known import Known, known
from app.pages.sheets import PAPERS
from app.pages.site_words import SiteWords
from app.record.beds import occupants, unit_beds
from app.record.courses import course_facts
from app.record.judging import judging
from app.rules.shift_plan import Plan
from app.web.shift_plan import plan_of

STYLES = (
    "css/tokens.css",
    "css/base.css",
    "css/reading.css",
    "css/bed.css",
    "css/handoff.css",
    "css/changed.css",
    "css/print.css",
    "css/sheets.css",
)
"""The style sheets of a set in order."""


class InBeds(Struct, frozen=True):
    """Everybody in a bed of the unit, by the order of the beds, and the beds with nobody."""

    courses: tuple[Known, ...]
    empty: tuple[str, ...]
    plan: Plan
    """Who is to have which bed in the shift that runs."""


def paper_in(text: str) -> str:
    """The paper that an address names; A4 for anything else."""
    return text if text in PAPERS else "a4"


def styles_for(paper: str, address: Callable[[str], str]) -> tuple[str, ...]:
    """The addresses of the style sheets for a set on this paper."""
    return tuple(address(path) for path in (*STYLES, f"css/paper-{paper}.css"))


def in_beds(session: Session, unit_id: str, now: datetime, words: SiteWords) -> InBeds:
    """Everybody of the unit who is in a bed at `now`."""
    beds = [bed for bed in unit_beds(session, unit_id) if bed.in_use]
    taken = occupants(session, unit_id)
    ids = [taken[bed.id] for bed in beds if bed.id in taken]
    empty = tuple(bed.code for bed in beds if bed.id not in taken)
    clock = judging(session, unit_id, now).clock
    plan = plan_of(session, unit_id, clock, clock.shift_start(now), now)
    return InBeds(known_of(session, unit_id, ids, now, words), empty, plan)


def known_of(
    session: Session, unit_id: str, course_ids: Iterable[str], now: datetime, words: SiteWords
) -> tuple[Known, ...]:
    """These courses, worked out."""
    of_unit = judging(session, unit_id, now)

    def worked_out(course_id: str) -> Known:
        facts = course_facts(session, course_id)
        judge = of_unit.of(facts)
        return known(facts, judge.policy, judge.clock, now, words, judge.watching)

    return tuple(map(worked_out, course_ids))
