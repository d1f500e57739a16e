"""What others did to rows that a person wrote, and to what a unit's people stand on: the last day.

Nothing is stored for it: a strike, a correction and a height are rows of the record, and whom they
concern follows from who wrote what they replaced.
"""

from collections.abc import Mapping
from datetime import datetime, timedelta
from decimal import Decimal
from enum import StrEnum
from typing import Any

from msgspec import Struct
from sqlalchemy import (
    BindParameter,
    Boolean,
    ColumnElement,
    Row,
    Select,
    Table,
    bindparam,
    or_,
    select,
)
from sqlmodel import Session

from app.record.beds import occupants, unit_beds
from app.record.ids import first_id
from app.record.tables import (
    AssessmentRow,
    AssessmentStrikeRow,
    BodySizeRow,
    CourseRow,
    EventEndRow,
    EventRow,
    ReadingRow,
    table_of,
)
from app.record.versions import STAFF

ROW = table_of(AssessmentRow)
STRIKE = table_of(AssessmentStrikeRow)
READING = table_of(ReadingRow)
BODY = table_of(BodySizeRow)
COURSE = table_of(CourseRow)
EVENT, EVENT_END = table_of(EventRow), table_of(EventEndRow)

KEPT_FOR = timedelta(hours=24)
"""How long somebody is told of it on their own pages (engineering judgement)."""


class Done(StrEnum):
    """What was done."""

    STRUCK = "struck"
    CORRECTED = "corrected"
    HEIGHT = "height"
    EVENT_STRUCK = "event_struck"
    EVENT_CORRECTED = "event_corrected"


class Notice(Struct, frozen=True):
    """One thing that somebody else did, in facts. `bed` is where the patient is now, if anywhere.

    `row_id`, `field` and `observed_at` are of the row that was touched; the heights of a height.
    """

    done: Done
    course_id: str
    bed: str
    by: str
    at: datetime
    why: str
    row_id: str = ""
    field: str = ""
    observed_at: datetime | None = None
    height_before: Decimal | None = None
    height_now: Decimal | None = None
    event_kind: str = ""
    """The kind of an event that was put right; `observed_at` is its time before."""


def notices_for(
    session: Session, unit_id: str, staff_id: str, now: datetime, *, leads: bool
) -> tuple[Notice, ...]:
    """What concerns this person, newest first; a lead hears of every height.

    A few short queries over the keys of the last day, however long the record is.
    """
    since = first_id(now - KEPT_FOR)
    asked: Asked = {"unit": unit_id, "staff": staff_id, "since": since, "leads": leads}
    found = [
        *_strikes(session, asked),
        *_corrections(session, asked),
        *_heights(session, asked),
        *_events(session, asked),
    ]
    if not found:
        return ()
    beds = _beds(session, unit_id)
    told = [_notice(done, row, beds.get(row.course_id, "")) for done, row in found]
    return tuple(sorted(told, key=lambda notice: notice.at, reverse=True))


Asked = Mapping[str, str | bool]
Found = list[tuple[Done, Row[Any]]]


def _strikes(session: Session, asked: Asked) -> Found:
    return [(Done.STRUCK, row) for row in session.execute(_STRUCK, asked)]


def _corrections(session: Session, asked: Asked) -> Found:
    return [(Done.CORRECTED, row) for row in session.execute(_CORRECTED, asked)]


def _heights(session: Session, asked: Asked) -> Found:
    return [(Done.HEIGHT, row) for row in session.execute(_HEIGHTS, asked)]


def _events(session: Session, asked: Asked) -> Found:
    """An event, or an end, of which somebody else wrote another version with a reason."""
    return [
        (Done.EVENT_STRUCK if row.struck else Done.EVENT_CORRECTED, row)
        for statement in (_EVENTS, _EVENT_ENDS)
        for row in session.execute(statement, asked)
    ]


def _of_unit(table: Table) -> ColumnElement[bool]:
    """The row's course. By an expression, so that no engine begins with the unit's courses and
    walks all that was ever written in them: the rows of the last day are few, and come first."""
    return COURSE.c.id == table.c.course_id.concat("")


# Built once: they stand over every page, and building them would cost more than answering them.
_UNIT: BindParameter[str] = bindparam("unit")
_STAFF: BindParameter[str] = bindparam("staff")
_SINCE: BindParameter[str] = bindparam("since")

