"""What people said of a course's flags, as facts."""

import json
from typing import Any

from sqlalchemy import Row
from sqlmodel import Session

from app.charting.answering import FlagAnswer, Said
from app.record.tables import FlagAnswerRow
from app.record.versions import of_course


def flag_answers(
    session: Session, course_id: str, until: str | None = None
) -> tuple[FlagAnswer, ...]:
    """Every word on the course's flags, in the order of writing."""
    return tuple(map(_answer, of_course(session, FlagAnswerRow, course_id, until)))


def _answer(row: Row[Any]) -> FlagAnswer:
    return FlagAnswer(
        id=row.id,
        group=row.cause,
        said=Said(row.said),
        at=row.recorded_at,
        answers_at=row.answers_at,
        rules=tuple(json.loads(row.rules)),
        words=row.words,
        author=row.author,
        owner=row.owner,
        until=row.muted_until,
    )
