"""What somebody sees at the bed at one moment: field code to the text that they would type.

Every field that could be charted is here; which of them a check asks for is the program's own rule
(`app.charting.uses`), applied by `checks`.
"""

from collections.abc import Mapping

from seed_demo.blood import BloodGas, saturation_of
from seed_demo.lung import Breath
from seed_demo.patient import Truth
from seed_demo.pen import PRESSURE_SD, RATE_SD, VOLUME_SHARE, Pen
from seed_demo.support import ML, Support


def monitor(truth: Truth, pen: Pen) -> dict[str, str]:
    """Saturation, circulation, temperature and, where a machine breathes, end-tidal CO2."""
    mean = pen.reading(truth.mean_pressure, 3)
    systolic = mean + pen.reading(38, 3, low=20)
    diastolic = mean - pen.reading(18, 2, low=8)
    seen = {
        "spo2": str(saturation(truth, pen)),
        "heart_rate": str(pen.reading(truth.heart_rate, 4)),
        "sbp": str(systolic),
        "dbp": str(diastolic),
        "map": str(mean),
        "temp_c": pen.tenths(truth.temperature, 0.15),
    }
    if truth.breath is not None:
        end_tidal = pen.reading(truth.end_tidal, 1.0, high=int(truth.gas.paco2))
        seen |= {"etco2_mmhg": str(end_tidal), "etco2_waveform": "normal"}
    return seen


def saturation(truth: Truth, pen: Pen) -> int:
    """SpO2 as the oximeter shows it."""
    return pen.reading(truth.gas.saturation, 0.7, low=60, high=100)


def breathing(truth: Truth, support: Support, pen: Pen) -> dict[str, str]:
    """Rate, volumes and pressures without a hold."""
    set_rate = round(support.number("resp_rate_set"))
    rate = max(set_rate, pen.reading(truth.rate, RATE_SD if truth.triggered else 0.0))
    if truth.breath is None:
        return {"resp_rate_obs": str(rate)}
    volume = truth.breath.volume * ML * (1 + pen.between(-VOLUME_SHARE, VOLUME_SHARE))
    minute = volume * rate / ML * (1 + pen.between(-0.04, 0.04))
    return {
        "resp_rate_obs": str(rate),
        "tidal_volume_obs": str(round(volume)),
        "minute_vent_obs": f"{minute:.1f}",
        "exp_flow_to_zero": "no" if truth.breath.total_peep > _set_peep(support) + 2 else "yes",
        **_pressures(truth.breath, support, pen),
    }


def _set_peep(support: Support) -> float:
    return support.number("peep_set")


def _pressures(breath: Breath, support: Support, pen: Pen) -> dict[str, str]:
    floor = round(_set_peep(support)) + 1
    peak = pen.reading(breath.peak, PRESSURE_SD, low=floor + 2)
    mean = pen.reading(breath.mean, PRESSURE_SD, low=floor, high=peak - 1)
    return {"peak_inspiratory_pressure_obs": str(peak), "mean_airway_pressure_obs": str(mean)}


def hold(truth: Truth, support: Support, pen: Pen, peak: int, *, passive: bool) -> dict[str, str]:
    """Plateau and total PEEP; empty without a machine."""
    if truth.breath is None:
        return {}
    floor = round(_set_peep(support))
    total = pen.reading(truth.breath.total_peep, PRESSURE_SD / 2, low=floor)
    plateau = pen.reading(truth.breath.plateau, PRESSURE_SD, low=total + 2, high=max(peak, total))
    return {
        "plateau_pressure_obs": str(plateau),
        "hold_passive": "yes" if passive else "no",
        "peep_total": str(total),
    }


def sample(gas: BloodGas, support: Support, specimen: str, pen: Pen) -> dict[str, str]:
    """A blood gas slip. Venous and capillary samples differ from arterial ones by typical amounts
    (engineering judgement)."""
    ph, paco2, oxygen = _BESIDE_ARTERIAL[specimen]
    paco2, pao2 = gas.paco2 + paco2, gas.pao2 * oxygen
    ph = round(gas.ph + ph, 2)
    return {
        "gas_specimen": specimen,
        "fio2_at_sample": support.settings["fio2_set"],
        "ph": f"{ph:.2f}",
        "paco2": str(round(paco2)),
        "pao2": str(round(pao2)),
        "sao2": f"{saturation_of(pao2):.1f}",
        "hco3": pen.tenths(0.03 * paco2 * 10 ** (ph - 6.1), 0.2),
        "lactate": pen.tenths(1.3, 0.15),
        "hemoglobin": pen.tenths(9.8, 0.1),
    }


_BESIDE_ARTERIAL = {
    "arterial": (0.0, 0.0, 1.0),
    "capillary": (0.0, 1.0, 0.7),
    "venous": (-0.03, 6.0, 0.48),
}
"""Specimen to what is added to pH and PaCO2, and the share of PaO2 that is left."""


def alarms(seen: Mapping[str, str], support: Support) -> dict[str, str]:
    """Alarm limits set around what the machine shows at the start of a shift."""
    if "minute_vent_obs" not in seen:
        return {"alarm_spo2_low": "86"}
    peak, minute = int(seen["peak_inspiratory_pressure_obs"]), float(seen["minute_vent_obs"])
    rate = int(seen["resp_rate_obs"])
    return {
        "alarm_pressure_high": str(5 * ((peak + 13) // 5)),
        "alarm_minute_vent_low": f"{0.6 * minute:.1f}",
        "alarm_minute_vent_high": f"{1.6 * minute:.1f}",
        "alarm_resp_rate_high": str(max(30, rate + 10)),
        "alarm_peep_low": str(max(2, round(_set_peep(support)) - 3)),
        "alarm_apnea_s": "20",
        "alarm_spo2_low": "86",
    }


SWEEP = {
    "safe_bag_mask": "yes",
    "safe_suction": "yes",
    "safe_oxygen": "yes",
    "safe_power_outlet": "yes",
    "safe_spare_airway": "yes",
    "safe_alarm_audible": "yes",
}
"""The rescue gear at the start of a shift, as it should be; a story may say otherwise."""
