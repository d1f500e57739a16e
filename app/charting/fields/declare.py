"""The few words in which fields are declared, so that a declaration reads as a line of a table.

Sources. Typical ranges are from memory of the standard texts on mechanical ventilation; the band
that is asked about is that range widened by engineering judgement, so that routine values never
ask. Hard ranges and steps are engineering judgement: guards of entry, not clinical targets. All of
them must be ratified by a clinician before use, and a unit may set its own bands.
"""

from collections.abc import Sequence
from decimal import Decimal

from app.charting.field import Choice, Field, Group, Jump, Manner, Range, Shape

GUARD = (
    "Typical range: from memory of standard texts, widened by engineering judgement. "
    "Entry limits and step: engineering judgement."
)
JUDGED = "Entry limits, asked band and step: engineering judgement."
PRACTICE = "Common practice."

Bounds = tuple[str | None, str | None]
Answers = Sequence[tuple[str, str]]

YES_NO: Answers = (("yes", "Yes"), ("no", "No"))

TEXT_LENGTH = 140
"""Characters of a free text on a chart row: two lines on a phone (engineering judgement)."""


def _range(bounds: Bounds | None) -> Range | None:
    if bounds is None:
        return None
    low, high = (None if end is None else Decimal(end) for end in bounds)
    return Range(low, high)


def choices(answers: Answers) -> tuple[Choice, ...]:
    """The possible answers of a field, in the order in which they are offered."""
    return tuple(Choice(code, label) for code, label in answers)


def points(by: str) -> Jump:
    """A change by more than this, in the field's own unit, asks."""
    return Jump(Decimal(by))


def percent(by: str) -> Jump:
    """A change by more than this share of the last value asks."""
    return Jump(Decimal(by), percent=True)


def number(
    code: str,
    label: str,
    group: Group,
    manner: Manner,
    unit: str,
    *,
    hard: Bounds,
    soft: Bounds | None = None,
    step: str = "1",
    places: int = 0,
    short: str = "",
    accepts: tuple[str, ...] = (),
    about: str = "",
    source: str = GUARD,
    clif: str = "",
    jump: Jump | None = None,
    whole: bool = False,
    trim: bool = False,
) -> Field:
    """A number in one canonical unit; other accepted units are converted when they are typed."""
    return Field(
        code=code,
        label=label,
        group=group,
        shape=Shape.NUMBER,
        manner=manner,
        short=short,
        unit=unit,
        accepted_units=(unit, *accepts) if unit else accepts,
        places=places,
        hard=_range(hard),
        soft=_range(soft),
        step=Decimal(step),
        help=about,
        source=source,
        clif=clif,
        jump=jump,
        whole=whole,
        trim=trim,
    )


def choice(
    code: str,
    label: str,
    group: Group,
    answers: Answers,
    *,
    manner: Manner = Manner.STATED,
    short: str = "",
    about: str = "",
    source: str = PRACTICE,
    clif: str = "",
) -> Field:
    """One answer out of a short list."""
    return Field(
        code=code,
        label=label,
        group=group,
        shape=Shape.CHOICE,
        manner=manner,
        short=short,
        choices=choices(answers),
        help=about,
        source=source,
        clif=clif,
    )


def yes_no(
    code: str,
    label: str,
    group: Group,
    *,
    manner: Manner = Manner.STATED,
    short: str = "",
    about: str = "",
    source: str = PRACTICE,
) -> Field:
    """A question with two answers; unanswered is neither of them."""
    return choice(
        code, label, group, YES_NO, manner=manner, short=short, about=about, source=source
    )


def text(
    code: str,
    label: str,
    group: Group,
    *,
    manner: Manner = Manner.STATED,
    short: str = "",
    about: str = "",
    longest: int = TEXT_LENGTH,
    clif: str = "",
) -> Field:
    """A person's own words, on one line."""
    return Field(
        code=code,
        label=label,
        group=group,
        shape=Shape.TEXT,
        manner=manner,
        short=short,
        help=about,
        source=PRACTICE,
        longest=longest,
        clif=clif,
    )


def day(code: str, label: str, group: Group, *, about: str = "") -> Field:
    """A calendar day, written year-month-day."""
    return Field(code, label, group, Shape.DATE, Manner.STATED, help=about, source=PRACTICE)


def moment(code: str, label: str, group: Group, *, about: str = "") -> Field:
    """A day and a time of day, to the minute."""
    return Field(code, label, group, Shape.MOMENT, Manner.STATED, help=about, source=PRACTICE)
