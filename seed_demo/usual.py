"""What stands at an ordinary bed, for stories to say only what is not ordinary there."""

from collections.abc import Mapping

SEDATED: Mapping[str, str] = {
    "work_of_breathing": "normal",
    "rass": "-3",
    "rass_target": "-3",
    "nmb": "no",
    "synchrony": "synchronous",
    "position": "semi_recumbent",
    "head_of_bed_deg": "30",
    "breath_sounds": "clear",
    "secretions_amount": "small",
    "secretions_colour": "white",
    "secretions_consistency": "thin",
    "cough": "weak",
    "securement": "tube holder",
    "airway_skin": "intact",
    "cuff_state": "up",
    "leak_audible": "no",
    "humidifier": "heated",
    "humidifier_temp_c": "37.0",
    "orders_match": "yes",
}
"""An intubated adult, asleep and quiet."""

AWAKE: Mapping[str, str] = {
    **SEDATED,
    "rass": "0",
    "rass_target": "0",
    "cough": "strong",
    "head_of_bed_deg": "40",
}
"""An adult who is awake on support."""

SETTLED: Mapping[str, str] = {"trigger_flow_set": "2"}
"""Settings that stand alike at most beds."""


def volume_control(
    volume: int, rate: int, peep: int, fio2: int, flow: int = 60
) -> tuple[str, Mapping[str, str]]:
    """Family and settings of volume control at a constant flow."""
    return "ac_vc", {
        "fio2_set": str(fio2),
        "peep_set": str(peep),
        "tidal_volume_set": str(volume),
        "resp_rate_set": str(rate),
        "flow_rate_set": str(flow),
        "flow_pattern": "constant",
        **SETTLED,
    }


def pressure_control(
    pressure: int, time: str, rate: int, peep: int, fio2: int
) -> tuple[str, Mapping[str, str]]:
    """Family and settings of pressure control; pressure above PEEP."""
    return "ac_pc", {
        "fio2_set": str(fio2),
        "peep_set": str(peep),
        "resp_rate_set": str(rate),
        "pressure_control_set": str(pressure),
        "inspiratory_time_set": time,
        "rise_time_set": "0.1",
        **SETTLED,
    }


def volume_targeted(
    volume: int, time: str, rate: int, peep: int, fio2: int
) -> tuple[str, Mapping[str, str]]:
    """Family and settings of volume-targeted pressure control."""
    return "ac_vtpc", {
        "fio2_set": str(fio2),
        "peep_set": str(peep),
        "tidal_volume_set": str(volume),
        "resp_rate_set": str(rate),
        "inspiratory_time_set": time,
        "pressure_limit_set": "35",
        **SETTLED,
    }


def pressure_support(support: int, peep: int, fio2: int) -> tuple[str, Mapping[str, str]]:
    """Family and settings of pressure support."""
    return "csv_ps", {
        "fio2_set": str(fio2),
        "peep_set": str(peep),
        "pressure_support_set": str(support),
        "cycle_off_set": "25",
        "apnea_time_set": "20",
        **SETTLED,
    }


def high_flow(flow: int, fio2: int) -> tuple[str, Mapping[str, str]]:
    """Family and settings of high-flow oxygen by nasal cannula."""
    return "hfnc", {"fio2_set": str(fio2), "lpm_set": str(flow), "hfnc_temp_c": "34"}
