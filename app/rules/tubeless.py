"""A patient whose tube has come out: what was read through it says nothing of them any more.

A value of the tube or of the machine on it from before is neither within its limit nor too old: it
does not apply, until what is breathed now is charted and is read anew (decision 28).
"""

from collections.abc import Sequence
from datetime import datetime

from app.charting.airways import tubes_moved
from app.charting.derive import OF_A_BREATH, OF_A_HOLD
from app.charting.facts import Assessment, CourseFacts
from app.charting.field import Group, Use
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.uses import use_of

NOT_CHARTED = "no tube in place; what is breathed now is not charted"
NO_TUBE = "no tube in place"
_NOT_SINCE = "not charted since the tube came out"

_GROUPS = (Group.SETTINGS, Group.MEASURED, Group.HOLDS, Group.AIRWAY)
_BY_WHAT_IS_GIVEN = {
    "sf_ratio": "fio2_set",
    "sf_class": "fio2_set",
    "oxygen_saturation_index": "mean_airway_pressure_obs",
}
"""Indices of the patient over what the machine gave them: which field says that it is still given.
A blood gas keeps its ratio, which is of its own time."""

_OF_THE_PATIENT = frozenset({"resp_rate_obs"})
"""Read beside the machine, and read of whoever breathes without one too."""


def tube_out_at(facts: CourseFacts) -> datetime | None:
    """When the tube came out, while none is in place; None for whoever has one or never had."""
    moved = tubes_moved(facts.airways)
    return moved[-1].at if moved and not moved[-1].went_in else None


def is_of_the_tube(key: str) -> bool:
    """Whether a field or an index says something of the tube, or of a machine on it."""
    if key in FIELDS:
        return FIELDS[key].group in _GROUPS and key not in _OF_THE_PATIENT
    return key in OF_A_BREATH or key in _BY_WHAT_IS_GIVEN


def breathed_since(rows: Sequence[Assessment], out: datetime) -> str:
    """The mode family charted since the tube came out; empty where nobody has charted any."""
    for row in reversed(rows):
        if row.observed_at < out:
            return ""
        if row.mode_family and not family_of(row.mode_family).invasive:
            return row.mode_family
    return ""


def why_not(key: str, family: str) -> str:
    """Why a value of the tube says nothing; empty where what is breathed now has it too."""
    if not family:
        return NOT_CHARTED
    if key in OF_A_HOLD:
        return NO_TUBE
    code = key if key in FIELDS else _BY_WHAT_IS_GIVEN.get(key, "tidal_volume_obs")
    return NO_TUBE if use_of(family, code) in (Use.HIDDEN, Use.TAGGED) else ""


def not_since(key: str) -> str:
    """What is missing of a value that could be charted, and was not since the tube came out."""
    code = _BY_WHAT_IS_GIVEN.get(key, "")
    return f"no {FIELDS[code].name} charted since the tube came out" if code else _NOT_SINCE
