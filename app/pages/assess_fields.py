"""The fields of a check form: in the order of the round, each with what stands around it."""

from collections.abc import Iterator, Mapping
from datetime import datetime

from msgspec import Struct

from app.charting.check import ReadCheck, TypedCheck
from app.charting.facts import CourseFacts, Reading, newest_values
from app.charting.field import Field, Group, Manner, Shape, Use
from app.charting.fields import FIELDS
from app.charting.read_fields import value_seen
from app.charting.reasons import NOT_MEASURED_REASONS, REASON_KEYS
from app.charting.unit_words import spelled
from app.charting.uses import fields_for, use_of
from app.charting.usual_band import usual_band
from app.pages.assess_page import FieldGroup, FieldInput, Option
from app.pages.assess_says import says_of
from app.pages.group_names import GROUP_NAMES
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import clock_time
from app.pages.values import reading_text
from app.rules.unit_clock import UnitClock

NOTES = {
    Group.MONITOR: "measured: typed each time",
    Group.SETTINGS: "keep what is unchanged, one by one",
    Group.MEASURED: "measured: typed each time",
    Group.HOLDS: "only when the patient is passive",
    Group.SAFETY: "what is not there is a task for somebody",
    Group.GAS: "measured: typed from the slip",
}
"""How the fields of a group are filled in."""

NOT_IN_THE_GROUPS = frozenset({"mode_family", "airway_category", "ordered_by"})

USUAL = frozenset(
    {
        "cuff_pressure_cmh2o",
        "airway_depth_cm",
        "change_reason",
        "hold_passive",
        "plateau_pressure_obs",
        "peep_total",
        "minute_vent_obs",
        "etco2_mmhg",
        "rass",
        "position",
        "secretions_amount",
        "safe_bag_mask",
        "safe_suction",
        "safe_oxygen",
        "safe_power_outlet",
        "safe_spare_airway",
        "safe_alarm_audible",
        "hco3",
        "fio2_at_sample",
    }
)
"""Optional fields that stand open from the first check on (common practice)."""

ASKED_WITH = {"hold_passive": "plateau_pressure_obs peep_total"}
"""Passive is asked wherever a hold was read, and nowhere else (decision 5)."""

LETTERS = {reason: letter for letter, reason in REASON_KEYS.items()}
MOST_BY_LETTER = 6
"""Choices short enough for one key each, by their first letters, where these differ."""


class Around(Struct, frozen=True):
    """What every field of one form is drawn with."""

    facts: CourseFacts
    check: TypedCheck
    read: ReadCheck
    last: Mapping[str, Reading]
    asked: frozenset[str]
    clock: UnitClock
    now: datetime
    words: SiteWords = PLAIN

    @property
    def airway(self) -> str:
        """The airway that decides which fields are offered."""
        return self.facts.airways[-1].category if self.facts.airways else ""

    @property
    def family(self) -> str:
        """The mode family that decides which fields are offered."""
        return self.check.mode_family or "other"


def last_values(facts: CourseFacts, at: datetime) -> dict[str, Reading]:
    """The newest value of each field up to a moment: what a form of that moment may suggest."""
    return newest_values(row for row in facts.standing if row.observed_at <= at)


def offered(around: Around) -> dict[str, Field]:
    """The fields of this form by code, in the order in which they stand on it."""
    known = fields_for(around.family, around.check.kind, around.airway)
    return {
        field.code: field
        for group in GROUP_NAMES
        for field in known
        if field.group is group and field.code not in NOT_IN_THE_GROUPS
    }


def field_groups(around: Around) -> Iterator[FieldGroup]:
    """Open groups in bedside order, each followed by what it holds beside."""
    inputs = {code: field_input(field, around) for code, field in offered(around).items()}
    for group, heading in GROUP_NAMES.items():
        mine = [shown for code, shown in inputs.items() if FIELDS[code].group is group]
        in_sight = tuple(shown for shown in mine if _in_sight(shown))
        more = tuple(shown for shown in mine if not _in_sight(shown))
        if in_sight:
            yield FieldGroup(heading, NOTES.get(group, ""), in_sight)
        if more:
            yield FieldGroup(f"More: {heading.lower()}", "", more, folded=True)


def _in_sight(shown: FieldInput) -> bool:
    """What is asked, was charted before, or holds something now; the rest is one press away."""
    busy = shown.typed or shown.says.open or shown.kept or shown.asked
    return bool(shown.required or shown.last or busy or shown.code in USUAL)


def field_input(field: Field, around: Around) -> FieldInput:
    """One field with its suggestion, its reasons and what is said beside it."""
    check, last = around.check, around.last.get(field.code)
    use = use_of(around.family, field.code, check.kind, around.airway)
    typed = check.typed.get(field.code, "")
    band = usual_band(field, last)
    written = around.words.fields[field.code]
    return FieldInput(
        code=field.code,
        label=field.label,
        shape=field.shape.value,
        unit=check.units.get(field.code, written.unit),
        typed=typed,
        required=use is Use.REQUIRED,
        says=says_of(field.code, around.read, last, tagged=use is Use.TAGGED, words=around.words),
        options=_options(field, typed),
        last=_last_words(written, last, around),
        last_value="" if last is None or not field.confirmable else reading_text(written, last),
        seen="" if last is None or not field.confirmable else value_seen(last),
        kept=field.code in check.kept,
        reasons=_reasons(field, check.reasons.get(field.code, "")),
        help=field.help,
        asked=field.code in around.asked,
        asked_with=ASKED_WITH.get(field.code, ""),
        usual=band is not None and field.code not in check.units,
        usual_low="" if band is None or band.low is None else spelled(band.low),
        usual_high="" if band is None or band.high is None else spelled(band.high),
        inputmode=_inputmode(field),
    )


def _options(field: Field, typed: str) -> tuple[Option, ...]:
    """The answers; with a letter each where there are few and their first letters differ."""
    letters = [choice.label[:1].lower() for choice in field.choices]
    short = len(letters) <= MOST_BY_LETTER and len(set(letters)) == len(letters)
    return tuple(
        Option(choice.code, choice.label, choice.code == typed, letter if short else "")
        for choice, letter in zip(field.choices, letters, strict=True)
    )


def _last_words(field: Field, last: Reading | None, around: Around) -> str:
    if last is None:
        return ""
    at = clock_time(last.observed_at, around.now, around.clock)
    return f"{reading_text(field, last)}, {at}"


def _reasons(field: Field, chosen: str) -> tuple[Option, ...]:
    if field.manner is not Manner.MEASURED:
        return ()
    return tuple(
        Option(reason.code, reason.label, reason.code == chosen, LETTERS.get(reason.code, ""))
        for reason in NOT_MEASURED_REASONS
    )


def _inputmode(field: Field) -> str:
    """A number pad on a phone; those pads have no minus sign, so what may be negative gets keys."""
    if field.shape is not Shape.NUMBER:
        return ""
    below_zero = field.hard is not None and field.hard.low is not None and field.hard.low < 0
    return "text" if below_zero else "decimal"
