"""Correct a height: a new version with its method and its reason; the whole course follows it."""

from collections.abc import Iterator
from decimal import Decimal

from msgspec import Struct

from app.actions.correct_reading import CorrectionHeldUp, NothingCorrected
from app.actions.give_reason import reason_in
from app.actions.refresh_summary import refresh_summary
from app.charting.course import body_known
from app.charting.entry import Asked, Outcome, Read, Refused, read_typed
from app.charting.facts import BodySize
from app.charting.fields import FIELDS
from app.charting.typed_check import Objection
from app.record.courses import course_facts
from app.record.errors import Conflict
from app.record.tables import BodySizeRow
from app.record.writing import Writing

MISSING = {
    "height_cm": "Type the height.",
    "height_method": "Say how the height was found.",
    "pbw_sex": "Say which sex the formula uses.",
}


class HeightTyped(Struct, frozen=True):
    """What was typed, how it was found, why the old one was wrong, and which version was seen."""

    height: str
    method: str
    sex: str
    why: str = ""
    seen: str = ""
    """The id of the version that the form showed; empty where none was known."""
    accepted: frozenset[str] = frozenset()


def correct_height(writing: Writing, course_id: str, typed: HeightTyped) -> None:
    """Write the height, in place of the one before where there was one.

    A first height needs no reason. Raises ReasonRefused, CorrectionHeldUp, NothingCorrected,
    NotFound, and Conflict when somebody else corrected it since the form was opened.
    """
    facts = course_facts(writing.session, course_id)
    before = body_known(facts)
    if (before.id if before is not None else "") != typed.seen:
        raise Conflict("the height was changed meanwhile")
    is_first = before is None or before.height_cm is None
    why = reason_in(typed.why) if typed.why or not is_first else ""
    number, method, sex = _read(typed)
    if before is not None and _is_the_same(before, number, method, sex):
        raise NothingCorrected("This is what stands already.")
    version = BodySizeRow(
        supersedes_id=before.id if before is not None else None,
        course_id=course_id,
        observed_at=writing.recorded_at,
        height_cm=number,
        height_method=method,
        pbw_sex=sex,
        weight_kg=before.weight_kg if before is not None else None,
        why=why or None,
    )
    writing.add_as("correct_height", version, course_id=course_id)
    refresh_summary(writing, course_id)


def _read(typed: HeightTyped) -> tuple[Decimal | None, str, str]:
    """Height, method and sex. Raises CorrectionHeldUp with everything that holds them up."""
    texts = {"height_cm": typed.height, "height_method": typed.method, "pbw_sex": typed.sex}
    outcomes = {
        code: read_typed(FIELDS[code], text, answers=typed.accepted) for code, text in texts.items()
    }
    objections = tuple(o for code in texts for o in _objections(code, outcomes[code]))
    if objections:
        raise CorrectionHeldUp(objections)
    read = {code: outcome for code, outcome in outcomes.items() if isinstance(outcome, Read)}
    return read["height_cm"].number, read["height_method"].word, read["pbw_sex"].word


def _objections(code: str, outcome: Outcome | None) -> Iterator[Objection]:
    if outcome is None:
        yield Objection(code, "refused", MISSING[code])
    elif isinstance(outcome, Refused):
        yield Objection(code, "refused", outcome.sentence)
    elif isinstance(outcome, Asked):
        yield from (Objection(code, "asked", q.sentence, q.key) for q in outcome.questions)


def _is_the_same(before: BodySize, number: Decimal | None, method: str, sex: str) -> bool:
    return (before.height_cm, before.height_method, before.pbw_sex) == (number, method, sex)
