"""Build the check form: fields in bedside order, what was typed, what is asked, what it means."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from app.charting.check import Objection, ReadCheck, TypedCheck, as_row, read_check
from app.charting.entry import Read
from app.charting.facts import Assessment, CourseFacts, Kind, Reading
from app.charting.field import Field, Group, Manner, Shape, Use
from app.charting.fields import FIELDS
from app.charting.mode_families import MODE_FAMILIES
from app.charting.reasons import NOT_MEASURED_REASONS
from app.charting.uses import fields_for, use_of
from app.pages.assess_page import (
    AssessPage,
    Complaint,
    FieldGroup,
    FieldInput,
    LiveIndices,
    Option,
)
from app.pages.banner import banner_of
from app.pages.frame import Frame
from app.pages.shown import Drawn, Shown
from app.pages.times import clock_time, input_time
from app.pages.values import against, limit_of, of_index, reading_text
from app.physiology.catalogue import CATALOGUE
from app.rules.bed_summary import work_out
from app.rules.policy import Policy
from app.rules.unit_clock import UnitClock

LIVE = {
    Kind.FULL: (
        "vt_per_pbw",
        "driving_pressure",
        "compliance_static",
        "auto_peep",
        "airway_resistance",
        "minute_ventilation",
        "ie_ratio",
        "rsbi",
        "rox",
        "sf_ratio",
    ),
    Kind.GAS: ("pf_ratio", "aa_gradient", "ventilatory_ratio", "oxygenation_index"),
}
HEADINGS = {
    Group.MONITOR: ("At the monitor", "measured: typed each time"),
    Group.AIRWAY: ("At the tube", ""),
    Group.SETTINGS: ("Told to the machine", "keep what is unchanged, one by one"),
    Group.MEASURED: ("Read at the machine", "measured: typed each time"),
    Group.HOLDS: ("Holds", "only when the patient is passive"),
    Group.PATIENT: ("The patient", ""),
    Group.HUMIDIFICATION: ("Humidifier and circuit", ""),
    Group.SAFETY: ("Safe to leave", "what is not there is a task for somebody"),
    Group.ALARMS: ("Alarms set", ""),
    Group.GAS: ("Blood gas", "measured: typed from the slip"),
}
"""The order of the round at the bed, and what each place is called."""

NOT_IN_THE_GROUPS = frozenset({"mode_family", "airway_category", "change_reason", "ordered_by"})
DAY = timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class Sheet:
    """The form as it stands: what was typed, how it was read, and what happened to it."""

    check: TypedCheck
    save_key: str
    read: ReadCheck | None = None
    observed_text: str = ""
    observed_error: str = ""
    already_saved: str = ""
    already_saved_href: str = ""
    not_saved: str = ""
    missing: tuple[str, ...] = field(default_factory=tuple)


def blank_sheet(facts: CourseFacts, kind: Kind, now: datetime, save_key: str) -> Sheet:
    """An empty form for now, in the mode family in force."""
    named = (row.mode_family for row in reversed(facts.standing) if row.mode_family)
    family = "" if kind is Kind.GAS else next(named, "")
    return Sheet(TypedCheck(kind=kind, observed_at=now, mode_family=family), save_key)


def assess_page(
    frame: Frame, facts: CourseFacts, sheet: Sheet, policy: Policy, clock: UnitClock, now: datetime
) -> AssessPage:
    """The form for one patient, with every message beside its field."""
    check = sheet.check
    base = f"/courses/{facts.course_id}"
    last = facts.latest_readings()
    return AssessPage(
        frame=frame,
        banner=banner_of(facts, policy, clock, now),
        heading={Kind.GAS: "Blood gas"}.get(check.kind, "Check"),
        kind=check.kind.value,
        action=f"{base}/assess",
        live_href=f"{base}/assess/live",
        back_href=base,
        observed_at=sheet.observed_text or input_time(check.observed_at, clock),
        observed_at_error=sheet.observed_error,
        zone=clock.local(check.observed_at).tzname() or "",
        family=_family_input(check),
        groups=tuple(_groups(facts, sheet, last, clock, now)),
        complaints=tuple(_complaints(sheet)),
        live=live_indices(facts, sheet, policy),
        save_key=sheet.save_key,
        already_saved=sheet.already_saved,
        already_saved_href=sheet.already_saved_href,
        not_saved=sheet.not_saved,
    )


def _family_input(check: TypedCheck) -> FieldInput:
    """A blood gas is read in the mode in force at its time, so its form does not ask."""
    named = FIELDS["mode_family"]
    families = () if check.kind is Kind.GAS else MODE_FAMILIES.values()
    options = tuple(
        Option(family.code, family.label, family.code == check.mode_family) for family in families
    )
    return FieldInput(
        code=named.code,
        label=named.label,
        shape=Shape.CHOICE.value,
        unit="",
        typed=check.mode_family,
        required=True,
        options=options,
        help=named.help,
    )


def _groups(
    facts: CourseFacts,
    sheet: Sheet,
    last: Mapping[str, Reading],
    clock: UnitClock,
    now: datetime,
) -> Iterator[FieldGroup]:
    check = sheet.check
    airway = facts.airways[-1].category if facts.airways else ""
    offered = fields_for(check.mode_family or "other", check.kind, airway)
    for group, (heading, note) in HEADINGS.items():
        inputs = {
            known.code: _field_input(known, facts, sheet, last.get(known.code), clock, now)
            for known in offered
            if known.group is group and known.code not in NOT_IN_THE_GROUPS
        }
        open_now = tuple(shown for shown in inputs.values() if _in_sight(shown))
        more = tuple(shown for shown in inputs.values() if not _in_sight(shown))
        if open_now:
            yield FieldGroup(heading, note, open_now)
        if more:
            yield FieldGroup(f"More: {heading.lower()}", "", more, folded=True)


def _in_sight(shown: FieldInput) -> bool:
    """What is required, was charted before, or holds something now; the rest is one press away."""
    busy = shown.typed or shown.error or shown.question or shown.kept
    return bool(shown.required or shown.last or busy or shown.code in USUAL)


USUAL = frozenset(
    {
        "cuff_pressure_cmh2o",
        "airway_depth_cm",
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


def _field_input(
    known: Field,
    facts: CourseFacts,
    sheet: Sheet,
    last: Reading | None,
    clock: UnitClock,
    now: datetime,
) -> FieldInput:
    check = sheet.check
    airway = facts.airways[-1].category if facts.airways else ""
    use = use_of(check.mode_family or "other", known.code, check.kind, airway)
    typed = check.typed.get(known.code, "")
    shown = FieldInput(
        code=known.code,
        label=known.label,
        shape=known.shape.value,
        unit=known.unit,
        typed=typed,
        required=use is Use.REQUIRED,
        options=tuple(Option(c.code, c.label, c.code == typed) for c in known.choices),
        last=_last_words(known, last, clock, now),
        last_value=_last_value(known, last),
        kept=known.code in check.kept,
        reasons=_reasons(known, check.reasons.get(known.code, "")),
        note="This mode makes it uncertain: kept, not used" if use is Use.TAGGED else "",
        help=known.help,
    )
    return _with_messages(shown, sheet)


def _last_words(known: Field, last: Reading | None, clock: UnitClock, now: datetime) -> str:
    if last is None or not last.has_value:
        return ""
    return f"{reading_text(known, last)}, {clock_time(last.observed_at, now, clock)}"


def _last_value(known: Field, last: Reading | None) -> str:
    if last is None or not last.has_value or not known.confirmable:
        return ""
    return reading_text(known, last)


def _reasons(known: Field, chosen: str) -> tuple[Option, ...]:
    if known.manner is not Manner.MEASURED:
        return ()
    return tuple(Option(r.code, r.label, r.code == chosen) for r in NOT_MEASURED_REASONS)


def _with_messages(shown: FieldInput, sheet: Sheet) -> FieldInput:
    read = sheet.read
    if read is None:
        return shown
    mine = [objection for objection in read.objections if objection.field == shown.code]
    refused = next((objection for objection in mine if objection.kind == "refused"), None)
    asked = [objection for objection in mine if objection.kind != "refused"]
    outcome = read.outcomes.get(shown.code)
    notes = [finding.sentence for finding in read.notes if shown.code in finding.fields[:1]]
    accepted = _accepted(shown.code, read)
    sentences = [*accepted.values(), *(objection.sentence for objection in asked)]
    return replace(
        shown,
        error=refused.sentence if refused else "",
        question=" ".join(sentences),
        question_code="\n".join([*accepted, *(objection.key for objection in asked)]),
        question_accepted=bool(accepted) and not asked,
        note=" ".join(filter(None, [shown.note, *notes])),
        echo=outcome.said if isinstance(outcome, Read) else "",
    )


def _accepted(code: str, read: ReadCheck) -> dict[str, str]:
    """What somebody has answered beside this field: the keys, and what was asked."""
    outcome = read.outcomes.get(code)
    own = outcome.questions if isinstance(outcome, Read) else ()
    told = [answer for answer in read.answered if answer.field == code]
    return {question.key: question.sentence for question in own} | {
        answer.key: answer.sentence for answer in told
    }


def _complaints(sheet: Sheet) -> Iterator[Complaint]:
    """What holds the form up; a question about the whole form is answered here."""
    if sheet.read is None:
        return
    for objection in sheet.read.objections:
        key = "" if objection.field else objection.key
        yield Complaint(objection.field, _label(objection), objection.sentence, key)
    if sheet.read.objections:
        for told in sheet.read.answered:
            if not told.field:
                yield Complaint("", _label(told), told.sentence, told.key, question_accepted=True)


def _label(objection: Objection) -> str:
    known = FIELDS.get(objection.field)
    return known.label if known is not None else "This check"


def live_indices(facts: CourseFacts, sheet: Sheet, policy: Policy) -> LiveIndices:
    """What the form means so far: the readings that can be read, worked out as if saved now."""
    check = sheet.check
    read = sheet.read or read_check(check, facts, now=check.observed_at)
    row = as_row(check, read.readings)
    recent = tuple(
        known for known in facts.standing if _is_before(known, check.observed_at, within=DAY)
    )
    worked = work_out(replace(facts, assessments=(*recent, row)), policy)
    answers = worked[-1][1]
    adult = facts.age_y is None or facts.age_y >= policy.adult_age_y
    shown = (
        against(of_index(CATALOGUE[key], answers[key]), limit_of(key, policy, adult=adult), run=1)
        for key in LIVE.get(check.kind, LIVE[Kind.FULL])
    )
    return LiveIndices(tuple(_worth_showing(shown)))


def _worth_showing(shown: Iterable[Shown]) -> Iterator[Shown]:
    return (value for value in shown if value.drawn is not Drawn.NOTHING)


def _is_before(row: Assessment, moment: datetime, *, within: timedelta) -> bool:
    return moment - within <= row.observed_at <= moment
