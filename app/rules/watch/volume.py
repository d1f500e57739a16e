"""Volume: what is set and what is measured, each against the limit per kilogram and the order."""

from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Rule

RULES = (
    Rule(
        "vt_set_outside",
        "volume",
        "vt_set_per_kg",
        "The set volume per kg predicted weight lies outside its limits.",
        Beyond(("over", "under")),
        limit="vt_per_pbw",
        places=1,
    ),
    Rule(
        "vt_over_order",
        "volume",
        "vt_over_order",
        "The set volume is over the volume that was ordered, per kg predicted weight.",
        Beyond(),
        places=1,
    ),
    Rule(
        "vt_measured_outside",
        "volume",
        "vt_measured_per_kg",
        "The measured volume per kg lay outside its limits in two of the last three values.",
        Beyond(("over", "under")),
        limit="vt_per_pbw",
        places=1,
    ),
    Rule(
        "vt_own_over",
        "volume",
        "vt_own_per_kg",
        "On the patient's own breaths the volume per kg is over the limit for set ones.",
        Beyond(),
        limit="vt_per_pbw",
        information=True,
        places=1,
    ),
)
