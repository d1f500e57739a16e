"""An order as a form sends it: one of the offered bands, or a band of its own."""

from datetime import datetime
from decimal import Decimal

from app.actions.order_targets import NewOrder, OrderRefused
from app.charting.typed_sheet import SheetRead


def order_of(typed: SheetRead, ordered_at: datetime) -> NewOrder:
    """The order. Raises OrderRefused for an offered SpO2 band together with one's own."""
    low, high = typed.number("spo2_target_low"), typed.number("spo2_target_high")
    band = typed.word("spo2_band")
    if band:
        if low is not None or high is not None:
            raise OrderRefused("SpO2: choose a band or type your own, not both.")
        low, high = (Decimal(end) for end in band.split("-"))
    return NewOrder(
        ordered_by=typed.word("ordered_by"),
        ordered_at=ordered_at,
        spo2_low=low,
        spo2_high=high,
        pao2_low=typed.number("pao2_target_low"),
        pao2_high=typed.number("pao2_target_high"),
        ph_low=typed.number("ph_target_low"),
        ph_high=typed.number("ph_target_high"),
        paco2_low=typed.number("paco2_target_low"),
        paco2_high=typed.number("paco2_target_high"),
        tidal_volume_ml_kg=typed.number("volume_target"),
        why=typed.word("why"),
    )
