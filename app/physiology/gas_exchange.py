"""Oxygen into the blood and carbon dioxide out of it."""

from decimal import Decimal

from app.physiology.body_size import predicted_weight
from app.physiology.contradictions import mean_within_breath, minute_volume_agrees
from app.physiology.display import fixed
from app.physiology.gates import (
    adults_only,
    arterial,
    arterial_if_said,
    no_effort,
    no_membrane_lung,
    no_other_specimen,
    no_support_breaths,
    pressurised_airway,
    readable_saturation,
)
from app.physiology.ventilation import breath_volume_per_minute
from app.physiology.working import Inputs, Worked, asked, unavailable, works_out

SEA_LEVEL = "760"
WATER_VAPOUR = "47"
EXCHANGE_RATIO = "0.8"
CEILING_TOLERANCE = Decimal(20)
"""mmHg by which a PaO2 may pass the alveolar one before the gas or its FiO2 is doubted (engineering
judgement; rounding, temperature, calibration)."""

_GAS = (no_membrane_lung, arterial_if_said)


def fraction(take: Inputs) -> Decimal:
    """FiO2 as a fraction, from per cent."""
    return take.number("fio2") / 100


def inspired(take: Inputs) -> Decimal:
    """Inspired PO2, mmHg: FiO2 × (barometric − water vapour pressure)."""
    dry = take.number_or("pb", SEA_LEVEL) - take.number_or("ph2o", WATER_VAPOUR)
    return fraction(take) * dry


def full_alveolar(take: Inputs) -> Decimal:
    """Alveolar PO2 by the full form, mmHg; the sum of decision 17."""
    ratio, paco2 = _exchange_ratio(take), take.number("paco2")
    return inspired(take) - paco2 / ratio + paco2 * fraction(take) * (1 - ratio) / ratio


def under_ceiling(take: Inputs) -> None:
    """Asks where PaO2 is more than 20 mmHg above what its FiO2 allows (decision 25).

    Without a PaCO2 the ceiling is the inspired PO2, which nothing can pass.
    """
    pao2, fio2 = take.optional("pao2"), take.optional("fio2")
    if pao2 is None or fio2 is None:
        return
    known = take.optional("paco2") is not None
    ceiling = full_alveolar(take) if known else inspired(take)
    if pao2 > ceiling + CEILING_TOLERANCE:
        told = f"PaO2 {fixed(pao2, 0)} mmHg is above what FiO2 {fio2.normalize():f} % allows"
        raise asked(f"{told} (about {fixed(ceiling, 0)}): FiO2 at the sample?")


def oxygen_ratio(take: Inputs) -> Decimal:
    """PaO2 over FiO2 as a fraction, mmHg."""
    return take.number("pao2") / fraction(take)


@works_out("mmHg", 0, no_membrane_lung, no_other_specimen, under_ceiling, arterial)
def pf_ratio(take: Inputs) -> Decimal:
    """PaO2 (mmHg) over FiO2 (fraction), in mmHg.

    Arterial samples only, with the FiO2 at the sample; not on extracorporeal support; a PaO2 above
    what the FiO2 allows is asked about (decision 25). Source: Berlin definition, JAMA 2012.
    """
    return oxygen_ratio(take)


@works_out("mmHg", 0, *_GAS, under_ceiling)
def pf_altitude_corrected(take: Inputs) -> Decimal:
    """P/F × barometric pressure / 760, mmHg: for places above 1000 m.

    Needs the barometric pressure. Source: Berlin definition, JAMA 2012 (table copies).
    """
    return oxygen_ratio(take) * take.number("pb") / 760


@works_out("", 0, no_membrane_lung, readable_saturation)
def sf_ratio(take: Inputs) -> Decimal:
    """SpO2 (%) over FiO2 (fraction).

    Nothing above an SpO2 of 97 % (decision 18). Source: Rice, Chest 2007; global definition 2024.
    """
    return take.above_zero("spo2") / fraction(take)


@works_out("", 1, pressurised_airway, *_GAS, under_ceiling, mean_within_breath)
def oxygenation_index(take: Inputs) -> Decimal:
    """Mean airway pressure (cmH2O) × FiO2 (fraction) × 100 / PaO2 (mmHg).

    Needs a measured mean pressure of the same time. Source: BJA Education 2022.
    """
    return take.above_zero("pmean") * take.number("fio2") / take.number("pao2")


