"""How far the record had come when somebody opened a form, and what was known of a course then."""

import re
from datetime import UTC, datetime, timedelta

from msgspec import Struct
from msgspec.structs import replace
from sqlalchemy import select
from sqlmodel import Session

from app.charting.facts import CourseFacts
from app.record import audit, stands
from app.record.chart import assessments
from app.record.ids import last_id

LOOKS = (
    "view_page",
    "print_page",
    "send_check_again",
    "confirm_identity",
    "mistake_identity",
    "draft_assessment",
)
"""Acts that leave the chart as it was."""

_TEXT = re.compile(r"(\d{1,8})-(\d{1,14})", re.ASCII)
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MILLISECOND = timedelta(milliseconds=1)


class Opening(Struct, frozen=True):
    """A place in the chain: the last line that had been written, and when it was."""

    sequence: int
    at: datetime

    @property
    def text(self) -> str:
        """As a form carries it; `read_opening` reads it back to the millisecond."""
        return f"{self.sequence}-{(self.at - _EPOCH) // _MILLISECOND}"


def opening(session: Session) -> Opening:
    """How far the record has come; read it in the same view as the course it is about."""
    end = audit.tail(session)
    return Opening(end.seq, end.at or _EPOCH)


def read_opening(text: str, now: datetime) -> Opening:
    """The place that a form names. A form that names none, or nonsense, has seen nothing."""
    named = _TEXT.fullmatch(text)
    if named is None:
        return Opening(0, now)
    moment = _EPOCH + min(int(named[2]) * _MILLISECOND, now - _EPOCH)
    return Opening(int(named[1]), moment)


def moved_on(session: Session, course_id: str, since: Opening) -> bool:
    """Whether anything but looks has been written about this course since then; one short query."""
    line = audit.LINES.c
    later = (
        select(line.seq)
        .where(line.course_id == course_id, line.seq > since.sequence, line.act.not_in(LOOKS))
        .limit(1)
    )
    return session.execute(later).first() is not None


def as_known_then(session: Session, facts: CourseFacts, then: Opening) -> CourseFacts:
    """The same course with the chart and the airways that had been written by then."""
    last = last_id(then.at, then.sequence) if then.sequence else ""
    return replace(
        facts,
        assessments=assessments(session, facts.course_id, until=last),
        airways=tuple(
            row for row in stands.airways(session, facts.course_id, until=last) if not row.struck
        ),
    )
