"""Acid-base: pH outside its limits once, since a laboratory's value is not noisy."""

from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Rule

RULES = (
    Rule(
        "ph_outside",
        "acid-base",
        "ph",
        "pH lay outside its limits.",
        Beyond(("under", "over")),
        limit="ph",
        places=2,
    ),
)
