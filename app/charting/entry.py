"""From what somebody typed to a reading, a refusal or a question; the typed text is always kept.

`read_typed` answers for one field. It never raises, whatever the text, and it never changes a
number in silence: what was converted is said back.
"""

from collections.abc import Callable, Collection
from decimal import Decimal

from msgspec import Struct

from app.charting.digits import Slip, Typed, quoted, read_number
from app.charting.facts import Reading
from app.charting.field import Field, Shape
from app.charting.questions import (
    FRACTIONS,
    Proposal,
    Question,
    other_unit,
    propose,
    questions_about,
    told,
    unanswered,
)
from app.charting.shown import signed, with_unit
from app.charting.typed_words import (
    Unreadable,
    Word,
    read_choice,
    read_day,
    read_moment,
    read_text,
)
from app.charting.unit_words import spelled, unit_of


class Read(Struct, frozen=True):
    """Text that became a value.

    `number` is in the field's canonical unit, with the places that were typed where nothing was
    converted; `word` is the stored word of a choice, text, day or moment. `echo` is text that reads
    back to the same value. `said` tells a reader what was made of the text ("0.4 is 40 %"), empty
    where nothing was. `questions` were put and accepted.
    """

    field: str
    raw: str
    echo: str
    number: Decimal | None = None
    word: str = ""
    unit_typed: str = ""
    said: str = ""
    questions: tuple[Question, ...] = ()

    @property
    def question(self) -> str:
        """The accepted questions in the words that were shown; what a reading keeps."""
        return " ".join(question.sentence for question in self.questions)


class Refused(Struct, frozen=True):
    """Text that cannot be kept: a stable code, and a sentence that says what the field takes."""

    field: str
    raw: str
    code: str
    sentence: str


class Asked(Struct, frozen=True):
    """Text that becomes a value once somebody says that it is right.

    `questions` are those still open; send their keys back as answers. `number` and `echo` are what
    would be kept.
    """

    field: str
    raw: str
    number: Decimal
    echo: str
    questions: tuple[Question, ...]

    @property
    def sentence(self) -> str:
        """The open questions, one after the other."""
        return " ".join(question.sentence for question in self.questions)


Outcome = Read | Refused | Asked


def read_typed(
    field: Field,
    typed: str,
    *,
    last: Reading | None = None,
    answers: Collection[str] = (),
    unit: str = "",
) -> Outcome | None:
    """What one field makes of a text; None for a blank, which is no reading at all.

    `last` is the latest standing reading of this field (for the size of a step); `answers` are the
    keys of the questions that somebody accepted; `unit` stands in where none was typed behind the
    number (a slip in kPa). A unit with its own bands hands in the field with them replaced.
    """
    if field.shape is Shape.NUMBER:
        return _read_number(field, typed, last, answers, unit)
    if not typed.strip():
        return None
    word = _WORD_READERS[field.shape](field, typed)
    if isinstance(word, Unreadable):
        return Refused(field.code, typed, word.code, word.sentence)
    return Read(field.code, typed, echo=word.seen, word=word.stored)


_WORD_READERS: dict[Shape, Callable[[Field, str], Word | Unreadable]] = {
    Shape.CHOICE: read_choice,
    Shape.TEXT: read_text,
    Shape.DATE: read_day,
    Shape.MOMENT: read_moment,
}


def _read_number(
    field: Field, typed: str, last: Reading | None, answers: Collection[str], chosen: str
) -> Outcome | None:
    number = read_number(typed)
    if number is None:
        return None
    if isinstance(number, Slip):
        return _refused(field, typed, number.code, number.what)
    said = number.unit or chosen
    unit = unit_of(said, field) if said else ""
    if unit is None:
        return _refused(field, typed, "unit", _units_taken(field))
    refusal = _two_ways(field, typed, number, unit)
    return refusal or _judged(field, typed, number, unit, last, answers)


def _refused(field: Field, typed: str, code: str, what: str) -> Refused:
    sentence = f"{field.name} {quoted(typed)} {what}"
    return Refused(field.code, typed, code, sentence)


def _units_taken(field: Field) -> str:
    if not field.accepted_units:
        return "has a unit. This field takes a number alone."
    return f"has a unit that this field does not take. It takes {', '.join(field.accepted_units)}."


def _two_ways(field: Field, typed: str, number: Typed, unit: str) -> Refused | None:
    """1.200 or 1,200 in a field that takes 1200: a point in one country, thousands in another."""
    grouped = number.grouped
    if grouped is None or unit not in ("", field.unit) or field.hard is None:
        return None
    if not field.hard.holds(grouped):
        return None
    what = f"can be read as {spelled(number.number)} or {spelled(grouped)}. Write one of them."
    return _refused(field, typed, "thousands", what)


def _judged(
    field: Field,
    typed: str,
    number: Typed,
    unit: str,
    last: Reading | None,
    answers: Collection[str],
) -> Outcome:
    proposal = propose(field, number, unit)
    if field.hard is not None and not field.hard.holds(proposal.number):
        return Refused(field.code, typed, "hard", _out_of_range(field, number, proposal))
    if field.whole and proposal.number != proposal.number.to_integral_value():
        return _refused(field, typed, "not_whole", "is refused. This field takes whole numbers.")
    questions = questions_about(field, number, proposal, last)
    still_open = unanswered(questions, answers)
    echo = _echo(field, proposal.number)
    if still_open:
        return Asked(field.code, typed, proposal.number, echo, still_open)
    said = _said(field, number, proposal) or _in_our_digits(field, typed, proposal)
    return Read(field.code, typed, echo, proposal.number, "", unit, said, questions)


def _in_our_digits(field: Field, typed: str, proposal: Proposal) -> str:
    """The number as it is kept, for one that was written in another script's digits or signs."""
    return "" if typed.isascii() else signed(with_unit(field, proposal.number))


def _out_of_range(field: Field, number: Typed, proposal: Proposal) -> str:
    what = told(field, number.number, proposal.unit) if proposal.unit else spelled(number.number)
    hint = other_unit(field, number.number, proposal.unit)
    return f"{field.name} {signed(what)} is refused. This field takes {range_words(field)}.{hint}"


def range_words(field: Field) -> str:
    """The hard range in words: "0 to 50 cmH2O"; empty where a field has none."""
    if field.hard is None:
        return ""
    ends = [spelled(end) for end in (field.hard.low, field.hard.high) if end is not None]
    words = signed(f"{' to '.join(ends)} {field.unit}".strip())
    return f"{words}, or 0.21 to 1.0" if field.code in FRACTIONS else words


def _echo(field: Field, number: Decimal) -> str:
    """Canonical text that reads back to the same value; never with exactly three decimals, which
    could be read as thousands."""
    text = f"{number:f}"
    if len(text.partition(".")[2]) == 3:
        text += "0"
    return f"{text} {field.unit}".strip()


def _said(field: Field, number: Typed, proposal: Proposal) -> str:
    if proposal.unit not in ("", field.unit):
        typed = f"{number.number:f} {proposal.unit}"
        return signed(f"{typed} is {with_unit(field, proposal.number)}")
    if proposal.number != number.number:
        return signed(f"{number.number:f} is {with_unit(field, proposal.number)}")
    return ""
