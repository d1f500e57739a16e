"""Which airway fields are asked: it is the tube that has a depth and a cuff, not the mode."""

from app.charting.field import Use

Uses = dict[str, Use]


def _asked(required: str, optional: str) -> Uses:
    return dict.fromkeys(optional.split(), Use.OPTIONAL) | dict.fromkeys(
        required.split(), Use.REQUIRED
    )


_CUFF = "cuff_state cuff_pressure_cmh2o leak_audible cuff_leak_ml "
_SIZE = "airway_size_mm airway_size_label securement airway_skin "
_ETT = _asked(
    "airway_depth_cm", _SIZE + _CUFF + "airway_side airway_depth_reference tip_above_carina_cm"
)

BY_AIRWAY: dict[str, Uses] = {
    "ett_oral": _ETT,
    "ett_nasal": _ETT,
    "trach": _asked(
        "",
        _SIZE + _CUFF + "airway_depth_cm airway_depth_reference speaking_valve laryngectomy",
    ),
    "stoma": _asked("", "airway_skin laryngectomy"),
    "supraglottic": _asked("", _SIZE + _CUFF),
    "mask": _asked("", "airway_skin leak_audible"),
    "nasal_cannula": _asked("", "airway_skin"),
    "none": {},
    "": _asked(
        "",
        _SIZE
        + _CUFF
        + "airway_side airway_depth_cm airway_depth_reference tip_above_carina_cm "
        + "speaking_valve laryngectomy",
    ),
}
"""Airway category to the fields it asks for; "" is an airway that nobody charted: all optional."""

GUESSED_AIRWAY = {"niv": "mask", "hfnc": "nasal_cannula", "unassisted": "none"}
"""What is assumed of a family's airway only to keep tube fields off a mask's form."""
