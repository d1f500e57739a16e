"""What each row says of one limit: a displayed number, or why there is none.

A number that says nothing of the limit, such as a plateau with effort, is no number for it.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime
from decimal import Decimal

from msgspec import Struct

from app.charting.corrected import stands_on_a_correction
from app.charting.derive import WorkedOut
from app.charting.facts import Assessment, Kind, Reading, State
from app.charting.field import Group, Use
from app.charting.fields import FIELDS
from app.charting.reasons import not_done
from app.charting.shown import shown
from app.charting.uses import use_of
from app.physiology.answer import Answer, NotAvailable, Query, Value
from app.physiology.catalogue import CATALOGUE

NOT_DUE = "not_due"
"""The reason that says nothing of the patient: the value was not wanted this round."""

Worked = Sequence[tuple[Assessment, Mapping[str, WorkedOut]]]


class Attempt(Struct, frozen=True):
    """One row's word on one limit: a displayed number, or why there is none."""

    at: datetime
    shown: str = ""
    number: Decimal | None = None
    reason: str = ""
    missing: tuple[str, ...] = ()
    applicable: bool = True
    tried: bool = True
    """False where nobody looked: an earlier value then stands until it is too old."""
    corrected: bool = False


def attempts_of(
    key: str, worked: Worked, of_a_child: Callable[[datetime], str]
) -> Iterator[Attempt]:
    """Newest first. A brief row without the value tried nothing; a full one without it did.

    `of_a_child` says why nothing of a moment is held against a limit; it is empty for an adult.
    """
    for row, answers in reversed(worked):
        child = of_a_child(row.observed_at)
        if child:
            attempt = Attempt(row.observed_at, reason=child, applicable=False)
        elif key in CATALOGUE:
            attempt = _index_attempt(row, answers[key])
        else:
            attempt = _valid(key, _field_attempt(key, row), row, answers)
        if attempt.number is not None or (row.kind is Kind.FULL and not _from_a_gas(key)):
            yield attempt


PLATEAU, _DRIVING = "plateau_pressure_obs", "driving_pressure"
_PEEPS = frozenset({"peep_total", "peep_set", "peep"})


def plateau_counts(driving: Answer) -> bool:
    """Whether a plateau is one of a passive hold, by the answer of the driving pressure beside it.

    It counts where the driving pressure does, or would with a PEEP beside it.
    """
    missing = driving.missing if isinstance(driving, NotAvailable) else ()
    return isinstance(driving, Value) or (bool(missing) and set(missing) <= _PEEPS)


def not_held(
    key: str, row: Assessment, answers: Mapping[str, WorkedOut]
) -> NotAvailable | Query | None:
    """Why a charted number is not held against its limit; None where it is.

    A plateau with effort, or of a mode in which a hold means nothing, says nothing of the lung
    (decision 5); a pH from a vein is not the arterial one that the limit is about (decision 25).
    """
    if key == PLATEAU:
        driving = answers[_DRIVING].answer
        why = driving if isinstance(driving, NotAvailable | Query) else None
        return None if plateau_counts(driving) else why
    specimen = row.readings.get("gas_specimen")
    if key == "ph" and specimen is not None and specimen.word == "venous":
        return NotAvailable("venous sample", applicable=False)
    return None


def _valid(
    key: str, attempt: Attempt, row: Assessment, answers: Mapping[str, WorkedOut]
) -> Attempt:
    """The attempt, unless its number says nothing of the limit."""
    why = None if attempt.number is None else not_held(key, row, answers)
    if why is None:
        return attempt
    applicable = not isinstance(why, NotAvailable) or why.applicable
    missing = why.missing if isinstance(why, NotAvailable) else ()
    return Attempt(row.observed_at, reason=why.reason, missing=missing, applicable=applicable)


def _from_a_gas(key: str) -> bool:
    return key in FIELDS and FIELDS[key].group is Group.GAS


def _index_attempt(row: Assessment, worked: WorkedOut) -> Attempt:
    answer = worked.answer
    if isinstance(answer, Value):
        corrected = stands_on_a_correction(row, worked)
        return Attempt(row.observed_at, answer.shown, Decimal(answer.shown), corrected=corrected)
    if isinstance(answer, NotAvailable):
        return Attempt(
            row.observed_at,
            reason=answer.reason,
            missing=answer.missing,
            applicable=answer.applicable,
            tried=was_tried(worked),
        )
    return Attempt(row.observed_at, reason=getattr(answer, "reason", ""))


def was_tried(worked: WorkedOut) -> bool:
    """Whether a row without the value still says something of it.

    It does when what is there does not hold, or when somebody said why an input was not measured;
    it does not when an input is simply not in the row, or was not due this round.
    """
    answer = worked.answer
    if not isinstance(answer, NotAvailable) or not answer.missing:
        return True
    return any(_explained(origin) for origin in worked.inputs.values())


def _explained(origin: object) -> bool:
    return isinstance(origin, Reading) and _says_why(origin)


def _says_why(reading: Reading) -> bool:
    return reading.state is State.NOT_MEASURED and reading.reason != NOT_DUE


def _field_attempt(key: str, row: Assessment) -> Attempt:
    reading = row.readings.get(key)
    if reading is not None and reading.number is not None and reading.has_value:
        text = shown(FIELDS[key], reading.number)
        corrected = reading.corrected_from is not None
        return Attempt(row.observed_at, text, Decimal(text), corrected=corrected)
    if row.mode_family and use_of(row.mode_family, key) in (Use.HIDDEN, Use.TAGGED):
        return Attempt(row.observed_at, reason="does not apply in this mode", applicable=False)
    if reading is not None and reading.state is State.NOT_MEASURED:
        words = not_done(FIELDS[key].name, reading.reason)
        return Attempt(row.observed_at, reason=words, tried=_says_why(reading))
    return Attempt(row.observed_at, reason="not charted", tried=False)