_STRUCK = (
    select(STRIKE, ROW.c.id.label("row_id"), ROW.c.observed_at, STAFF.c.display_name)
    .join(ROW, ROW.c.id == STRIKE.c.assessment_id)
    .join(STAFF, STAFF.c.id == STRIKE.c.author_id)
    .join(COURSE, _of_unit(STRIKE))
    .where(STRIKE.c.id >= _SINCE, STRIKE.c.reason != "", COURSE.c.unit_id == _UNIT)
    .where(ROW.c.author_id == _STAFF, STRIKE.c.author_id != _STAFF)
)
_CORRECTED = (
    select(READING, ROW.c.id.label("row_id"), STAFF.c.display_name)
    .join(ROW, ROW.c.id == READING.c.assessment_id)
    .join(STAFF, STAFF.c.id == READING.c.author_id)
    .join(COURSE, _of_unit(READING))
    .where(READING.c.id >= _SINCE, READING.c.supersedes_id.is_not(None))
    .where(COURSE.c.unit_id == _UNIT)
    .where(ROW.c.author_id == _STAFF, READING.c.author_id != _STAFF)
)


def _heights_of() -> Select[Any]:
    """Of a course on which this person charted in the day before the height was corrected."""
    before = BODY.alias("before")
    charted = select(ROW.c.id).where(
        ROW.c.course_id == BODY.c.course_id,
        ROW.c.author_id == _STAFF,
        ROW.c.id >= _SINCE,
        ROW.c.id < BODY.c.id,
    )
    return (
        select(BODY, before.c.height_cm.label("height_before"), STAFF.c.display_name)
        .join(before, before.c.id == BODY.c.supersedes_id)
        .join(STAFF, STAFF.c.id == BODY.c.author_id)
        .join(COURSE, _of_unit(BODY))
        .where(BODY.c.id >= _SINCE, COURSE.c.unit_id == _UNIT, BODY.c.author_id != _STAFF)
        .where(before.c.height_cm.is_not(None))
        .where(or_(charted.exists(), bindparam("leads", type_=Boolean)))
    )


def _events_of(table: Table, at: str) -> Select[Any]:
    before = table.alias("before")
    kind = EVENT.c.kind if table is EVENT_END else before.c.kind
    asked = select(
        table.c.course_id,
        table.c.recorded_at,
        table.c.struck,
        table.c.why,
        before.c[at].label("was_at"),
        kind.label("kind"),
        STAFF.c.display_name,
    ).join(before, before.c.id == table.c.supersedes_id)
    if table is EVENT_END:
        asked = asked.join(EVENT, EVENT.c.id == table.c.event_id)
    return (
        asked.join(STAFF, STAFF.c.id == table.c.author_id)
        .join(COURSE, _of_unit(table))
        .where(table.c.id >= _SINCE, or_(table.c.struck.is_not(None), table.c.why.is_not(None)))
        .where(COURSE.c.unit_id == _UNIT)
        .where(before.c.author_id == _STAFF, table.c.author_id != _STAFF)
    )


_HEIGHTS = _heights_of()
_EVENTS, _EVENT_ENDS = _events_of(EVENT, "observed_at"), _events_of(EVENT_END, "ended_at")


def _beds(session: Session, unit_id: str) -> dict[str, str]:
    codes = {bed.id: bed.code for bed in unit_beds(session, unit_id)}
    return {course: codes.get(bed, "") for bed, course in occupants(session, unit_id).items()}


def _notice(done: Done, row: Row[Any], bed: str) -> Notice:
    if done in (Done.EVENT_STRUCK, Done.EVENT_CORRECTED):
        return Notice(
            done=done,
            course_id=row.course_id,
            bed=bed,
            by=row.display_name,
            at=row.recorded_at,
            why=row.struck or row.why,
            observed_at=row.was_at,
            event_kind=row.kind,
        )
    is_height = done is Done.HEIGHT
    return Notice(
        done=done,
        course_id=row.course_id,
        bed=bed,
        by=row.display_name,
        at=row.recorded_at,
        why=(row.reason if done is Done.STRUCK else row.why) or "",
        row_id="" if is_height else row.row_id,
        field=row.field if done is Done.CORRECTED else "",
        observed_at=None if is_height else row.observed_at,
        height_before=row.height_before if is_height else None,
        height_now=row.height_cm if is_height else None,
    )
