"""What was ordered against what is set and seen: a difference is shown, never silently charted.

The order stays the order: nothing of it becomes a reading. Bounds are engineering judgement.
"""

from decimal import ROUND_HALF_UP, Decimal

from app.charting.cross_checks.finding import Findings, Seen, told
from app.charting.unit_words import spelled

SET_VOLUME, ORDERED_VOLUME = "tidal_volume_set", "tidal_volume_target_ml_kg"
SPO2, OXYGEN = "spo2", "fio2_set"

VOLUME_APART = Decimal("0.2")
"""mL/kg by which a set volume may lie off the ordered one: machines are set in steps of 10 mL."""


def volume_off_order(seen: Seen) -> Findings:
    """Noted: a set volume that is not the ordered one per kg, as displayed (decision 3).

    The row's own word on the order comes before the one on file. Silent without a predicted weight.
    """
    volume, ordered = seen.set_number(SET_VOLUME), _ordered_volume(seen)
    weight = seen.context.pbw_kg
    if volume is None or ordered is None or not weight:
        return
    per_kg = (volume / weight).quantize(Decimal("0.1"), ROUND_HALF_UP)
    if abs(per_kg - ordered) <= VOLUME_APART:
        return
    wanted = (ordered * weight).quantize(Decimal(1), ROUND_HALF_UP)
    sentence = (
        f"Differs from the order{_by(seen)}: {spelled(ordered)} mL/kg is {wanted} mL, "
        f"{told(SET_VOLUME, volume)} is {per_kg} mL/kg."
    )
    yield seen.note("volume_off_order", (SET_VOLUME, ORDERED_VOLUME), sentence)


def _ordered_volume(seen: Seen) -> Decimal | None:
    said = seen.number(ORDERED_VOLUME)
    return seen.context.targets.tidal_volume_ml_kg if said is None else said


def saturation_off_order(seen: Seen) -> Findings:
    """Noted: an SpO2 outside the ordered band, with the oxygen that gives it (decision 27)."""
    targets, saturation = seen.context.targets, seen.number(SPO2)
    low, high = targets.spo2_low, targets.spo2_high
    if saturation is None or low is None or high is None or low <= saturation <= high:
        return
    side = "below" if saturation < low else "above"
    oxygen = seen.set_number(OXYGEN)
    on = "" if oxygen is None else f", on {told(OXYGEN, oxygen)}"
    sentence = (
        f"{told(SPO2, saturation)} is {side} the ordered {spelled(low)} to "
        f"{spelled(high)} %{_by(seen)}{on}."
    )
    yield seen.note("saturation_off_order", (SPO2, OXYGEN), sentence)


def _by(seen: Seen) -> str:
    by = seen.context.targets.ordered_by
    return f" ({by})" if by else ""
