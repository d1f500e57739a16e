"""Tidal volumes that belong to a predicted body weight, from 4 to 8 mL/kg."""

from decimal import Decimal

from app.physiology.display import fixed

PER_KG = (4, 5, 6, 7, 8)
"""mL/kg: the span of the ATS/ESICM/SCCM guideline 2017 and of the ARDS Network protocol."""


def volumes(weight: Decimal) -> tuple[tuple[int, str], ...]:
    """mL/kg and the tidal volume in whole mL: weight (kg) × mL/kg, half-up.

    Takes the weight before rounding, so that each volume over it shows its mL/kg again. Source of
    the span: ATS/ESICM/SCCM guideline 2017.
    """
    return tuple((per_kg, fixed(weight * per_kg, 0)) for per_kg in PER_KG)
