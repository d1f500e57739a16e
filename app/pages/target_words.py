"""What was ordered, in words: bands and the volume, who gave the order."""

from collections.abc import Iterator

from app.charting.facts import Targets
from app.charting.fields.intake import ASKED_ONCE
from app.charting.shown import shown

_BANDS = (
    ("SpO2", "spo2", "spo2_target_low", "%"),
    ("PaO2", "pao2", "pao2_target_low", "mmHg"),
    ("pH", "ph", "ph_target_low", ""),
    ("PaCO2", "paco2", "paco2_target_low", "mmHg"),
)


def targets_words(ordered: Targets) -> str:
    """The order in words, "SpO2 88–95 %, 6 mL/kg"; empty where nothing is ordered."""
    return ", ".join(_parts(ordered))


def _parts(ordered: Targets) -> Iterator[str]:
    for name, band, code, unit in _BANDS:
        low, high = getattr(ordered, f"{band}_low"), getattr(ordered, f"{band}_high")
        if low is not None and high is not None:
            known = ASKED_ONCE[code]
            yield f"{name} {shown(known, low)}–{shown(known, high)} {unit}".rstrip()
    if ordered.tidal_volume_ml_kg is not None:
        yield f"{shown(ASKED_ONCE['volume_target'], ordered.tidal_volume_ml_kg)} mL/kg"


def ordered_words(ordered: Targets) -> str:
    """The whole line of a bed page: what holds, and by whom; empty where nothing is ordered."""
    words = targets_words(ordered)
    return f"{words}, by {ordered.ordered_by or 'nobody named'}" if words else ""
