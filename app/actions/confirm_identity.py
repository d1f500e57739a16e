"""Say whose chart it is, by the end of the record number on the band, once for each session."""

from app.charting.record_number import ends_in
from app.record.courses import find_course, identity
from app.record.identity_checks import IdentityCheck, find_identity_check, store_identity_check
from app.record.writing import Writing


def confirm_identity(
    writing: Writing, token: str, course_id: str, typed: str, digits: int
) -> IdentityCheck:
    """Hold what was typed against the record number as it is known now, and keep the answer.

    A wrong one is counted and audited, without what was typed: it may be of another patient.
    Raises NotFound for an unknown course.
    """
    course = find_course(writing.session, course_id)
    number = identity(writing.session, course.patient_id).record_number
    before = find_identity_check(writing.session, token, course_id)
    is_right = ends_in(number, typed, digits)
    said = IdentityCheck(
        wrong=before.wrong + (not is_right),
        confirmed_at=writing.recorded_at if is_right else None,
    )
    store_identity_check(writing.session, token, course_id, said)
    act = "confirm_identity" if is_right else "mistake_identity"
    detail = {"wrong": said.wrong} if said.wrong else None
    writing.audit(act, course_id=course_id, detail=detail)
    return said
