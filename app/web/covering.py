"""Whose bed it is this shift: who acts in a colleague's says why, once for each shift and bed.

Not asked: of leads, of drafts, in a bed that nobody was assigned to, that this person has or is to
have, or whose colleague they cover for. `require_identity` asks it together with its own question.
"""

from datetime import datetime

import structlog
from msgspec import Struct

from app.actions.cover_bed import BedCover, cover_bed, refused
from app.actions.permissions import Act, may
from app.charting.assigning import Assigned
from app.pages.assigned_words import cover_words
from app.pages.cover_question import CoverQuestion, cover_question
from app.record.assignments import assigned_to, covers
from app.record.errors import NotWritable
from app.rules.handoff_state import handoff_of
from app.web.courses import OpenCourse
from app.web.forms import NO_FORM, Form
from app.web.visit import Visit

REASON = "cover"
WORDS = "cover_words"

log = structlog.get_logger("leeboard.covering")


class OthersBed(Struct, frozen=True):
    """The bed, to whom it is assigned, and when that shift ends."""

    code: str
    assigned: Assigned
    until: datetime


def others_bed(visit: Visit, course: OpenCourse) -> OthersBed | None:
    """The bed of a colleague in which this person has not yet said why they act; else None."""
    stays, me = course.facts.bed_stays, visit.person
    code = stays[-1].bed if stays else None
    if code is None or not may(me.role, Act.CHART) or may(me.role, Act.ASSIGN):
        return None
    if handoff_of(course.facts.handoffs).holder.id == me.id:
        return None
    with visit.reading() as session:
        shift_at = visit.clock.shift_start(visit.now)
        assigned = assigned_to(session, visit.unit.id, shift_at, code)
        if assigned is None or assigned.staff_id == me.id:
            return None
        for cover in covers(session, visit.unit.id, visit.now):
            ours = (cover.staff_id, cover.for_id) == (me.id, assigned.staff_id)
            if ours and cover.holds(visit.now) and cover.bed_id in ("", assigned.bed_id):
                return None
    return OthersBed(code, assigned, visit.clock.shift_end(visit.now))


def why_not(form: Form) -> str:
    """What is missing in the reason that a form brings; empty where nothing is."""
    return refused(form.one(REASON), form.one(WORDS))


def keep_reason(visit: Visit, course: OpenCourse, bed: OthersBed, form: Form) -> None:
    """Write the reason down. Where nothing can be written, the save that follows says so."""
    said = BedCover(
        staff_id=visit.person.id,
        bed_id=bed.assigned.bed_id,
        for_id=bed.assigned.staff_id,
        until=bed.until,
        reason=form.one(REASON),
        words=form.one(WORDS),
    )
    try:
        with visit.writing() as writing:
            cover_bed(writing, visit.unit.id, course.facts.course_id, said)
    except NotWritable as error:
        visit.site.health.refused(error.why)
        log.warning("cover_not_kept", why=error.why)


def question_about(
    visit: Visit, bed: OthersBed | None, form: Form = NO_FORM, error: str = ""
) -> CoverQuestion | None:
    """The question as a form shows it, with what was typed."""
    if bed is None:
        return None
    return cover_question(
        bed.code,
        bed.assigned.name,
        bed.until,
        visit.now,
        visit.clock,
        reason=form.one(REASON),
        words=form.one(WORDS),
        error=error,
    )


def who_covers(visit: Visit, course: OpenCourse) -> tuple[str, ...]:
    """Who acts here now for a colleague: in this bed, or in all beds of whoever has it."""
    stays = course.facts.bed_stays
    code, holder = stays[-1].bed if stays else None, handoff_of(course.facts.handoffs).holder.id
    if code is None:
        return ()
    with visit.reading() as session:
        found = covers(session, visit.unit.id, visit.now)
    return tuple(
        cover_words(cover, visit.now, visit.clock)
        for cover in found
        if cover.holds(visit.now)
        and (cover.bed == code or (not cover.bed and cover.for_id == holder))
    )
