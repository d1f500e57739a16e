"""Each "no" to the rescue gear is an open task until a "yes" or a person ends it."""

from collections.abc import Mapping
from datetime import datetime

from app.actions.rule_tasks import RuleTask, close_rule_task, open_rule_tasks
from app.charting.facts import Assessment, CourseFacts
from app.charting.field import Group
from app.charting.fields import FIELDS, in_group
from app.record.courses import course_facts
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


def settle_after_strike(writing: Writing, course_id: str, struck: Assessment) -> None:
    """Take back what a struck row made of the gear: the task that it opened, or its being done.

    What stands in the chart without the row says what is missing; another row's "no" stays.
    """
    facts = course_facts(writing.session, course_id)
    latest = facts.latest_readings()
    codes = [f.code for f in in_group(Group.SAFETY) if f.code in struck.readings]
    missing = {
        code: latest[code].word
        for code in codes
        if code in latest and NOT_READY.get(latest[code].word) is True
    }
    wanted = [RuleTask(code, _words(code, word)) for code, word in missing.items()]
    open_rule_tasks(writing, facts, wanted)
    for task in facts.tasks:
        if task.is_open and task.rule in codes and task.rule not in missing:
            close_rule_task(writing, course_id, task, "the row that said so was struck")


def _words(code: str, word: str) -> str:
    return f"Not ready: {FIELDS[code].label} ({word})"
