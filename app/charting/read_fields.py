"""Read every field of a form by itself: values, refusals, questions, confirmations and reasons."""

from collections.abc import Collection, Iterator, Mapping

from app.charting.entry import Asked, Outcome, Read, Refused, read_typed
from app.charting.facts import Mark, Reading, State
from app.charting.field import Field
from app.charting.fields import FIELDS
from app.charting.shown import signed
from app.charting.typed_check import NewReading, Objection, ReadCheck, TypedCheck


def read_fields(check: TypedCheck, last: Mapping[str, Reading]) -> ReadCheck:
    """Read every field of the form; `last` holds the newest standing reading of each field."""
    readings: dict[str, NewReading] = {}
    objections: list[Objection] = []
    dropped: list[Refused] = []
    outcomes: dict[str, Outcome] = {}
    for code, text in check.typed.items():
        outcome = _outcome(FIELDS[code], text, last.get(code), check)
        if outcome is None:
            continue
        outcomes[code] = outcome
        if isinstance(outcome, Read):
            readings[code] = _taken(FIELDS[code], outcome, last.get(code), check)
        elif isinstance(outcome, Refused) and check.accept_everything:
            dropped.append(outcome)
        else:
            objections.extend(_objections(outcome))
    objections.extend(_looked_at_something_else(check, last, readings))
    readings |= {reading.field: reading for reading in _kept(check, last, readings)}
    readings |= {reading.field: reading for reading in _not_measured(check, readings)}
    return ReadCheck(
        in_bedside_order(readings), tuple(objections), outcomes, dropped=tuple(dropped)
    )


def _outcome(field: Field, text: str, last: Reading | None, check: TypedCheck) -> Outcome | None:
    unit = check.units.get(field.code, "")
    outcome = read_typed(field, text, last=last, answers=check.accepted, unit=unit)
    if isinstance(outcome, Asked) and check.accept_everything:
        keys = [question.key for question in outcome.questions]
        return read_typed(field, text, last=last, answers=[*check.accepted, *keys], unit=unit)
    return outcome


def _objections(outcome: Refused | Asked) -> Iterator[Objection]:
    if isinstance(outcome, Refused):
        yield Objection(outcome.field, "refused", outcome.sentence)
        return
    for question in outcome.questions:
        yield Objection(outcome.field, "asked", question.sentence, question.key)


def _taken(field: Field, read: Read, last: Reading | None, check: TypedCheck) -> NewReading:
    marks = list(_marks(read, check))
    return NewReading(
        field=field.code,
        state=_state(field, read, last),
        number=read.number,
        word=read.word,
        raw=read.raw,
        unit_typed=read.unit_typed,
        marks=tuple(marks),
        question=read.question,
    )


def _marks(read: Read, check: TypedCheck) -> Iterator[Mark]:
    if read.field in check.inferred:
        yield Mark.INFERRED
    if read.questions:
        yield Mark.UNCONFIRMED_IMPORT if check.accept_everything else Mark.ASKED


def _state(field: Field, read: Read, last: Reading | None) -> State:
    """A setting typed as it was is confirmed, otherwise it changed; everything else is measured."""
    if not field.confirmable or last is None or not last.has_value:
        return State.MEASURED
    same = (read.number, read.word) == (last.number, last.word)
    return State.CONFIRMED if same else State.CHANGED


def _kept(
    check: TypedCheck, last: Mapping[str, Reading], typed: Collection[str]
) -> Iterator[NewReading]:
    """What somebody looked at and left: the last value again, at this moment, as confirmed."""
    for code, before in _confirmable(check, last, typed):
        yield NewReading(code, State.CONFIRMED, before.number, before.word, before.raw)


def _confirmable(
    check: TypedCheck, last: Mapping[str, Reading], typed: Collection[str]
) -> Iterator[tuple[str, Reading]]:
    for code in sorted(check.kept - set(typed)):
        before = last.get(code)
        if before is not None and before.has_value and FIELDS[code].confirmable:
            yield code, before


def value_seen(reading: Reading) -> str:
    """What a form sends back beside a tick to say which value it showed."""
    return reading.word if reading.number is None else f"{reading.number.normalize():f}"


def _looked_at_something_else(
    check: TypedCheck, last: Mapping[str, Reading], typed: Collection[str]
) -> Iterator[Objection]:
    """Asked: a field confirmed while the form showed a value that is no longer the last one."""
    for code, before in _confirmable(check, last, typed):
        seen, value = check.seen.get(code, ""), value_seen(before)
        key = f"seen:{value}"
        if seen and seen != value and key not in check.accepted:
            shown = FIELDS[code].label_of(value)
            sentence = f"{FIELDS[code].name} was {seen} when you looked; {shown} is charted now."
            yield Objection(code, "asked", signed(f"{sentence} Is it {shown}?"), key)


def _not_measured(check: TypedCheck, answered: Collection[str]) -> Iterator[NewReading]:
    for code, reason in check.reasons.items():
        if reason.strip() and code not in answered:
            yield NewReading(code, State.NOT_MEASURED, reason=reason.strip())


def in_bedside_order(readings: Mapping[str, NewReading]) -> tuple[NewReading, ...]:
    return tuple(readings[code] for code in FIELDS if code in readings)
