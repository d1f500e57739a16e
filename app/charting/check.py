"""Read a whole form: each field by itself, then the fields against each other and against before.

Nothing is saved here. What is refused or asked comes back with the text that was typed. The same
reading serves a person at the bed and an import: an import accepts every question, marks what it
accepted, and drops what is refused or blocked.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal

from msgspec.structs import replace

from app.charting.airways import tubes_moved
from app.charting.course import body_known
from app.charting.cross_checks import Context, Finding, Weight
from app.charting.cross_checks import check as cross_check
from app.charting.entry import Refused
from app.charting.facts import Assessment, CourseFacts, Kind, Mark, Reading, newest_values
from app.charting.field import Use
from app.charting.from_paper import paper_objections
from app.charting.in_force import airway_at, in_force
from app.charting.read_fields import in_bedside_order, read_fields
from app.charting.site_figures import ANYWHERE, SiteInTime
from app.charting.typed_check import NewReading, Objection, ReadCheck, TypedCheck
from app.charting.uses import still_required, use_of
from app.physiology.answer import Value
from app.physiology.catalogue import CATALOGUE

__all__ = [
    "NewReading",
    "Objection",
    "ReadCheck",
    "TypedCheck",
    "as_row",
    "findings_of",
    "read_check",
]

NEVER_AS_FOUND = frozenset({"in_the_future"})
"""Blocks that no word of a person turns into a finding: nothing can be seen before its time."""


def read_check(
    check: TypedCheck,
    facts: CourseFacts,
    *,
    now: datetime,
    site: SiteInTime = ANYWHERE,
) -> ReadCheck:
    """What the form becomes in this course. `now` bounds the time observed, nothing else.

    `site` holds the unit's figures; those of the time observed count.

    A required field with neither value nor reason is asked about once, as one question for the
    whole form; an import is not asked, nor a row that was made beside the rounds.
    """
    before = [row for row in facts.standing if row.observed_at <= check.observed_at]
    previous = newest_values(before)
    read = read_fields(check, previous)
    context = _context(facts, before, previous, check, now, site)
    held = _held_against_each_other(check, read, context)
    is_a_round = check.kind is not Kind.EVENT and not check.accept_everything
    asked = _incomplete(check, held, facts) if is_a_round else None
    found = (*((asked,) if asked is not None else ()), *paper_objections(check, facts, now))
    answered = tuple(each for each in found if each.key and each.key in check.accepted)
    held_up = tuple(each for each in found if each not in answered)
    return replace(
        held,
        objections=(*held.objections, *held_up),
        answered=(*held.answered, *answered),
    )


def findings_of(
    row: Assessment,
    facts: CourseFacts,
    *,
    now: datetime,
    site: SiteInTime = ANYWHERE,
) -> tuple[Finding, ...]:
    """What a row's values say against each other and against the rows before it."""
    before = [
        other
        for other in facts.standing
        if other.id != row.id and other.observed_at <= row.observed_at
    ]
    check = TypedCheck(row.kind, row.observed_at, row.mode_family)
    context = _context(facts, before, newest_values(before), check, now, site)
    return tuple(cross_check(row, context))


def _context(
    facts: CourseFacts,
    before: Sequence[Assessment],
    previous: Mapping[str, Reading],
    check: TypedCheck,
    now: datetime,
    site: SiteInTime,
) -> Context:
    gases = [row for row in before if row.kind is Kind.GAS]
    return Context(
        now=now,
        settings=_known_to(
            check.mode_family,
            in_force(before, check.observed_at, tubes=tubes_moved(facts.airways)).settings,
        ),
        previous=previous,
        airway=airway_at(facts.airways, check.observed_at),
        events=facts.events,
        gas=gases[-1] if gases else None,
        support_started_at=facts.support_started_at,
        ended_at=facts.ended_at,
        pbw_kg=_predicted_weight(facts),
        barometric_mmhg=site.at(check.observed_at).barometric_mmhg,
        targets=facts.targets,
    )


def _predicted_weight(facts: CourseFacts) -> Decimal | None:
    size, age = body_known(facts), facts.age_y
    answer = CATALOGUE["pbw"].work_out(
        {
            "sex": size.pbw_sex if size else None,
            "height": size.height_cm if size else None,
            "age_y": Decimal(age) if age is not None else None,
        }
    )
    return answer.number if isinstance(answer, Value) else None


def _known_to(family: str, settings: Mapping[str, Reading]) -> dict[str, Reading]:
    """The settings that the form's own mode has: those of the mode before ended with it."""
    return {
        code: held
        for code, held in settings.items()
        if not family or use_of(family, code) is not Use.HIDDEN
    }


