"""Build the banner: two identifiers, body, day, limits of care, the same on page and print."""

from datetime import datetime, timedelta
from decimal import Decimal

from app.charting.course_ends import end_words
from app.charting.facts import BodySize, CourseFacts
from app.charting.fields import FIELDS
from app.charting.shown import shown
from app.pages.body_weight import predicted_weight
from app.pages.day_words import day_words
from app.pages.frame import Banner
from app.pages.number_links import number_href
from app.pages.shown import Drawn, Shown
from app.pages.site_words import LIMITS_OF_CARE, PLAIN, RECORD_NUMBER, SiteWords
from app.pages.times import clock_time
from app.pages.worries import ADULT_OFF
from app.physiology.answer import NotAvailable, Value
from app.physiology.catalogue import CATALOGUE
from app.rules.policy import Policy
from app.rules.unit_clock import UnitClock
from app.rules.ventilator_day import counted, day_rule

MOVED_FOR = timedelta(hours=12)
"""How long a banner says where somebody was before (engineering judgement)."""


def banner_of(
    facts: CourseFacts,
    policy: Policy,
    clock: UnitClock,
    now: datetime,
    words: SiteWords = PLAIN,
) -> Banner:
    """Whose page this is, as known at `now`."""
    identity = facts.identity
    bed, moved = _place(facts, clock, now)
    age = facts.age_y
    return Banner(
        bed=bed,
        moved=moved,
        name=identity.name,
        record_number=identity.record_number,
        age=f"{age} y" if age is not None else "age not known",
        sex={"M": "male", "F": "female"}.get(_sex(facts), "sex for weight not known"),
        height=_height(facts),
        height_href=f"/courses/{facts.course_id}/height",
        predicted_weight=_predicted_weight(facts, policy.adult_age_y),
        day=day_words(
            counted(facts, policy.ventilator_gap_days, clock), facts.ended_at or now, clock
        ),
        day_rule=day_rule(policy.ventilator_gap_days),
        limits_of_care=identity.code_limits or "not stated",
        limits_name=words.name(LIMITS_OF_CARE),
        number_name=words.name(RECORD_NUMBER),
        isolation=identity.isolation or "isolation not stated",
        allergies=identity.allergies or "allergies not stated",
        adult_off=ADULT_OFF if age is not None and age < policy.adult_age_y else "",
        course_href=f"/courses/{facts.course_id}",
        course_id=facts.course_id,
        origin="imported" if facts.origin == "import" else "",
    )


def _place(facts: CourseFacts, clock: UnitClock, now: datetime) -> tuple[str, str]:
    """The bed now, and where the patient was before for whoever looks for them there."""
    stay = facts.bed_stays[-1] if facts.bed_stays else None
    if stay is None:
        return "", ""
    if facts.ended_at is not None:
        ended = end_words(facts.end_kind).lower()
        was = f"Was in {stay.bed}, " if stay.bed else "Was in no bed, "
        return "", f"{was}{ended} {clock_time(facts.ended_at, now, clock)}"
    before = facts.bed_stays[-2].bed if len(facts.bed_stays) > 1 else None
    at = clock_time(stay.from_at, now, clock)
    if stay.bed is None:
        words = f" ({stay.words})" if stay.words else ""
        return "", f"Out of the unit since {at}{words}, was {before or 'in no bed'}"
    news = now - stay.from_at < MOVED_FOR and before != stay.bed and len(facts.bed_stays) > 1
    return stay.bed, f"Moved {at}, was {before or 'out of the unit'}" if news else ""


def _sex(facts: CourseFacts) -> str:
    return facts.body_sizes[-1].pbw_sex if facts.body_sizes else ""


def _height(facts: CourseFacts) -> str:
    size = facts.body_sizes[-1] if facts.body_sizes else None
    if size is None or size.height_cm is None:
        return "no height"
    method = FIELDS["height_method"].label_of(size.height_method).lower() or "method not stated"
    source = f", {size.source}" if size.source else ""
    return f"{_cm(size.height_cm)} cm, {method}{source}{_height_before(size)}"


def _height_before(size: BodySize) -> str:
    before = size.corrected_from
    if before is None or before.height_cm in (None, size.height_cm):
        return ""
    return f", corrected, was {_cm(before.height_cm)}"


def _cm(height: Decimal | None) -> str:
    return shown(FIELDS["height_cm"], height) if height is not None else ""


def _predicted_weight(facts: CourseFacts, adult_age_y: int) -> Shown:
    """The weight, or why there is none; either way it opens."""
    index, answer = CATALOGUE["pbw"], predicted_weight(facts, adult_age_y=adult_age_y).answer
    href = number_href(facts.course_id, "pbw")
    if isinstance(answer, Value):
        return Shown(
            index.short_label,
            answer.shown,
            Drawn.WORKED_OUT,
            index.unit,
            key="pbw",
            href=href,
        )
    reason = answer.reason if isinstance(answer, NotAvailable) else "height or sex to be checked"
    return Shown(
        index.short_label, "", Drawn.NOT_MEASURED, index.unit, reason, key="pbw", href=href
    )
