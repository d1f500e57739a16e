"""Bring a course's line on the board up to what the record holds, in the write that changed it."""

from dataclasses import replace

from app.charting.facts import CourseFacts
from app.record.beds import bed_id_of
from app.record.courses import course_facts
from app.record.judging import judging
from app.record.kept_charts import chart_of
from app.record.summaries import drop_summary, store_summary
from app.record.writing import Writing
from app.rules.bed_summary import summarise, to_text


def refresh_summary(writing: Writing, course_id: str, *, before: CourseFacts | None = None) -> None:
    """Rebuild one summary from the facts; a course in no bed or at its end has none.

    `before` is the course as this write found it, for a write that only adds to the chart.
    """
    session = writing.session
    if before is None:
        facts = course_facts(session, course_id)
    else:
        facts = replace(before, assessments=chart_of(session, course_id))
    if facts.ended_at is not None or bed_id_of(session, course_id) is None:
        drop_summary(writing, course_id)
        return
    judge = judging(session, facts.unit_id, writing.recorded_at)
    summary = summarise(facts, judge.policy, judge.clock)
    edge = min(summary.edges(), default=None)
    store_summary(writing, course_id, facts.unit_id, to_text(summary), edge)
