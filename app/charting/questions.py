"""What is asked once before a number is kept: unusual, far from the last, or open to two readings.

A question's key names the field and the value it is about: an answer given to 40 says nothing
about 45, and nothing about a 40 in another field.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from decimal import ROUND_HALF_UP, Decimal

from msgspec import Struct

from app.charting.digits import Typed
from app.charting.facts import Reading
from app.charting.field import Field, Range
from app.charting.shown import signed
from app.charting.unit_words import canonical, spelled
from app.physiology.units import convert


class Question(Struct, frozen=True):
    """One thing to be answered: its kind, the key that accepts it, and its sentence.

    `kind` is stable ("soft", "jump", "unit", "fraction", "point"); `key` names field and value too,
    and a form sends back the keys that somebody accepted.
    """

    kind: str
    key: str
    sentence: str


class Proposal(Struct, frozen=True):
    """A typed number on its way in: what it becomes, and what must be asked first."""

    number: Decimal
    unit: str
    """The unit that was typed, in our spelling; empty where none was."""
    questions: tuple[Question, ...] = ()


FRACTIONS = frozenset({"fio2_set", "fio2_at_sample", "ecmo_fdo2"})
"""Percent fields in which 0.21 to 1.0 is a fraction."""
FRACTION = Range(Decimal("0.21"), Decimal("1.0"))

UNIT_DOUBTS: Mapping[str, tuple[Decimal, Decimal]] = {
    "paco2": (Decimal(12), Decimal(15)),
    "pao2": (Decimal(20), Decimal(85)),
}
"""Below the first in mmHg, above the second in kPa, a gas looks read in the other unit (engineering
judgement)."""


def key_of(kind: str, field: Field, number: Decimal) -> str:
    """The key of a question: "jump:vte:40"."""
    return f"{kind}:{field.code}:{spelled(number)}"


def told(field: Field, number: Decimal, unit: str = "") -> str:
    """A number with its unit for a sentence: "40 mL", "−5 /min"."""
    return signed(f"{spelled(number)} {unit or field.unit}".strip())


def _asked(kind: str, field: Field, number: Decimal, sentence: str) -> Question:
    return Question(kind, key_of(kind, field, number), sentence)


def propose(field: Field, typed: Typed, unit: str) -> Proposal:
    """What the typed number becomes in the field's own unit, with the readings that are guesses.

    FiO2 0.4 is 40 % and a bare 1 asks; pH 735 asks whether its point was left out.
    """
    if field.code in FRACTIONS and not unit:
        return _fraction(field, typed)
    if field.code == "ph" and not typed.has_point:
        return _point_left_out(field, typed)
    return Proposal(canonical(typed.number, unit, field), unit)


def _fraction(field: Field, typed: Typed) -> Proposal:
    if not FRACTION.holds(typed.number):
        return Proposal(typed.number, "")
    percent = Decimal(spelled(typed.number * 100))
    if typed.has_point:
        return Proposal(percent, "")
    question = _asked(
        "fraction", field, percent, f"{field.name} 1: is {told(field, percent)} meant?"
    )
    return Proposal(percent, "", (question,))


def _point_left_out(field: Field, typed: Typed) -> Proposal:
    if field.hard is None or field.hard.holds(typed.number):
        return Proposal(typed.number, "")
    for shift in (-1, -2, -3):
        moved = typed.number.scaleb(shift)
        if field.hard.holds(moved):
            question = _asked(
                "point", field, moved, f"{field.name}: is {told(field, moved)} meant?"
            )
            return Proposal(moved, "", (question,))
    return Proposal(typed.number, "")


def other_unit(field: Field, number: Decimal, unit: str) -> str:
    """A sentence that offers the unit in which this number would be usual; "" where none would."""
    likely = field.soft or field.hard
    if likely is None or len(field.accepted_units) < 2:
        return ""
    for other in field.accepted_units:
        if other != (unit or field.unit) and likely.holds(convert(number, other, field.unit)):
            return f" If it is in {_IN_WORDS.get(other, other)}, write “{spelled(number)} {other}”."
    return ""


_IN_WORDS = {"in": "inches", "m": "metres"}

Judge = Callable[[Field, Typed, Proposal, Reading | None], Iterator[Question]]


def _unusual(
    field: Field, typed: Typed, proposal: Proposal, _last: Reading | None
) -> Iterator[Question]:
    hint = other_unit(field, typed.number, proposal.unit)
    name, kind = told(field, typed.number, proposal.unit), ""
    if _wrong_gas_unit(field, typed.number, proposal.unit):
        kind = "unit"
    elif field.soft and not field.soft.holds(proposal.number):
        kind = "soft"
        name = told(field, proposal.number)
    if kind:
        sentence = f"{field.name} {name}: unusual, is it right?{hint}"
        yield Question(kind, key_of("soft", field, proposal.number), sentence)


def _wrong_gas_unit(field: Field, number: Decimal, unit: str) -> bool:
    doubt = UNIT_DOUBTS.get(field.code)
    if doubt is None:
        return False
    low_mmhg, high_kpa = doubt
    return number > high_kpa if unit == "kPa" else not unit and number < low_mmhg


def is_far(field: Field, number: Decimal, last: Reading | None) -> bool:
    """Whether a number lies further from the last one than this field may move unasked.

    False where there is no last number, or where a share of zero would be taken.
    """
    if field.jump is None or last is None or not last.has_value or last.number is None:
        return False
    change = abs(number - last.number)
    if not field.jump.percent:
        return change > field.jump.by
    return not last.number.is_zero() and change * 100 > field.jump.by * abs(last.number)


def _far_from_last(
    field: Field, _typed: Typed, proposal: Proposal, last: Reading | None
) -> Iterator[Question]:
    if last is None or last.number is None or not is_far(field, proposal.number, last):
        return
    change = proposal.number - last.number
    by = f"{change:+f}"
    if field.jump is not None and field.jump.percent:
        by = f"{(change / last.number * 100).quantize(Decimal(1), ROUND_HALF_UP):+f} %"
    was = signed(f"was {spelled(last.number)}, {by}?")
    now = told(field, proposal.number)
    yield _asked("jump", field, proposal.number, f"{field.name} {now}: {was}")


_JUDGES: tuple[Judge, ...] = (_unusual, _far_from_last)


def questions_about(
    field: Field, typed: Typed, proposal: Proposal, last: Reading | None
) -> tuple[Question, ...]:
    """Every question that this number raises, in the order in which a reader meets them."""
    raised = (question for judge in _JUDGES for question in judge(field, typed, proposal, last))
    return (*proposal.questions, *raised)


def unanswered(questions: tuple[Question, ...], answers: Collection[str]) -> tuple[Question, ...]:
    """The questions whose key nobody has accepted."""
    return tuple(question for question in questions if question.key not in answers)
