"""Build the check form: its head, its fields, what is asked, and what it means so far."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from msgspec import Struct, field
from msgspec.structs import replace

from app.charting.check import ReadCheck, TypedCheck
from app.charting.facts import CourseFacts, Kind
from app.charting.field import Shape
from app.charting.fields import FIELDS
from app.charting.from_paper import PAPER
from app.charting.mode_families import MODE_FAMILIES
from app.pages.assess_fields import Around, field_groups, last_values, offered
from app.pages.assess_head import (
    SEEN_AT,
    SLIP_PRESSURES,
    TAKEN_AT,
    bound_to,
    observed_input,
    slip_unit,
)
from app.pages.assess_live import live_indices, read_so_far
from app.pages.assess_page import (
    AssessPage,
    Complaint,
    FieldGroup,
    FieldInput,
    Option,
    PaperInput,
    Says,
)
from app.pages.assess_says import complaints_of, first_to_answer
from app.pages.banner import banner_of
from app.pages.cover_question import CoverQuestion
from app.pages.drafts import KeptDraft, kept_draft
from app.pages.frame import Frame
from app.pages.identity import IdentityQuestion
from app.pages.site_words import MMHG, PLAIN, SiteWords
from app.rules.asked import asked_this_round
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import Policies

KINDS = {
    Kind.FULL: "Check",
    Kind.BRIEF: "Brief check",
    Kind.GAS: "Blood gas",
}
"""What each kind of row is called over its form."""


class Sheet(Struct, frozen=True):
    """The form as it stands: what was typed, how it was read, and what happened to it."""

    check: TypedCheck
    save_key: str
    read: ReadCheck | None = None
    observed_text: str = ""
    observed_error: str = ""
    identity: IdentityQuestion | None = None
    cover: CoverQuestion | None = None
    draft_saved_at: datetime | None = None
    """When it was kept without being saved, where it stands as somebody left it."""
    already_saved: str = ""
    already_saved_href: str = ""
    not_saved: str = ""
    opened: str = ""
    """How far the record had come when the form was opened."""
    choices: Mapping[str, str] = field(default_factory=dict)
    """What was decided where the chart says otherwise, by the difference's key."""


def blank_sheet(
    facts: CourseFacts, kind: Kind, now: datetime, save_key: str, gas_unit: str = MMHG
) -> Sheet:
    """An empty form for now, in the mode family in force; a gas in the unit of the last slip.

    `gas_unit` is the site's, for the first slip.
    """
    named = (row.mode_family for row in reversed(facts.standing) if row.mode_family)
    is_gas = kind is Kind.GAS
    check = TypedCheck(
        kind=kind,
        observed_at=now,
        mode_family="" if is_gas else next(named, ""),
        units=dict.fromkeys(SLIP_PRESSURES, slip_unit(facts, gas_unit)) if is_gas else {},
    )
    return Sheet(check, save_key)


def assess_page(
    frame: Frame,
    facts: CourseFacts,
    sheet: Sheet,
    policies: Policies,
    clock: UnitClock,
    now: datetime,
    words: SiteWords = PLAIN,
) -> AssessPage:
    """The form for one patient, with every message beside its field."""
    check = sheet.check
    base = f"/courses/{facts.course_id}"
    around = replace(_around(facts, sheet, policies, clock, now), words=words)
    label = TAKEN_AT if check.kind is Kind.GAS else SEEN_AT
    refused = _time_refused(sheet)
    observed = observed_input(label, check.observed_at, sheet.observed_text, refused, clock, now)
    return AssessPage(
        frame=frame,
        banner=banner_of(facts, policies.at(now), clock, now, words),
        heading=_heading(check),
        paper=_paper(sheet),
        kind=check.kind.value,
        action=f"{base}/assess",
        live_href=f"{base}/assess/live",
        back_href=base,
        observed=observed,
        family=_family_input(check),
        groups=_opened(tuple(field_groups(around))),
        complaints=tuple(_complaints(sheet, around)),
        live=live_indices(facts, check, policies, now),
        save_key=sheet.save_key,
        focus=_focus(sheet, around),
        identity=sheet.identity,
        cover=sheet.cover,
        bound=bound_to(facts, check, clock, now, words) if check.kind is Kind.GAS else None,
        draft_href=f"{base}/assess/draft",
        draft=_draft(sheet, facts, clock, now),
        already_saved=sheet.already_saved,
        already_saved_href=sheet.already_saved_href,
        not_saved=sheet.not_saved,
        opened=sheet.opened,
        choices=tuple(sheet.choices.items()),
    )


def _heading(check: TypedCheck) -> str:
    name = KINDS.get(check.kind, "Check")
    return f"{name} from paper" if check.source == PAPER else name


def _paper(sheet: Sheet) -> PaperInput | None:
    if sheet.check.source != PAPER:
        return None
    return PaperInput(sheet.check.paper_by, _refused(sheet, "paper_by"))


def _draft(sheet: Sheet, facts: CourseFacts, clock: UnitClock, now: datetime) -> KeptDraft | None:
    if sheet.draft_saved_at is None:
        return None
    return kept_draft(sheet.draft_saved_at, now, clock, facts.course_id)


def _time_refused(sheet: Sheet) -> str:
    """What is wrong with the time: as a text, or as a moment that the check refuses."""
    return sheet.observed_error or _refused(sheet, "observed_at")


def _refused(sheet: Sheet, field: str) -> str:
    refused = [] if sheet.read is None else sheet.read.objections
    return next((each.sentence for each in refused if each.field == field), "")


def _complaints(sheet: Sheet, around: Around) -> Iterator[Complaint]:
    if sheet.identity is not None and sheet.identity.error:
        yield Complaint("identity", sheet.identity.label, sheet.identity.error)
    if sheet.cover is not None and sheet.cover.error:
        yield Complaint("cover", "Why in this bed?", sheet.cover.error)
    if sheet.observed_error:
        yield Complaint("observed_at", "Observed at", sheet.observed_error)
    if sheet.read is not None:
        yield from complaints_of(sheet.read, {"observed_at", "paper_by", *offered(around)})


def _focus(sheet: Sheet, around: Around) -> str:
    """The first thing to be put right, in the order in which the form is read."""
    if sheet.identity is not None and sheet.identity.error:
        return "identity"
    if sheet.cover is not None and sheet.cover.error:
        return "cover"
    if sheet.observed_error:
        return "observed_at"
    if sheet.read is None or sheet.not_saved or sheet.already_saved:
        return ""
    return first_to_answer(sheet.read, ("paper_by", "observed_at", *offered(around)))


def _around(
    facts: CourseFacts, sheet: Sheet, policies: Policies, clock: UnitClock, now: datetime
) -> Around:
    check = sheet.check
    return Around(
        facts=facts,
        check=check,
        read=sheet.read or read_so_far(check, facts, policies, now),
        last=last_values(facts, check.observed_at),
        asked=asked_this_round(
            facts, check.mode_family, check.kind, policies.at(now), clock, check.observed_at
        ),
        clock=clock,
        now=now,
    )


def _opened(groups: Sequence[FieldGroup]) -> tuple[FieldGroup, ...]:
    """A folded group opens by itself where something in it was typed or is asked."""
    return tuple(
        replace(group, open=any(each.typed or each.says.open for each in group.fields))
        for group in groups
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
        says=Says(named.code),
        options=options,
        help=named.help,
    )
