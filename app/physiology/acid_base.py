"""Henderson and Hasselbalch: does the bicarbonate of a gas belong to its pH and PaCO2?"""

from decimal import Decimal

from app.physiology.answer import Verdict
from app.physiology.display import rounded
from app.physiology.working import Inputs, works_out

SOLUBILITY = Decimal("0.03")
"""mmol/L per mmHg (decision 21); other texts print 0.0301 and 0.0307, up to 2.3 % apart."""

PK = Decimal("6.1")
WINDOW = "3"
"""mmol/L; wide enough for the three printed constants (decision 21)."""


@works_out("mmol/L", 1)
def hh_bicarbonate(take: Inputs) -> Decimal:
    """0.03 × PaCO2 (mmHg) × 10^(pH − 6.1), mmol/L.

    A pH without its point (735) is asked about. Source: acid-base chapter, tables 47-1 and 47-2.
    """
    return _bicarbonate(take)


@works_out("", 2)
def hh_ph(take: Inputs) -> Decimal:
    """6.1 + log10(bicarbonate / (0.03 × PaCO2 in mmHg)).

    Zero of either gives no value. Source: acid-base chapter, tables 47-1 and 47-2.
    """
    return PK + (take.above_zero("hco3") / (SOLUBILITY * take.number("paco2"))).log10()


@works_out("nmol/L", 0)
def henderson_h(take: Inputs) -> Decimal:
    """Hydrogen ions, nmol/L: 24 × PaCO2 (mmHg) / bicarbonate (mmol/L).

    Zero bicarbonate gives no value. Source: acid-base chapter, tables 47-1 and 47-2.
    """
    return 24 * take.number("paco2") / take.above_zero("hco3")


@works_out("", 0)
def hh_consistency(take: Inputs) -> Verdict:
    """ "consistent" where the charted bicarbonate is within 3 mmol/L of the computed one.

    Compared as displayed, one decimal (decisions 3 and 21); actual bicarbonate, same sample.
    """
    off = abs(rounded(_bicarbonate(take), 1) - take.number("hco3"))
    window = take.number_or("window", WINDOW)
    basis = f"off by {rounded(off, 1)} mmol/L, window {window.normalize():f}"
    return Verdict("inconsistent" if off > window else "consistent", basis=basis)


def _bicarbonate(take: Inputs) -> Decimal:
    return SOLUBILITY * take.number("paco2") * Decimal(10) ** (take.number("ph") - PK)
