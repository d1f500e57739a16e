"""Write down an inhaled treatment as it was ordered: the drug in words, dose, route, how often."""

from datetime import datetime
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.refresh_summary import refresh_summary
from app.actions.refused import ActRefused
from app.actions.sent_once import did_before, keep_sent
from app.charting.act_time import time_refused
from app.charting.facts import CourseFacts
from app.charting.treatments import order_refused
from app.record.courses import course_facts
from app.record.tables import TreatmentRow
from app.record.writing import Writing


class NewTreatment(Struct, frozen=True):
    """The order; `interval_h` is None for one that is as needed, and `as_needed` says so."""

    drug: str
    dose: str
    route: str
    interval_h: Decimal | None
    as_needed: bool
    ordered_by: str
    ordered_at: datetime


class TreatmentRefused(ActRefused):
    """The treatment cannot be ordered, given or stopped so."""


def order_treatment(
    writing: Writing, course_id: str, order: NewTreatment, *, save_key: str = ""
) -> str:
    """Keep the order and bring the board up to it; returns its id.

    Raises TreatmentRefused, KeyReused for a key that came with other content, and NotFound.
    """
    content = {"treatment": True, **asdict(order)}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    not_then(course_facts(writing.session, course_id), order.ordered_at, writing.recorded_at)
    told = (order.drug, order.dose, order.route, order.interval_h, order.ordered_by)
    for sentence in order_refused(*told, as_needed=order.as_needed):
        raise TreatmentRefused(sentence)
    row = TreatmentRow(
        course_id=course_id,
        drug=order.drug,
        dose=order.dose,
        route=order.route,
        interval_h=order.interval_h,
        ordered_by=order.ordered_by,
        ordered_at=order.ordered_at,
    )
    writing.add_as("order_treatment", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def not_then(facts: CourseFacts, at: datetime, now: datetime) -> None:
    """Raises TreatmentRefused for a time at which nothing of this course can have happened."""
    if facts.ended_at is not None:
        raise TreatmentRefused("This course has ended.")
    for sentence in time_refused(facts, at, now):
        raise TreatmentRefused(sentence)
