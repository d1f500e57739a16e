"""The predicted body weight as the course knows it now, with what it was worked out from."""

from app.charting.course import body_known
from app.charting.derive import WorkedOut
from app.charting.facts import CourseFacts
from app.physiology.answer import NotAvailable
from app.physiology.catalogue import CATALOGUE


def predicted_weight(facts: CourseFacts, *, adult_age_y: int) -> WorkedOut:
    """Predicted body weight from the newest height; off under the unit's adult age (decision 1)."""
    body, age = body_known(facts), facts.age_y
    if age is not None and age < adult_age_y:
        told = f"adult index: not used under {adult_age_y} years"
        return WorkedOut(NotAvailable(told, applicable=False), {})
    given = {"sex": body.pbw_sex, "height": body.height_cm} if body else {}
    origins = {name: body for name, value in given.items() if body is not None and value}
    return WorkedOut(CATALOGUE["pbw"].work_out({"sex": None, "height": None, **given}), origins)
