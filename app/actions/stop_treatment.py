"""Write down that an inhaled treatment was stopped: from then on it is due no more."""

from datetime import datetime

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.give_treatment import treatment_of
from app.actions.order_treatment import TreatmentRefused, not_then
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.treatments import stop_refused
from app.record.courses import course_facts
from app.record.tables import TreatmentRow
from app.record.writing import Writing


class TreatmentStop(Struct, frozen=True):
    """When it was stopped, who said so, and why."""

    treatment_id: str
    stopped_at: datetime
    stopped_by: str
    why: str = ""


def stop_treatment(
    writing: Writing, course_id: str, stop: TreatmentStop, *, save_key: str = ""
) -> str:
    """Write the treatment's last version; returns its id. What was given stays readable.

    Raises TreatmentRefused, KeyReused, and NotFound.
    """
    content = asdict(stop)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    treatment = treatment_of(facts, stop.treatment_id)
    not_then(facts, stop.stopped_at, writing.recorded_at)
    if not stop.stopped_by:
        raise TreatmentRefused("Say who stopped it.")
    for sentence in stop_refused(treatment, stop.stopped_at):
        raise TreatmentRefused(sentence)
    row = TreatmentRow(
        supersedes_id=treatment.version_id,
        course_id=course_id,
        drug=treatment.drug,
        dose=treatment.dose,
        route=treatment.route,
        interval_h=treatment.interval_h,
        ordered_by=treatment.ordered_by,
        ordered_at=treatment.ordered_at,
        stopped_at=stop.stopped_at,
        stopped_by=stop.stopped_by,
        stopped_why=stop.why or None,
    )
    writing.add_as("stop_treatment", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id
