"""Write what may come for a patient and what was agreed for it, or take such a line back."""

from decimal import Decimal
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.handoff_step import StepRefused, worded
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.record.courses import find_course
from app.record.errors import NotFound
from app.record.handoffs import if_thens
from app.record.tables import IfThenRow
from app.record.writing import Writing


class Line(Struct, frozen=True):
    """If `measure` `comparison` `value` for `lasting`, then `action`, call `call` in `within_min`.

    `limit_key` names the unit's limit that the first half was offered from.
    """

    measure: str
    comparison: str
    value: str = ""
    lasting: str = ""
    action: str = ""
    call: str = ""
    within_min: Decimal | None = None
    tried: str = ""
    limit_key: str = ""


def write_if_then(writing: Writing, course_id: str, line: Line, *, save_key: str = "") -> str:
    """Keep the line; returns its id. Both halves are wanted, the second always a person's words.

    Raises NotFound, and StepRefused for a line without its "if", its "then" or whom to call.
    """
    if find_course(writing.session, course_id).ended_at is not None:
        raise StepRefused("This course is closed; nothing is planned in it any more.")
    content = asdict(line)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    worded(line.measure, "what the line watches (if …)")
    worded(line.action, "what was agreed (then …)")
    worded(line.call, "whom to call")
    row = IfThenRow(course_id=course_id, stands=True, **_stripped(line))
    writing.add_as("write_if_then", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def take_back_if_then(writing: Writing, course_id: str, line_id: str) -> None:
    """Take a line back; it stays readable in the record. Raises NotFound for one not standing."""
    line = next((x for x in if_thens(writing.session, course_id) if x.id == line_id), None)
    if line is None:
        raise NotFound("if-then line", line_id)
    row = IfThenRow(
        supersedes_id=line.id,
        course_id=course_id,
        measure=line.measure,
        comparison=line.comparison,
        stands=False,
    )
    writing.add_as("take_back_if_then", row, course_id=course_id)
    refresh_summary(writing, course_id)


def _stripped(line: Line) -> dict[str, Any]:
    return {
        name: value.strip() if isinstance(value, str) else value
        for name, value in asdict(line).items()
    }
