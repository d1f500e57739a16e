"""Say that a tube went in after another had come out: with the time between, in the same course.

Part of the write that placed the tube; it closes what an unplanned extubation left open of it.
"""

from datetime import datetime, timedelta

from app.actions.rule_tasks import RuleTask, close_rule_task, open_rule_tasks
from app.charting.airways import REMOVED, UNPLANNED_WORD
from app.charting.events import EVENT_KINDS, event_words
from app.charting.facts import CourseFacts
from app.charting.liberation import (
    AGAIN,
    BREATHES,
    REINTUBATION,
    Reintubation,
    reintubation_words,
)
from app.record.tables import EventRow
from app.record.writing import Writing

SETTINGS = "settings_after_reintubation"
SETTINGS_AFTER = timedelta(minutes=15)
"""When the settings of the ventilator are to be charted (engineering judgement)."""


def note_reintubation(writing: Writing, facts: CourseFacts, at: datetime) -> None:
    """Write the event where a tube had been removed before, and what that settles and opens.

    A tube is placed only where none is in place, so the newest removal is the one before it.
    """
    out = next((row for row in reversed(facts.airways) if row.act == REMOVED), None)
    if out is None:
        return
    again = Reintubation(out.observed_at, at, out.words.startswith(UNPLANNED_WORD))
    kind, words = EVENT_KINDS[REINTUBATION], reintubation_words(again)
    row = EventRow(
        course_id=facts.course_id,
        kind=kind.code,
        observed_at=at,
        words=event_words(kind, words),
    )
    writing.add_as("note_reintubation", row, course_id=facts.course_id)
    for task in facts.tasks:
        if task.rule in (AGAIN, BREATHES) and task.is_open:
            close_rule_task(writing, facts.course_id, task, f"re-intubated, {words}")
    due = at + SETTINGS_AFTER
    open_rule_tasks(writing, facts, [RuleTask(SETTINGS, "Settings after the re-intubation", due)])
