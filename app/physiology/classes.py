"""Bands: the words that a number falls under. They are bands, never a diagnosis.

All are adult rules; children get no severity class in this version (decision 23).
"""

from decimal import Decimal

from app.physiology.answer import Verdict
from app.physiology.display import rounded
from app.physiology.gas_exchange import fraction, oxygen_ratio, under_ceiling
from app.physiology.gates import (
    ADULT_AGE,
    adults_only,
    arterial_if_said,
    no_membrane_lung,
    pressurised_airway,
    readable_saturation,
)
from app.physiology.working import Inputs, inapplicable, unavailable, works_out

LEAST_PEEP = Decimal(5)
BERLIN = ((Decimal(100), "severe"), (Decimal(200), "moderate"), (Decimal(300), "mild"))
SATURATION = ((Decimal(148), "severe"), (Decimal(235), "moderate"), (Decimal(315), "mild"))
"""Upper edges, which belong to their band: mmHg (Berlin 2012) and S/F (global definition 2024)."""

ADULT_RULES_OFF = "adult PBW, adult limits and adult S/F, P/F classes off; banner"
ADULT_RULES_ON = "adult rules apply"

LOWER_PEEP_ROW: dict[int, tuple[int, ...]] = {
    30: (5,),
    40: (5, 8),
    50: (8, 10),
    60: (10,),
    70: (10, 12, 14),
    80: (14,),
    90: (14, 16, 18),
}
AT_FULL_OXYGEN = (Decimal(18), Decimal(24))
"""ARDS Network card, lower-PEEP row: FiO2 % to PEEP cmH2O; 100 % goes with 18 to 24."""


@works_out("", 0, adults_only, no_membrane_lung, arterial_if_said, pressurised_airway)
def berlin_class(take: Inputs) -> Verdict:
    """mild ≤ 300, moderate ≤ 200, severe ≤ 100, else none: P/F in mmHg as displayed.

    Needs PEEP or CPAP of at least 5 cmH2O. Judged on the displayed integer (decision 16).
    Source: Berlin definition, JAMA 2012.
    """
    ratio = take.optional("pf")
    if ratio is None:
        ratio = _computed_pf(take)
    if ratio.is_zero():
        raise unavailable("P/F is zero")
    if take.first_of("peep", "peep_set")[1] < LEAST_PEEP:
        raise inapplicable("the class needs PEEP or CPAP of at least 5 cmH2O")
    return Verdict(_band(ratio, BERLIN))


@works_out("", 0, adults_only, no_membrane_lung, readable_saturation)
def sf_class(take: Inputs) -> Verdict:
    """mild ≤ 315, moderate ≤ 235, severe ≤ 148, else none: S/F as displayed.

    Needs the SpO2 too, which must be at most 97 % (decision 18). Source: global definition 2024.
    """
    saturation = take.above_zero("spo2")
    ratio = take.optional("sf")
    if ratio is None:
        if take.says("sf") or not take.says("fio2"):
            take.number("sf")
        ratio = saturation / fraction(take)
    if ratio.is_zero():
        raise unavailable("S/F is zero")
    return Verdict(_band(ratio, SATURATION))


@works_out("", 0, adults_only)
def ardsnet_lower_peep_pair(take: Inputs) -> Verdict:
    """ "on table" where FiO2 (%) and PEEP (cmH2O) stand together in the row, else "off table".

    A reference, not a target; values between two entries are off it. Only the lower-PEEP row is
    here (decision 20). Source: ARDS Network card.
    """
    oxygen = take.number("fio2")
    _, peep = take.first_of("peep", "peep_set")
    low, high = AT_FULL_OXYGEN
    on_row = low <= peep <= high if oxygen == 100 else _paired(oxygen, peep)
    return Verdict("on table" if on_row else "off table")


@works_out("", 0)
def adult_rules_on_child(take: Inputs) -> Verdict:
    """Whether adult formulas, limits and classes are in force: off under 18 years (decision 1)."""
    return Verdict(ADULT_RULES_OFF if take.number("age_y") < ADULT_AGE else ADULT_RULES_ON)


def _computed_pf(take: Inputs) -> Decimal:
    if take.says("pf") or not take.says("pao2"):
        take.number("pf")
    under_ceiling(take)
    return oxygen_ratio(take)


def _band(number: Decimal, edges: tuple[tuple[Decimal, str], ...]) -> str:
    shown = rounded(number, 0)
    return next((word for edge, word in edges if shown <= edge), "none")


def _paired(oxygen: Decimal, peep: Decimal) -> bool:
    return oxygen == int(oxygen) and peep in map(Decimal, LOWER_PEEP_ROW.get(int(oxygen), ()))
