"""The tables of settings and measured fields, one line of each kind for every mode family.

Sources: the trade's texts (from memory); holds under effort PMC7385937; two pressure levels Respir
Res 2022;23:101; which volumes a leak spoils and what is asked at each check: engineering judgement
on the minimum set of the AARC patient-ventilator assessment guideline, Respir Care 2024;69(8):1042.
"""

from app.charting.field import Use

Uses = dict[str, Use]


def _table(required: str = "", optional: str = "", tagged: str = "") -> Uses:
    return (
        dict.fromkeys(tagged.split(), Use.TAGGED)
        | dict.fromkeys(optional.split(), Use.OPTIONAL)
        | dict.fromkeys(required.split(), Use.REQUIRED)
    )


_BASE = "fio2_set peep_set "
_TRIGGER = "trigger_flow_set "
_APNOEA = "apnea_time_set apnea_backup_rate_set "
_SIMV_MORE = "trigger_pressure_set cycle_off_set pressure_limit_set rise_time_set " + _APNOEA
_VOLUME_MORE = "inspiratory_time_set flow_pattern inspiratory_pause_set "
_TWO_LEVELS = "fio2_set pressure_high_set pressure_low_set time_high_set time_low_set"
_TWO_LEVELS_MORE = "resp_rate_set pressure_support_set trigger_flow_set trigger_pressure_set "

SETTINGS: dict[str, Uses] = {
    "ac_vc": _table(
        _BASE + _TRIGGER + "tidal_volume_set resp_rate_set flow_rate_set",
        _VOLUME_MORE + "trigger_pressure_set pressure_limit_set",
    ),
    "ac_pc": _table(
        _BASE + _TRIGGER + "resp_rate_set pressure_control_set inspiratory_time_set",
        "trigger_pressure_set pressure_limit_set rise_time_set",
    ),
    "ac_vtpc": _table(
        _BASE + _TRIGGER + "tidal_volume_set resp_rate_set inspiratory_time_set pressure_limit_set",
        "trigger_pressure_set rise_time_set",
    ),
    "simv_vc": _table(
        _BASE + _TRIGGER + "tidal_volume_set resp_rate_set flow_rate_set pressure_support_set",
        _VOLUME_MORE + _SIMV_MORE,
    ),
    "simv_pc": _table(
        _BASE
        + _TRIGGER
        + "resp_rate_set pressure_control_set inspiratory_time_set pressure_support_set",
        _SIMV_MORE,
    ),
    "simv_vtpc": _table(
        _BASE
        + _TRIGGER
        + "tidal_volume_set resp_rate_set inspiratory_time_set pressure_support_set",
        _SIMV_MORE,
    ),
    "csv_ps": _table(
        _BASE + _TRIGGER + "pressure_support_set cycle_off_set apnea_time_set",
        "trigger_pressure_set rise_time_set pressure_limit_set apnea_backup_rate_set",
    ),
    "csv_vtps": _table(
        _BASE + _TRIGGER + "tidal_volume_set cycle_off_set apnea_time_set",
        "trigger_pressure_set rise_time_set pressure_limit_set apnea_backup_rate_set",
    ),
    "csv_prop": _table(
        _BASE + _TRIGGER + "apnea_time_set",
        "trigger_pressure_set cycle_off_set pressure_limit_set apnea_backup_rate_set",
    ),
    "cpap": _table(
        _BASE + "apnea_time_set",
        "trigger_flow_set trigger_pressure_set apnea_backup_rate_set",
    ),
    "bilevel": _table(_TWO_LEVELS, _TWO_LEVELS_MORE + _APNOEA),
    "aprv": _table(_TWO_LEVELS, _TWO_LEVELS_MORE + _APNOEA),
    "niv": _table(
        _BASE + "ipap_set",
        "tidal_volume_set resp_rate_set pressure_support_set inspiratory_time_set rise_time_set "
        "trigger_flow_set trigger_pressure_set cycle_off_set " + _APNOEA,
    ),
    "hfnc": _table("fio2_set lpm_set", "hfnc_temp_c"),
    "o2_mask": _table("fio2_set", "lpm_set"),
    "unassisted": _table("fio2_set", "lpm_set"),
    "hfov": _table("fio2_set", "resp_rate_set pressure_limit_set"),
    "manual": _table("", "fio2_set peep_set lpm_set"),
    "standby": _table("", "fio2_set peep_set"),
    "other": _table(
        "fio2_set",
        "peep_set ipap_set tidal_volume_set resp_rate_set pressure_control_set "
        "pressure_support_set flow_rate_set rise_time_set trigger_flow_set trigger_pressure_set "
        "cycle_off_set pressure_limit_set " + _VOLUME_MORE + _APNOEA,
    ),
}

