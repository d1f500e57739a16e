"""Reading what takes the place of one value of a saved row, and typing a whole row again."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from app.charting.check import as_row, findings_of
from app.charting.cross_checks import Finding, Weight
from app.charting.entry import Asked, Read, read_typed
from app.charting.facts import Assessment, CourseFacts, Mark, Reading, State, newest_values
from app.charting.fields import FIELDS
from app.charting.read_fields import read_fields
from app.charting.said import of_reading
from app.charting.site_figures import ANYWHERE, SiteInTime
from app.charting.typed_check import NewReading, Objection, TypedCheck

ANOTHER_CHART = "another chart"
"""Where a row came from that was first charted on the wrong patient; whose that was is not said."""


class Retyped(Struct, frozen=True):
    """The text that takes a value's place, or the reason why there is none after all."""

    text: str = ""
    not_measured: str = ""
    accepted: frozenset[str] = frozenset()


class ReadAgain(Struct, frozen=True):
    """What the text became; `reading` is None where nothing was typed or something is refused."""

    reading: NewReading | None
    objections: tuple[Objection, ...] = ()


def read_correction(
    facts: CourseFacts,
    row: Assessment,
    code: str,
    retyped: Retyped,
    *,
    now: datetime,
    site: SiteInTime = ANYWHERE,
) -> ReadAgain:
    """Read one field of a saved row again, by itself and against the rest of its row.

    The last value is the one before this row, not the one that is corrected: that one was wrong.
    Only what the new value brings up is asked, not what the row said before.
    """
    check = TypedCheck(
        row.kind,
        row.observed_at,
        row.mode_family,
        typed={code: retyped.text},
        reasons={} if retyped.text.strip() else {code: retyped.not_measured},
        accepted=retyped.accepted,
    )
    read = read_fields(check, _last_before(facts, row))
    if read.objections or not read.readings:
        return ReadAgain(None, read.objections)
    (new,) = read.readings
    changed = as_row(check, [new]).readings[code]
    corrected = replace(row, readings={**row.readings, code: changed})
    told = {f.key for f in findings_of(row, facts, now=now, site=site)}
    found = [
        finding
        for finding in findings_of(corrected, facts, now=now, site=site)
        if code in finding.fields and finding.weight is not Weight.NOTE and finding.key not in told
    ]
    answered = [finding for finding in found if finding.key in retyped.accepted]
    still_open = (_objection(code, finding) for finding in found if finding not in answered)
    return ReadAgain(_with_answers(new, answered), tuple(still_open))


def _last_before(facts: CourseFacts, row: Assessment) -> dict[str, Reading]:
    return newest_values(
        other
        for other in facts.standing
        if other.id != row.id and other.observed_at <= row.observed_at
    )


def _objection(code: str, finding: Finding) -> Objection:
    kind = "blocked" if finding.weight is Weight.BLOCK else "asked"
    return Objection(code, kind, finding.sentence, finding.key)


def _with_answers(new: NewReading, answered: Sequence[Finding]) -> NewReading:
    """The value with what was asked about it and answered."""
    for finding in answered:
        mark = Mark.AS_FOUND if finding.weight is Weight.BLOCK else Mark.ASKED
        marks = new.marks if mark in new.marks else (*new.marks, mark)
        question = " ".join(filter(None, (new.question, finding.sentence)))
        new = replace(new, marks=marks, question=question)
    return new


def typed_again(row: Assessment, accepted: frozenset[str] = frozenset()) -> TypedCheck:
    """A saved row as the form that would make it: the same texts, the same time observed.

    A value that was only confirmed is typed: on another chart there is nothing to confirm.
    """
    missing = {c: held for c, held in row.readings.items() if held.state is State.NOT_MEASURED}
    return TypedCheck(
        row.kind,
        row.observed_at,
        row.mode_family,
        typed={code: _text_of(held) for code, held in row.values.items()},
        reasons={code: held.reason for code, held in missing.items()},
        accepted=accepted,
        source=ANOTHER_CHART,
    )


def _text_of(reading: Reading) -> str:
    """What was typed, where it still reads back to the value; else the value with its unit."""
    field = FIELDS[reading.field]
    outcome = read_typed(field, reading.raw)
    if isinstance(outcome, Asked):
        outcome = read_typed(field, reading.raw, answers=[q.key for q in outcome.questions])
    if isinstance(outcome, Read) and (outcome.number, outcome.word) == _value(reading):
        return reading.raw
    return of_reading(reading).text


def _value(reading: Reading) -> tuple[Decimal | None, str]:
    return (reading.number, reading.word)
