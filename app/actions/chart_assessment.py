"""Chart an assessment: what was typed becomes readings, or comes back with what holds it up."""

import hashlib
import json
from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct

from app.actions.meet_the_chart import ChartMovedOn, Opened, meet_the_chart
from app.actions.refresh_summary import refresh_summary
from app.actions.safety_tasks import settle_safety
from app.charting.check import NewReading, ReadCheck, TypedCheck, read_check
from app.charting.facts import CourseFacts
from app.record.canonical import Stored
from app.record.courses import course_facts
from app.record.idempotency import recall, remember
from app.record.judging import Judging, judging
from app.record.tables import AssessmentRow, ReadingRow
from app.record.writing import Writing


class Charted(Struct, frozen=True):
    """The row that stands in the record now; `again` when the same form had saved it before."""

    assessment_id: str
    readings: int
    again: bool = False


class HeldUp(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was saved: the form holds refusals or open questions; `read` carries them."""

    def __init__(self, read: ReadCheck) -> None:
        super().__init__("the check holds refusals or open questions")
        self.read = read


class NothingCharted(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was saved: nothing was typed, confirmed or explained, or nothing of it was left."""

    def __init__(self, read: ReadCheck) -> None:
        super().__init__("the check holds no reading")
        self.read = read


def chart_assessment(
    writing: Writing,
    course_id: str,
    check: TypedCheck,
    *,
    save_key: str = "",
    opened: Opened | None = None,
    signed: bool = True,
) -> Charted:
    """Save one check and bring the board up to it.

    With a `save_key`, the same form sent twice makes one row. With `opened`, what others charted
    since is held against it. Without `signed` it is a draft, which counts for nothing until
    somebody signs beside it. Raises HeldUp, NothingCharted, ChartMovedOn, KeyReused for a key that
    came with other content, and NotFound for an unknown course.
    """
    author, content = writing.author_id or "", content_sha256(course_id, check, opened)
    if save_key:
        saved = recall(writing.session, author, save_key, content)
        if saved is not None:
            writing.audit("send_check_again", course_id=course_id, subject=("assessment", saved))
            return Charted(saved, 0, again=True)
    facts = course_facts(writing.session, course_id)
    judge = judging(writing.session, facts.unit_id, writing.recorded_at)
    settled = _settled(writing, facts, judge, check, opened) if opened is not None else check
    read = _read(facts, judge, settled, writing.recorded_at)
    charted = write_check(writing, course_id, settled, read.readings, signed=signed)
    if signed:
        answers = {reading.field: reading.word for reading in read.readings}
        settle_safety(writing, facts, answers, settled.observed_at)
    refresh_summary(writing, course_id, judge)
    if save_key:
        remember(writing, author, save_key, content, charted.assessment_id)
    return charted


def add_check(
    writing: Writing,
    facts: CourseFacts,
    check: TypedCheck,
    *,
    now: datetime | None = None,
) -> tuple[Charted, ReadCheck]:
    """Write one check into a course whose facts are at hand, without touching the board.

    Returns what an import reports: the row, and how each field was read. `now` is the moment that
    nothing may be observed after: the moment of writing, but for files dated in the future.
    """
    judge = judging(writing.session, facts.unit_id, writing.recorded_at)
    read = _read(facts, judge, check, now or writing.recorded_at)
    return write_check(writing, facts.course_id, check, read.readings), read


def write_check(
    writing: Writing,
    course_id: str,
    check: TypedCheck,
    readings: Sequence[NewReading],
    *,
    signed: bool = True,
) -> Charted:
    """Put a check that was read and stands into the record: the row, its readings, its line."""
    row: dict[str, Stored] = {
        "course_id": course_id,
        "kind": check.kind.value,
        "observed_at": check.observed_at,
        "mode_family": check.mode_family,
        "source": check.source,
        "signed": signed,
        "paper_by": check.paper_by or None,
    }
    (row_id,) = writing.add_all(AssessmentRow, [row])
    shared: dict[str, Stored] = {
        "assessment_id": row_id,
        "course_id": course_id,
        "observed_at": check.observed_at,
    }
    writing.add_all(ReadingRow, [{**shared, **_columns(reading)} for reading in readings])
    act = "chart_assessment" if signed else "draft_assessment"
    writing.audit(act, course_id=course_id, subject=("assessment", row_id))
    return Charted(row_id, len(readings))


def _settled(
    writing: Writing, facts: CourseFacts, judge: Judging, check: TypedCheck, opened: Opened
) -> TypedCheck:
    """The form after every decision. While one is open, what is wrong with the form comes first."""
    settled, undecided = meet_the_chart(writing, facts, check, opened)
    if undecided:
        _read(facts, judge, check, writing.recorded_at)
        raise ChartMovedOn(undecided)
    return settled


def _read(facts: CourseFacts, judge: Judging, check: TypedCheck, now: datetime) -> ReadCheck:
    """The readings of a form that can be saved. Raises HeldUp and NothingCharted."""
    read = read_check(check, facts, now=now, site=judge.site)
    if not read.stands:
        raise HeldUp(read)
    if not read.readings:
        raise NothingCharted(read)
    return read


def content_sha256(course_id: str, check: TypedCheck, opened: Opened | None = None) -> str:
    """What makes two sent forms the same: everything in them but the moment of sending."""
    content = {
        "course": course_id,
        "kind": check.kind.value,
        "observed_at": check.observed_at.isoformat(),
        "mode_family": check.mode_family,
        "typed": {code: text for code, text in sorted(check.typed.items()) if text.strip()},
        "units": dict(sorted(check.units.items())),
        "kept": sorted(check.kept),
        "reasons": {code: text for code, text in sorted(check.reasons.items()) if text.strip()},
        "choices": dict(sorted(opened.choices.items())) if opened is not None else {},
    }
    if check.paper_by:
        content["paper_by"] = check.paper_by
    return hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()


def _columns(reading: NewReading) -> dict[str, Stored]:
    return {
        "field": reading.field,
        "state": reading.state.value,
        "number": reading.number,
        "word": reading.word,
        "raw": reading.raw,
        "unit_typed": reading.unit_typed,
        "reason": reading.reason,
        "marks": " ".join(mark.value for mark in reading.marks),
        "question": reading.question,
    }
