"""When inhaled treatments are due: from the order on, then so many hours after the last time.

Late and overdue as the unit's rounds are; what fell due while the patient was away is due at the
return, as for everything else.
"""

from collections.abc import Iterator
from datetime import timedelta

from app.charting.facts import CourseFacts
from app.charting.fields.intake import ASKED_ONCE
from app.charting.treatments import Treatment
from app.rules.due_item import DueItem
from app.rules.policy import Policy


def treatments_due(facts: CourseFacts, policy: Policy) -> Iterator[DueItem]:
    """Each treatment with an interval that was not stopped; as needed is never due."""
    late = timedelta(minutes=policy.rounds.late_after_min)
    overdue = timedelta(minutes=policy.rounds.overdue_after_min)
    for treatment in facts.treatments:
        due_at = treatment.due_at()
        if due_at is not None:
            what = treatment_name(treatment)
            yield DueItem("treatment", what, due_at, due_at + late, due_at + overdue, "an order")


def treatment_name(treatment: Treatment) -> str:
    """ "salbutamol 2.5 mg, nebuliser"."""
    route = ASKED_ONCE["treatment_route"].label_of(treatment.route)
    return f"{treatment.drug} {treatment.dose}, {route.lower()}"
