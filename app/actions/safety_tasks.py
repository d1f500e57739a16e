"""Each "no" to the rescue gear is an open task until a "yes" or a person ends it."""

from collections.abc import Mapping
from datetime import datetime

from app.actions.rule_tasks import RuleTask, close_rule_task, open_rule_tasks
from app.charting.facts import CourseFacts
from app.charting.field import Group
from app.charting.fields import FIELDS, in_group
from app.record.writing import Writing

NOT_READY = {"no": True, "failed": True, "yes": False, "passed": False}
"""Answer to whether something is missing; any other answer says neither."""


def settle_safety(
    writing: Writing, facts: CourseFacts, answers: Mapping[str, str], observed_at: datetime
) -> None:
    """Open a task for each "no" of a row, and close what a "yes" answers.

    `facts` are the course as it was before the row. A row that was written late says nothing of
    what somebody has looked at since.
    """
    said = {f.code: answers[f.code] for f in in_group(Group.SAFETY) if f.code in answers}
    if not said:
        return
    latest = facts.latest_readings()
    newest = {
        code: NOT_READY[word]
        for code, word in said.items()
        if word in NOT_READY and (code not in latest or latest[code].observed_at <= observed_at)
    }
    missing = [code for code, is_missing in newest.items() if is_missing]
    open_rule_tasks(writing, facts, [RuleTask(code, _words(code, said[code])) for code in missing])
    for task in facts.tasks:
        if task.is_open and newest.get(task.rule) is False:
            close_rule_task(writing, facts.course_id, task, f"answered {said[task.rule]}")


def _words(code: str, word: str) -> str:
    return f"Not ready: {FIELDS[code].label} ({word})"
