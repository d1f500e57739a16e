"""Leak: what was set and does not come back."""

from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Rule

RULES = (
    Rule(
        "leak_over",
        "leak",
        "leak",
        "More of the set volume than this unit allows did not come back, in two of three values.",
        Beyond(),
    ),
    Rule(
        "leak_heard",
        "leak",
        "leak_audible",
        "A leak was heard.",
        Beyond(),
    ),
)