@works_out("", 1, pressurised_airway, no_membrane_lung, readable_saturation, mean_within_breath)
def oxygen_saturation_index(take: Inputs) -> Decimal:
    """Mean airway pressure (cmH2O) × FiO2 (fraction) × 100 / SpO2 (%).

    Nothing above an SpO2 of 97 %. Source: BJA Education 2022; PALICC-2 for the 97 %.
    """
    saturation = take.above_zero("spo2")
    return take.above_zero("pmean") * take.number("fio2") / saturation


@works_out(
    "",
    2,
    adults_only,
    no_support_breaths,
    no_effort,
    no_membrane_lung,
    arterial_if_said,
    minute_volume_agrees,
)
def ventilatory_ratio(take: Inputs) -> Worked:
    """Minute volume (mL/min) × PaCO2 (mmHg) / (PBW (kg) × 100 × 37.5); 1 is as expected in health.

    Machine breaths without effort seen; not on extracorporeal support. Source: Sinha 2019.
    """
    volume, basis = breath_volume_per_minute(take)
    expected = predicted_weight(take) * 100 * Decimal("37.5")
    return Worked(volume * 1000 * take.number("paco2") / expected, basis)


@works_out("mmHg", 0, arterial_if_said)
def alveolar_po2(take: Inputs) -> Worked:
    """FiO2 × (Pb − 47) − PaCO2/R + PaCO2 × FiO2 × (1 − R)/R, mmHg; R 0.8: the full form.

    From an arterial PaCO2. Pb is the site's; 760 where none is said. Decision 17.
    Source: physiology notes (read).
    """
    return Worked(_positive(full_alveolar(take)), "full form")


@works_out("mmHg", 0)
def alveolar_po2_simplified(take: Inputs) -> Worked:
    """FiO2 × (Pb − 47) − PaCO2/R, mmHg: up to 10 mmHg below the full form.

    For checking against printed examples. Source: several teaching pages.
    """
    return Worked(_positive(_simplified(take)), "simplified form")


@works_out("mmHg", 0)
def alveolar_po2_by_factor(take: Inputs) -> Worked:
    """FiO2 × (Pb − 47) − 1.2 × PaCO2, mmHg: a printed convention (1.2 for 1/0.83).

    For checking against printed examples. Source: college calculation sheet.
    """
    reached = inspired(take) - Decimal("1.2") * take.number("paco2")
    return Worked(_positive(reached), "factor 1.2")


@works_out("mmHg", 0, *_GAS)
def aa_gradient(take: Inputs) -> Worked:
    """Alveolar PO2 (full form) − PaO2, mmHg.

    A negative one is asked about: impossible gas, or another FiO2 at the sample (decision 17).
    """
    return Worked(_gradient(full_alveolar(take), take), "full form")


@works_out("mmHg", 0, *_GAS)
def aa_gradient_simplified(take: Inputs) -> Worked:
    """Alveolar PO2 (simplified form) − PaO2, mmHg; for checking against printed examples.

    A negative one is asked about. Source: textbook workbook, answer key.
    """
    return Worked(_gradient(_simplified(take), take), "simplified form")


def _simplified(take: Inputs) -> Decimal:
    return inspired(take) - take.number("paco2") / _exchange_ratio(take)


def _exchange_ratio(take: Inputs) -> Decimal:
    ratio = take.number_or("R", EXCHANGE_RATIO)
    if ratio.is_zero():
        raise unavailable("respiratory exchange ratio is zero")
    return ratio


def _positive(alveolar: Decimal) -> Decimal:
    if alveolar <= 0:
        raise asked(f"alveolar PO2 would be {fixed(alveolar, 0)} mmHg: FiO2, PaCO2 or pressure?")
    return alveolar


def _gradient(alveolar: Decimal, take: Inputs) -> Decimal:
    gradient = alveolar - take.number("pao2")
    if gradient < 0:
        raise asked(f"gradient {fixed(gradient, 0)} mmHg: impossible gas, or FiO2 at the sample?")
    return gradient
