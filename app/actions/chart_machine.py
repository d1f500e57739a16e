"""Chart the machine, its humidifier and the rescue gear beside the rounds, one machine to a bed."""

from app.actions.chart_assessment import Charted, chart_assessment
from app.actions.refresh_summary import refresh_summary
from app.actions.rule_tasks import RuleTask, close_rule_task, open_rule_tasks
from app.charting.check import TypedCheck
from app.charting.facts import CourseFacts
from app.charting.typed_check import Objection
from app.charting.typed_sheet import SheetHeldUp
from app.record.courses import course_facts
from app.record.devices import courses_with_device
from app.record.writing import Writing

DEVICE = "device_id"
WHICH_MACHINE = "device"
"""The rule of the task that is left where a machine went away."""


def chart_machine(
    writing: Writing, course_id: str, check: TypedCheck, *, save_key: str = ""
) -> Charted:
    """Save the row; a machine that stands at another patient is asked about first (decision 29).

    Once somebody says that it stands here, the other patient gets a task that asks for theirs.
    Raises SheetHeldUp for that question, and what `chart_assessment` raises.
    """
    facts = course_facts(writing.session, course_id)
    elsewhere = _elsewhere(writing, facts, check.typed.get(DEVICE, ""))
    open_questions = [
        asked for asked in map(_question, elsewhere) if asked.key not in check.accepted
    ]
    if open_questions:
        raise SheetHeldUp(tuple(open_questions))
    charted = chart_assessment(writing, course_id, check, save_key=save_key)
    if not charted.again and check.typed.get(DEVICE, "").strip():
        _settle(writing, facts, elsewhere, check.typed[DEVICE].strip())
    return charted


def _elsewhere(writing: Writing, facts: CourseFacts, device: str) -> list[CourseFacts]:
    if not device.strip():
        return []
    found = courses_with_device(writing.session, facts.unit_id, device)
    return [course_facts(writing.session, key) for key in found if key != facts.course_id]


def _bed(facts: CourseFacts) -> str:
    return (facts.bed_stays[-1].bed if facts.bed_stays else None) or "no bed"


def _question(other: CourseFacts) -> Objection:
    device = other.latest_readings()[DEVICE].word
    sentence = (
        f"Machine {device} is charted at {_bed(other)}. Does it stand here now? "
        "If not, leave the machine empty."
    )
    return Objection(DEVICE, "asked", sentence, f"device_elsewhere:{other.course_id}")


def _settle(
    writing: Writing, facts: CourseFacts, elsewhere: list[CourseFacts], device: str
) -> None:
    for other in elsewhere:
        words = f"Which machine is here now? {device} was charted at {_bed(facts)}"
        open_rule_tasks(writing, other, [RuleTask(WHICH_MACHINE, words)])
        refresh_summary(writing, other.course_id)
    for task in facts.tasks:
        if task.rule == WHICH_MACHINE and task.is_open:
            close_rule_task(writing, facts.course_id, task, f"{device} is here")
            refresh_summary(writing, facts.course_id)
