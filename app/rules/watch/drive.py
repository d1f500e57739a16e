"""Drive: the total rate against its limit and against the day before."""

from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Rule
from app.rules.watch.step import Change, Step

RULES = (
    Rule(
        "rate_over",
        "drive",
        "rate",
        "The total rate was over its limit twice in a row.",
        Beyond(),
        limit="resp_rate_obs",
    ),
    Rule(
        "rate_rise",
        "drive",
        "rate",
        "The total rate, over two values, rose against its median of 24 hours, set rate unchanged.",
        Step(Change(rising=True)),
        restarts=("family", "set_rate"),
        drift=True,
    ),
)
