"""Bring every line of the board up to what this version makes of the record.

A newer version may say more of the same facts, and a backup may come from an older one. What is
stored is then not what the facts give; the record itself stays as it is.
"""

from datetime import datetime

from sqlmodel import Session

from app.actions.refresh_summary import refresh_summary
from app.record.beds import occupancy_by_record
from app.record.courses import course_facts
from app.record.database import Database
from app.record.judging import judging
from app.record.summaries import find_summary
from app.record.writing import Clock
from app.rules.bed_summary import summarise, to_text


def rebuild_summaries(database: Database, clock: Clock) -> int:
    """Rebuild the summaries that are not what the facts give; returns how many. Writes nothing
    where there are none."""
    with database.reading() as session:
        stale = _stale(session, clock())
    if not stale:
        return 0
    with database.writing(clock) as writing:
        for course_id in stale:
            refresh_summary(writing, course_id)
        writing.audit("rebuild_summaries", detail={"courses": len(stale)})
    return len(stale)


def _stale(session: Session, now: datetime) -> list[str]:
    return [
        course_id
        for course_id in sorted(occupancy_by_record(session))
        if _cells(session, course_id, now) != find_summary(session, course_id)
    ]


def _cells(session: Session, course_id: str, now: datetime) -> str:
    facts = course_facts(session, course_id)
    judge = judging(session, facts.unit_id, now).of(facts)
    return to_text(summarise(facts, judge.policy, judge.clock, judge.watching))
