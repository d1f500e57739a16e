"""What a patient can breathe through once a tube is out, and which mode family each of them is."""

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct


class AfterTube(Struct, frozen=True):
    """One way to breathe without a tube: its words, its mode family, and the airway it takes."""

    code: str
    label: str
    family: str
    airway: str


_ALL = (
    AfterTube("room_air", "Room air", "unassisted", "none"),
    AfterTube("low_flow", "Low-flow oxygen, nasal cannula", "unassisted", "nasal_cannula"),
    AfterTube("oxygen_mask", "Oxygen by face mask", "o2_mask", "mask"),
    AfterTube("high_flow", "High flow, nasal cannula", "hfnc", "nasal_cannula"),
    AfterTube("mask_support", "Support by mask", "niv", "mask"),
)
AFTER_TUBE: Mapping[str, AfterTube] = MappingProxyType({each.code: each for each in _ALL})
"""Code to what it means, from no support to the most."""

ROOM_AIR_FIO2 = "21"
"""Percent of oxygen in room air; the one FiO2 that nobody has to set."""
