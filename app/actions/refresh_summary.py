"""Bring a course's line on the board up to what the record holds, in the write that changed it."""

from app.record.beds import bed_id_of
from app.record.courses import course_facts
from app.record.judging import Judging, judging
from app.record.summaries import drop_summary, store_summary
from app.record.writing import Writing
from app.rules.bed_summary import summarise, to_text


def refresh_summary(writing: Writing, course_id: str, of_unit: Judging | None = None) -> None:
    """Rebuild one summary from the facts; a course in no bed or at its end has none.

    `of_unit` is what judges the unit's courses at this write's moment, where it is at hand.
    """
    session = writing.session
    facts = course_facts(session, course_id)
    if facts.ended_at is not None or bed_id_of(session, course_id) is None:
        drop_summary(writing, course_id)
        return
    judge = (of_unit or judging(session, facts.unit_id, writing.recorded_at)).of(facts)
    summary = summarise(facts, judge.policy, judge.clock, judge.watching)
    edge = min(summary.edges(), default=None)
    store_summary(writing, course_id, facts.unit_id, to_text(summary), edge)
