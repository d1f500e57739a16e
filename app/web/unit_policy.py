"""The policy that a page without a patient goes by."""

from app.record.judging import judging
from app.rules.policy import Policy, starting_policy
from app.web.visit import Visit


def policy_of(visit: Visit) -> Policy:
    """The unit's policy in force now; the one that ships before any unit was set up."""
    if not visit.units:
        return starting_policy()
    with visit.reading() as session:
        return judging(session, visit.unit.id, visit.now).policy
