"""Oxygenation: saturation against the patient's band, oxygen against its limit and its past."""

from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Rule
from app.rules.watch.step import Change, Slide, Step

_SUPPORT = ("family", "device_id")
_MORE = Change(rising=True)

RULES = (
    Rule(
        "spo2_under",
        "oxygenation",
        "spo2",
        "SpO2 was below the band ordered for this patient twice in a row, or far below it once.",
        Beyond(("under",)),
        limit="spo2",
    ),
    Rule(
        "fio2_over",
        "oxygenation",
        "fio2",
        "FiO2 was over its limit twice in a row.",
        Beyond(),
        limit="fio2_set",
    ),
    Rule(
        "fio2_step",
        "oxygenation",
        "fio2",
        "FiO2 rose in a step against its median of the last 24 hours.",
        Step(_MORE),
        restarts=_SUPPORT,
        drift=True,
    ),
    Rule(
        "fio2_slide",
        "oxygenation",
        "fio2",
        "FiO2 lies well above its best day of the last three, without one large step.",
        Slide(_MORE),
        restarts=_SUPPORT,
        ends_when_seen=True,
        drift=True,
    ),
    Rule(
        "peep_slide",
        "oxygenation",
        "peep",
        "Set PEEP lies well above its best day of the last three.",
        Slide(_MORE),
        restarts=_SUPPORT,
        ends_when_seen=True,
        drift=True,
    ),
    Rule(
        "sf_slide",
        "oxygenation",
        "sf",
        "SpO2 over FiO2 lies well below its best day of the last three.",
        Slide(Change(rising=False, ratio=True)),
        restarts=_SUPPORT,
        ends_when_seen=True,
        drift=True,
    ),
    Rule(
        "spo2_over_band",
        "oxygenation",
        "spo2_over_band",
        "SpO2 was above the patient's band twice in a row on more oxygen than it may need.",
        Beyond(),
        information=True,
    ),
)
