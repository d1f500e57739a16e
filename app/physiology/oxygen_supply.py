"""How long a cylinder lasts. Every rounding and every guess errs towards more oxygen."""

from decimal import Decimal

from app.physiology.display import whole_down
from app.physiology.working import Inputs, Worked, asked, unavailable, works_out

AIR = Decimal("0.21")
OVERFULL = Decimal("1.1")
"""A warm cylinder may read a little over its full pressure; more is a slip (engineering judgement).
"""


@works_out("min", 0)
def cylinder_minutes(take: Inputs) -> Worked:
    """Minutes: usable gas in litres over the flow in L/min, rounded down.

    Usable gas is printed contents × (gauge − reserve) / full pressure, or (gauge − reserve) × a
    litres-per-psi factor (decision 19). The reserve must be said, even as 0. The flow is what is
    typed, else what a ventilator uses (`cylinder_flow_blender`). Source: tank-factor how-to pages.
    """
    if take.optional("factor") is None and take.optional("contents") is not None:
        full = take.above_zero("full_pressure")
        if take.number("pressure") > full * OVERFULL:
            raise asked("the gauge is above the full pressure: in which unit?")
        share = _usable_pressure(take) / full
        return _lasts(take.above_zero("contents") * share, take, "printed contents")
    return _lasts(take.above_zero("factor") * _usable_pressure(take), take, "litres per psi")


@works_out("min", 0)
def cylinder_minutes_bar(take: Inputs) -> Worked:
    """Minutes: water capacity (L) × (gauge − reserve) in bar over the flow in L/min, rounded down.

    An ideal gas; the reserve must be said, even as 0. Arithmetic (decision 19).
    """
    litres = take.above_zero("water_capacity") * _usable_pressure(take)
    return _lasts(litres, take, "water capacity × bar")


@works_out("L/min", 1)
def cylinder_flow_blender(take: Inputs) -> Worked:
    """Oxygen that a ventilator draws: minute volume × (FiO2 − 0.21)/0.79 + bias flow, L/min.

    The bias flow is the device's own: enter it. Mass balance; decision 19.
    """
    bias = take.optional("bias_flow")
    return Worked(
        _drawn(take) + (bias or Decimal(0)), "" if bias is not None else "bias flow not counted"
    )


def _drawn(take: Inputs) -> Decimal:
    return take.above_zero("ve") * (take.number("fio2") / 100 - AIR) / (1 - AIR)


def _usable_pressure(take: Inputs) -> Decimal:
    usable = take.number("pressure") - take.number("residual")
    if usable <= 0:
        raise unavailable("the gauge is at or below the reserve: nothing left to use")
    return usable


def _lasts(litres: Decimal, take: Inputs, basis: str) -> Worked:
    flow = take.optional("flow")
    if flow is None and take.optional("ve") is not None:
        flow = _drawn(take) + take.number("bias_flow")
    else:
        flow = take.above_zero("flow")
    if flow.is_zero():
        raise unavailable("no oxygen is drawn at this FiO2")
    minutes = litres / flow
    return Worked(minutes, f"{basis}; rounded down", shown=whole_down(minutes))
