"""From a whole form to a row: each field read, the fields held against each other, nothing saved.

What is refused or asked comes back with the text that was typed. The same reading serves a person
at the bed and an import: an import accepts every question, marks what it accepted, and drops what
is refused.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from app.charting.entry import Asked, Outcome, Read, Refused, read_typed
from app.charting.facts import Kind, Mark, Reading, State
from app.charting.field import Field
from app.charting.fields import FIELDS


@dataclass(frozen=True, slots=True)
class TypedCheck:
    """A form as it was sent: texts by field code, and what was said about them.

    `kept` are fields confirmed unchanged, one by one (decision 8). `reasons` say why a field was
    not measured. `accepted` are the keys of questions that somebody answered with yes. `inferred`
    are fields whose text an import worked out from others.
    """

    kind: Kind
    observed_at: datetime
    mode_family: str
    typed: Mapping[str, str] = field(default_factory=dict)
    kept: frozenset[str] = frozenset()
    reasons: Mapping[str, str] = field(default_factory=dict)
    accepted: frozenset[str] = frozenset()
    source: str = "bedside"
    accept_everything: bool = False
    inferred: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class NewReading:
    """One value on its way into the record."""

    field: str
    state: State
    number: Decimal | None = None
    word: str = ""
    raw: str = ""
    unit_typed: str = ""
    reason: str = ""
    marks: tuple[Mark, ...] = ()
    question: str = ""


@dataclass(frozen=True, slots=True)
class Objection:
    """Why a field holds the form up: "refused" or "asked", with the key that accepts a question."""

    field: str
    kind: str
    sentence: str
    key: str = ""


@dataclass(frozen=True, slots=True)
class ReadCheck:
    """What a form became: readings, what holds it up, and remarks that block nothing."""

    readings: tuple[NewReading, ...]
    objections: tuple[Objection, ...]
    outcomes: Mapping[str, Outcome]
    dropped: tuple[Refused, ...] = ()

    @property
    def stands(self) -> bool:
        """Whether the row can be saved."""
        return not self.objections


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
    readings |= {reading.field: reading for reading in _kept(check, last, readings)}
    readings |= {reading.field: reading for reading in _not_measured(check, readings)}
    return ReadCheck(_in_bedside_order(readings), tuple(objections), outcomes, tuple(dropped))


def _outcome(field: Field, text: str, last: Reading | None, check: TypedCheck) -> Outcome | None:
    outcome = read_typed(field, text, last=last, answers=check.accepted)
    if isinstance(outcome, Asked) and check.accept_everything:
        keys = [question.key for question in outcome.questions]
        return read_typed(field, text, last=last, answers=[*check.accepted, *keys])
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
    for code in check.kept - set(typed):
        before = last.get(code)
        if before is None or not before.has_value or not FIELDS[code].confirmable:
            continue
        yield NewReading(code, State.CONFIRMED, before.number, before.word, before.raw)


def _not_measured(check: TypedCheck, answered: Collection[str]) -> Iterator[NewReading]:
    for code, reason in check.reasons.items():
        if reason.strip() and code not in answered:
            yield NewReading(code, State.NOT_MEASURED, reason=reason.strip())


def _in_bedside_order(readings: Mapping[str, NewReading]) -> tuple[NewReading, ...]:
    return tuple(readings[code] for code in FIELDS if code in readings)
