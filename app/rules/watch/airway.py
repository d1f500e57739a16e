"""Airway: resistance where it is valid, peak less plateau where the constant flow has no number."""

from app.rules.watch.rule import Rule
from app.rules.watch.step import Change, Step

_TUBE = ("tube", "family", "device_id", "flow_pattern", "inspiratory_time", "humidifier")
_MORE = Change(rising=True)

RULES = (
    Rule(
        "resistance_rise",
        "airway",
        "resistance",
        "Airway resistance rose in a step against its median of the last 24 hours.",
        Step(_MORE),
        restarts=(*_TUBE, "flow"),
        drift=True,
    ),
    Rule(
        "peak_less_plateau_rise",
        "airway",
        "peak_less_plateau",
        "Peak less plateau rose in a step against its median of the last 24 hours.",
        Step(_MORE),
        restarts=(*_TUBE, "peep"),
        drift=True,
        places=1,
    ),
)
