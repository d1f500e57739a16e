"""Correct one value of a saved row: a new version with its reason; the old one stays readable."""

from msgspec import Struct, field

from app.actions.give_reason import reason_in
from app.actions.refresh_summary import refresh_summary
from app.actions.safety_tasks import settle_safety
from app.charting.correcting import Retyped, read_correction
from app.charting.facts import Assessment, CourseFacts, Reading, State
from app.charting.typed_check import NewReading, Objection
from app.record.courses import course_facts
from app.record.errors import Conflict, NotFound
from app.record.judging import judging
from app.record.tables import ReadingRow
from app.record.writing import Writing


class Correction(Struct, frozen=True):
    """Which version of which value, what takes its place, and why."""

    reading_id: str
    retyped: Retyped = field(default_factory=Retyped)
    why: str = ""


class CorrectionHeldUp(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was saved: what was typed is refused, or a question is open."""

    def __init__(self, objections: tuple[Objection, ...]) -> None:
        super().__init__("the correction holds refusals or open questions")
        self.objections = objections


class NothingCorrected(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was saved: nothing was typed, or what was typed is what stands."""


def correct_reading(writing: Writing, course_id: str, correction: Correction) -> None:
    """Put another value, or "not measured", in the place of one that was wrong.

    Everything worked out from it follows. Raises ReasonRefused, CorrectionHeldUp, NothingCorrected,
    NotFound, and Conflict for a version that was corrected meanwhile or a row that is struck.
    """
    why = reason_in(correction.why)
    facts = course_facts(writing.session, course_id)
    row, reading = standing_reading(facts, correction.reading_id)
    judge = judging(writing.session, facts.unit_id, writing.recorded_at)
    read = read_correction(
        facts,
        row,
        reading.field,
        correction.retyped,
        now=writing.recorded_at,
        site=judge.site,
    )
    if read.objections:
        raise CorrectionHeldUp(read.objections)
    if read.reading is None or _is_the_same(read.reading, reading):
        raise NothingCorrected("This is what stands already.")
    version = _version(row, reading, read.reading, course_id, why)
    writing.add(version)
    writing.audit(
        "correct_reading", course_id=course_id, subject=version, detail={"field": reading.field}
    )
    settle_safety(writing, facts, {version.field: version.word}, row.observed_at)
    refresh_summary(writing, course_id)


def standing_reading(facts: CourseFacts, reading_id: str) -> tuple[Assessment, Reading]:
    """The value as it stands now, with its row. Raises NotFound and Conflict."""
    for row in facts.assessments:
        for reading in row.readings.values():
            if reading.id == reading_id:
                if row.struck:
                    raise Conflict("the row is struck")
                return row, reading
            if reading_id in _earlier(reading):
                raise Conflict("this version was corrected meanwhile")
    raise NotFound("reading", reading_id)


def _earlier(reading: Reading) -> set[str]:
    before = reading.corrected_from
    return set() if before is None else {before.id} | _earlier(before)


def _is_the_same(new: NewReading, held: Reading) -> bool:
    missing = State.NOT_MEASURED
    if (new.state is missing) != (held.state is missing):
        return False
    return (new.number, new.word, new.reason) == (held.number, held.word, held.reason)


def _version(
    row: Assessment, reading: Reading, new: NewReading, course_id: str, why: str
) -> ReadingRow:
    return ReadingRow(
        supersedes_id=reading.id,
        assessment_id=row.id,
        course_id=course_id,
        field=reading.field,
        observed_at=reading.observed_at,
        state=new.state.value,
        number=new.number,
        word=new.word,
        raw=new.raw,
        unit_typed=new.unit_typed,
        reason=new.reason,
        marks=" ".join(mark.value for mark in new.marks),
        question=new.question,
        why=why,
    )
