"""Mechanics: driving pressure, plateau, and the compliances, static and dynamic."""

from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Rule
from app.rules.watch.step import Change, Fall, Slide, Step

_LUNG = ("tube", "family", "prone", "device_id", "peep")
_BREATH = (*_LUNG, "flow", "flow_pattern", "inspiratory_time", "humidifier")
_LESS = Change(rising=False, ratio=True)

RULES = (
    Rule(
        "driving_pressure_over",
        "mechanics",
        "driving_pressure",
        "Driving pressure was over its limit in two of the last three holds, or far over it once.",
        Beyond(),
        limit="driving_pressure",
    ),
    Rule(
        "plateau_over",
        "mechanics",
        "plateau",
        "Plateau was over its limit in two of the last three holds, or far over it once.",
        Beyond(),
        limit="plateau_pressure_obs",
    ),
    Rule(
        "compliance_step",
        "mechanics",
        "compliance",
        "Static compliance fell in a step against its median of the last 24 hours.",
        Step(_LESS),
        restarts=_LUNG,
        keeps=("peep",),
        beside="compliance_dynamic_step",
        drift=True,
    ),
    Rule(
        "compliance_fall",
        "mechanics",
        "compliance",
        "Static compliance fell slowly: its last two values against those of 12 to 48 hours ago.",
        Fall(_LESS),
        restarts=_LUNG,
        keeps=("peep",),
        beside="compliance_dynamic_step",
        drift=True,
    ),
    Rule(
        "compliance_slide",
        "mechanics",
        "compliance",
        "Static compliance lies well below its best day of the last three, without one large step.",
        Slide(_LESS),
        restarts=_LUNG,
        keeps=("peep",),
        ends_when_seen=True,
        beside="compliance_dynamic_step",
        drift=True,
    ),
    Rule(
        "compliance_dynamic_step",
        "mechanics",
        "compliance_dynamic",
        "Dynamic compliance fell in a step: the peak rose for the same volume, flow and PEEP.",
        Step(_LESS),
        restarts=_BREATH,
        keeps=("peep",),
        drift=True,
    ),
    Rule(
        "compliance_both_step",
        "mechanics",
        "compliance_both",
        "Static and dynamic compliance, averaged, fell; without a plateau static is read from the "
        "peak less its usual distance.",
        Step(_LESS),
        restarts=_BREATH,
        keeps=("peep",),
        drift=True,
    ),
)