def _held_against_each_other(check: TypedCheck, read: ReadCheck, context: Context) -> ReadCheck:
    """Add what the whole row says. An import drops what blocks it and looks again without it."""
    found = cross_check(as_row(check, read.readings), context)
    findings = [finding for finding in found if not check.left_to_others & set(finding.fields)]
    blocking = [found for found in findings if found.weight is Weight.BLOCK]
    if check.accept_everything and blocking:
        return _held_against_each_other(check, _without(read, blocking[0]), context)
    weighty = [found for found in findings if found.weight is not Weight.NOTE]
    answered = [found for found in weighty if _answered(found, check)]
    return replace(
        read,
        readings=_marked(read.readings, answered, check),
        objections=(*read.objections, *(_objection(f) for f in weighty if f not in answered)),
        answered=tuple(_objection(found) for found in answered),
        notes=tuple(found for found in findings if found.weight is Weight.NOTE),
    )


def _without(read: ReadCheck, block: Finding) -> ReadCheck:
    """The row without the first value that a block is about; a block about no value drops all."""
    code = next((c for c in block.fields if any(r.field == c for r in read.readings)), "")
    gone = [reading for reading in read.readings if not code or reading.field == code]
    refused = tuple(Refused(r.field, r.raw, block.code, block.sentence) for r in gone)
    kept = tuple(reading for reading in read.readings if reading not in gone)
    return replace(read, readings=kept, dropped=(*read.dropped, *refused))


def _answered(found: Finding, check: TypedCheck) -> bool:
    if found.code in NEVER_AS_FOUND:
        return False
    return check.accept_everything or found.key in check.accepted


def _objection(found: Finding) -> Objection:
    if found.code in NEVER_AS_FOUND:
        return Objection("observed_at", "refused", found.sentence)
    where = found.fields[0] if found.fields else ""
    kind = "blocked" if found.weight is Weight.BLOCK else "asked"
    return Objection(where, kind, found.sentence, found.key)


def _marked(
    readings: Sequence[NewReading], answered: Sequence[Finding], check: TypedCheck
) -> tuple[NewReading, ...]:
    """Keep each answered question with the value beside which it stood."""
    by_field = {reading.field: reading for reading in readings}
    for found in answered:
        beside = next((code for code in found.fields if code in by_field), None)
        if beside is not None:
            by_field[beside] = _with_answer(by_field[beside], found, check)
    return in_bedside_order(by_field)


def _with_answer(reading: NewReading, found: Finding, check: TypedCheck) -> NewReading:
    if check.accept_everything:
        mark = Mark.UNCONFIRMED_IMPORT
    else:
        mark = Mark.AS_FOUND if found.weight is Weight.BLOCK else Mark.ASKED
    marks = reading.marks if mark in reading.marks else (*reading.marks, mark)
    question = " ".join(filter(None, (reading.question, found.sentence)))
    return replace(reading, marks=marks, question=question)


def _incomplete(check: TypedCheck, read: ReadCheck, facts: CourseFacts) -> Objection | None:
    """The required fields that hold nothing, as one question; None where nothing is missing."""
    airway = airway_at(facts.airways, check.observed_at)
    answered = {reading.field for reading in read.readings} | set(read.outcomes)
    answered |= check.left_to_others
    empty = still_required(
        check.mode_family or "other", check.kind, airway.category if airway else "", answered
    )
    if not empty or not read.readings:
        return None
    key = f"incomplete:{','.join(known.code for known in empty)}"
    names = ", ".join(known.name for known in empty)
    return Objection("", "asked", f"Not filled: {names}. Save without them?", key)


def as_row(check: TypedCheck, readings: Sequence[NewReading]) -> Assessment:
    """The form as a row of the chart that nobody has saved."""
    return Assessment(
        id="",
        kind=check.kind,
        observed_at=check.observed_at,
        recorded_at=check.observed_at,
        author="",
        mode_family=check.mode_family,
        readings={reading.field: _as_reading(reading, check) for reading in readings},
    )


def _as_reading(new: NewReading, check: TypedCheck) -> Reading:
    return Reading(
        id="",
        field=new.field,
        observed_at=check.observed_at,
        state=new.state,
        author="",
        recorded_at=check.observed_at,
        number=new.number,
        word=new.word,
        raw=new.raw,
        unit_typed=new.unit_typed,
        reason=new.reason,
        marks=new.marks,
    )