_VOLUMES = "resp_rate_obs tidal_volume_obs minute_vent_obs "
_PEAK = "peak_inspiratory_pressure_obs "
_MEAN = "mean_airway_pressure_obs peep_obs "
_HOLD = "plateau_pressure_obs hold_passive peep_total "
_STRENGTH = "p01_cmh2o mip_cmh2o vital_capacity_ml "
_SPLIT = "resp_rate_spont_obs tidal_volume_spont_obs "

_MANDATORY = _table(
    _VOLUMES + _PEAK + "plateau_pressure_obs peep_total",
    _MEAN + "hold_passive exp_flow_to_zero leak_percent mip_cmh2o",
    "p01_cmh2o vital_capacity_ml",
)
_MIXED = _table(
    _VOLUMES + _PEAK,
    _MEAN + _HOLD + _SPLIT + "exp_flow_to_zero leak_percent",
    _STRENGTH,
)
_SUPPORT = _table(
    _VOLUMES,
    _PEAK + _MEAN + _STRENGTH + "exp_flow_to_zero leak_percent",
    "plateau_pressure_obs hold_passive",
)
_TWO_LEVEL = _table(
    "resp_rate_obs minute_vent_obs",
    _PEAK + _MEAN + _SPLIT + "exp_flow_to_zero leak_percent",
    "tidal_volume_obs peep_total p01_cmh2o mip_cmh2o etco2_mmhg etco2_waveform",
)
_MASK = _table(
    "resp_rate_obs",
    "leak_percent leak_lpm peep_obs",
    "tidal_volume_obs minute_vent_obs mean_airway_pressure_obs etco2_mmhg etco2_waveform " + _PEAK,
)
_OPEN = _table("resp_rate_obs", "", "etco2_mmhg etco2_waveform")
_NOTHING = _table() | dict.fromkeys(("etco2_mmhg", "etco2_waveform"), Use.HIDDEN)

MEASURED: dict[str, Uses] = {
    "ac_vc": _MANDATORY,
    "ac_pc": _MANDATORY,
    "ac_vtpc": _MANDATORY,
    "simv_vc": _MIXED,
    "simv_pc": _MIXED,
    "simv_vtpc": _MIXED,
    "csv_ps": _SUPPORT,
    "csv_vtps": _SUPPORT,
    "csv_prop": _SUPPORT,
    "cpap": _SUPPORT,
    "bilevel": _TWO_LEVEL,
    "aprv": _TWO_LEVEL,
    "niv": _MASK,
    "hfnc": _OPEN,
    "unassisted": _OPEN,
    "o2_mask": _OPEN | _table("", "mip_cmh2o vital_capacity_ml"),
    "hfov": _table("", _MEAN),
    "manual": _table("", "etco2_mmhg etco2_waveform"),
    "standby": _NOTHING,
    "other": _table(
        "resp_rate_obs",
        "tidal_volume_obs minute_vent_obs leak_percent leak_lpm " + _PEAK + _MEAN + _SPLIT,
        _STRENGTH + "plateau_pressure_obs hold_passive peep_total",
    ),
}
