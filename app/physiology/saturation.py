"""Severinghaus's oxygen dissociation curve and its exact inverse: pH 7.4, 37 °C, an estimate only.

Never shown as a measured saturation. The equation, not the measured table, is meant: they differ by
up to 0.55 points.
"""

from decimal import Decimal

from app.physiology.working import Inputs, unavailable, works_out

_SLOPE, _LINEAR = Decimal(23400), Decimal(150)
_CUBED = Decimal(125000)
_THIRD = 1 / Decimal(3)


@works_out("%", 1)
def severinghaus_so2(take: Inputs) -> Decimal:
    """Saturation, per cent: 100 / (23400 / (P³ + 150 P) + 1), P the PO2 in mmHg.

    A PO2 of 0 gives no value. Source: Severinghaus, J Appl Physiol 1979.
    """
    pressure = take.above_zero("po2")
    return 100 / (_SLOPE / (pressure**3 + _LINEAR * pressure) + 1)


@works_out("mmHg", 1)
def severinghaus_po2_exact_inverse(take: Inputs) -> Decimal:
    """PO2 in mmHg of a saturation S: with k = 11700 × S/(1 − S) and r = √(125000 + k²),
    (r + k)^⅓ − (r − k)^⅓.

    0 % and 100 % give no value: the curve reaches neither. Source: Ellis, J Appl Physiol 1989.
    """
    share = take.above_zero("so2") / 100
    if share >= 1:
        raise unavailable("the curve never reaches 100 %")
    k = _SLOPE / 2 * share / (1 - share)
    root = (_CUBED + k * k).sqrt()
    # r − k would lose its digits near 100 %, so it is written as 125000 / (r + k)
    return (root + k) ** _THIRD - (_CUBED / (root + k)) ** _THIRD
