"""Gas exchange: from ventilation, oxygen and shunt to the blood gas that a sample would show.

The alveolar gas equation, Severinghaus's curve and Henderson–Hasselbalch are the program's own
(`app.physiology`); the shunt equation and the constants around it are textbook (from memory).
"""

from decimal import Decimal
from functools import cache

from msgspec import Struct

from app.physiology.acid_base import hh_ph
from app.physiology.answer import Answer, Value
from app.physiology.gas_exchange import alveolar_po2
from app.physiology.saturation import severinghaus_so2

CO2_FACTOR = 0.863
"""mmHg · L/min BTPS per mL/min STPD: PaCO2 = 0.863 · VCO2 / VA (textbook)."""

BOUND = 1.34
"""mL of oxygen that a gram of haemoglobin carries (textbooks print 1.34 to 1.39)."""

DISSOLVED = 0.003
"""mL of oxygen per dL of plasma and mmHg (textbook)."""

EXTRACTION = 5.0
"""mL/dL between arterial and mixed venous content at rest (textbook)."""

TENTHS = 10


class BloodGas(Struct, frozen=True):
    """An arterial sample: pH, mmHg, mmHg, percent, mmol/L."""

    ph: float
    paco2: float
    pao2: float
    saturation: float
    bicarbonate: float


class Exchange(Struct, frozen=True):
    """What decides a patient's blood gas beside the ventilation: a share of the cardiac output
    that passes no air, a share of each breath that meets no blood, and what the blood brings."""

    shunt: float
    dead_space: float
    co2_production: float
    """mL/min STPD"""
    bicarbonate: float
    hemoglobin: float


def alveolar_ventilation(volume: float, rate: float, dead_space: float) -> float:
    """L/min that reach blood; volume in litres, dead space as a share of each breath."""
    return volume * rate * (1 - dead_space)


def arterial_co2(production: float, alveolar: float) -> float:
    """PaCO2, mmHg, in a steady state."""
    return CO2_FACTOR * production / alveolar


def oxygen_content(po2: float, hemoglobin: float) -> float:
    """mL of oxygen in a decilitre: bound and dissolved."""
    return BOUND * hemoglobin * saturation_of(po2) / 100 + DISSOLVED * po2


def saturation_of(po2: float) -> float:
    """Percent by Severinghaus, for a PO2 read to a tenth of a mmHg."""
    return _saturation(max(1, round(po2 * TENTHS)))


@cache
def _saturation(tenths: int) -> float:
    return _number(severinghaus_so2({"po2": Decimal(tenths) / TENTHS}))


def arterial_po2(alveolar: float, shunt: float, hemoglobin: float) -> float:
    """PaO2, mmHg, when a share of the blood passes no air.

    Qs/Qt = (Cc′ − Ca) / (Cc′ − Cv) with Cv = Ca − extraction gives
    Ca = Cc′ − extraction · shunt / (1 − shunt); the pressure is looked for by halving.
    """
    wanted = oxygen_content(alveolar, hemoglobin) - EXTRACTION * shunt / (1 - shunt)
    low, high = 1, max(2, round(alveolar * TENTHS))
    while high - low > 1:
        middle = (low + high) // 2
        if oxygen_content(middle / TENTHS, hemoglobin) < wanted:
            low = middle
        else:
            high = middle
    return high / TENTHS


def alveolar_oxygen(fio2_percent: float, paco2: float) -> float:
    """PAO2, mmHg, by the full alveolar gas equation at sea level (decision 17)."""
    given = {"fio2": Decimal(repr(fio2_percent)), "paco2": Decimal(repr(paco2))}
    return _number(alveolar_po2(given))


def blood_gas(exchange: Exchange, fio2_percent: float, alveolar: float) -> BloodGas:
    """The sample that this much alveolar ventilation (L/min) and oxygen give, in a steady state."""
    paco2 = arterial_co2(exchange.co2_production, alveolar)
    pao2 = arterial_po2(alveolar_oxygen(fio2_percent, paco2), exchange.shunt, exchange.hemoglobin)
    given = {"hco3": Decimal(repr(exchange.bicarbonate)), "paco2": Decimal(repr(paco2))}
    return BloodGas(
        ph=_number(hh_ph(given)),
        paco2=paco2,
        pao2=pao2,
        saturation=saturation_of(pao2),
        bicarbonate=exchange.bicarbonate,
    )


def _number(answer: Answer) -> float:
    if not isinstance(answer, Value):
        raise ValueError(f"the simulated patient has left what can be worked out: {answer}")
    return float(answer.number)
