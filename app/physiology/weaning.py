"""Breathing without, or with little, help: RSBI and ROX."""

from decimal import Decimal

from app.physiology.contradictions import minute_volume_agrees
from app.physiology.display import fixed
from app.physiology.gates import adults_only, family_of, high_flow_only, own_breaths
from app.physiology.working import Inputs, Worked, unavailable, works_out

THRESHOLD = "105"
"""Yang & Tobin 1991: above it trials failed, below it they succeeded; at it nothing is said."""


@works_out("breaths/min/L", 0, adults_only, own_breaths, minute_volume_agrees)
def rsbi(take: Inputs) -> Worked:
    """Rate (/min) over tidal volume (L), in breaths/min/L.

    Only the patient's own breaths; the support they had is named beside it, since support lowers
    the number. Shown exactly 105 is "at the threshold", neither side (decision 16).
    Source: Yang & Tobin, N Engl J Med 1991.
    """
    rate = take.first_of("rr_spont", "rr")[1]
    volume = take.first_of("vt_spont", "vte", "vt")[1]
    if rate.is_zero() or volume.is_zero():
        raise unavailable("rate or tidal volume is zero")
    index = rate * 1000 / volume
    at = f"at the threshold of {THRESHOLD}" if fixed(index, 0) == THRESHOLD else ""
    return Worked(index, "; ".join(filter(None, (_support(take), at))))


@works_out("", 2, adults_only, high_flow_only)
def rox(take: Inputs) -> Decimal:
    """(SpO2 (%) over FiO2 (fraction)) over rate (/min).

    High-flow nasal oxygen only; its cut-offs depend on the hours since it began.
    Source: Roca, Am J Respir Crit Care Med 2019.
    """
    saturation, rate = take.above_zero("spo2"), take.above_zero("rr")
    return saturation * 100 / take.number("fio2") / rate


def _support(take: Inputs) -> str:
    level = take.optional("ps")
    if level is not None and level > 0:
        return f"on support {level.normalize():f} cmH2O"
    family = family_of(take)
    pressed = family is not None and (family.code.startswith("csv") or family.code == "cpap")
    return f"on {family.label}" if family is not None and pressed else ""
