"""What is asked of an inhaled treatment when it is ordered, given or stopped."""

from app.charting.field import Field, Group, Manner
from app.charting.fields.declare import JUDGED, choice, number, text

P = Group.PATIENT
ROUTES = (
    ("nebuliser", "Nebuliser"),
    ("spacer", "Metered dose with spacer"),
    ("other", "Another route"),
)
ASKED_OF_TREATMENTS: tuple[Field, ...] = (
    text("treatment_drug", "What was ordered", P, longest=60),
    text("treatment_dose", "Dose", P, longest=40, about="As it was ordered, with its unit."),
    choice("treatment_route", "Route", P, ROUTES),
    number(
        "treatment_interval_h",
        "Every",
        P,
        Manner.STATED,
        "h",
        hard=("0.25", "72"),
        soft=("1", "24"),
        step="0.25",
        places=2,
        trim=True,
        source=JUDGED,
    ),
    choice("treatment_as_needed", "Or", P, (("yes", "As needed"),)),
    text("treatment_before", "Before", P, longest=60, about="What was heard or read before."),
    text("treatment_after", "After", P, longest=60),
    text("treatment_response", "Response", P, longest=100),
    text("treatment_not_given", "Not given, why", P, longest=60, about="Empty where it was given."),
)
TO_ORDER = (
    "treatment_drug",
    "treatment_dose",
    "treatment_route",
    "treatment_interval_h",
    "treatment_as_needed",
    "ordered_by",
)
TO_GIVE = ("treatment_before", "treatment_after", "treatment_response", "treatment_not_given")
TO_STOP = ("ordered_by", "why")
