"""Sign beside a student's draft: from then on it is a fact, with both names."""

from app.actions.refresh_summary import refresh_summary
from app.actions.safety_tasks import settle_safety
from app.charting.drafted import DraftRead, fingerprint, read_draft
from app.charting.facts import Assessment, CourseFacts
from app.record.courses import course_facts
from app.record.errors import Conflict, NotFound
from app.record.judging import judging
from app.record.tables import CoSignatureRow
from app.record.writing import Writing


class OwnDraft(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was signed: nobody signs beside themselves."""


class AlreadySigned(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Somebody has signed this draft already."""


class SignatureHeldUp(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was signed: questions are open; `read` carries them."""

    def __init__(self, read: DraftRead) -> None:
        super().__init__("the draft holds refusals or open questions")
        self.read = read


def co_sign(
    writing: Writing,
    course_id: str,
    assessment_id: str,
    *,
    seen: str,
    accepted: frozenset[str] = frozenset(),
) -> None:
    """Make a draft count, and bring the board up to it.

    `seen` is the draft's fingerprint as it stood before the signer, `accepted` the keys of the
    questions that the signer answers with yes. Raises OwnDraft, AlreadySigned, SignatureHeldUp,
    NotFound, and Conflict for a draft that is struck or has changed since it was seen.
    """
    facts = course_facts(writing.session, course_id)
    row = unsigned_row(facts, assessment_id)
    if row.author_id == writing.author_id:
        raise OwnDraft("Somebody else signs beside what you charted.")
    if fingerprint(row) != seen:
        raise Conflict("the draft changed since it was seen")
    read = _read(writing, facts, row, accepted)
    if read.still_open:
        raise SignatureHeldUp(read)
    words = "\n".join(each.sentence for each in read.answered if each.key in accepted)
    writing.add(CoSignatureRow(course_id=course_id, assessment_id=row.id, words=words))
    writing.audit("co_sign", course_id=course_id, subject=("assessment", row.id))
    answers = {code: reading.word for code, reading in row.readings.items()}
    settle_safety(writing, facts, answers, row.observed_at)
    refresh_summary(writing, course_id)


def unsigned_row(facts: CourseFacts, assessment_id: str) -> Assessment:
    """A draft of the course. Raises NotFound, AlreadySigned, and Conflict for a struck one."""
    for row in facts.assessments:
        if row.id == assessment_id:
            if row.struck:
                raise Conflict("the draft is struck")
            if row.signed:
                raise AlreadySigned("this row is signed")
            return row
    raise NotFound("draft", assessment_id)


def _read(
    writing: Writing, facts: CourseFacts, row: Assessment, accepted: frozenset[str]
) -> DraftRead:
    judge = judging(writing.session, facts.unit_id, writing.recorded_at)
    return read_draft(
        facts,
        row,
        accepted,
        now=writing.recorded_at,
        site=judge.site,
    )
