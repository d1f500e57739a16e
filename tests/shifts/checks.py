"""What a therapist types at a bed: plain mechanics on volume control (scenario 3 of the unit)."""

PLAIN = {
    "mode_family": "ac_vc",
    "fio2_set": "45",
    "peep_set": "12",
    "tidal_volume_set": "420",
    "resp_rate_set": "20",
    "flow_rate_set": "60",
    "flow_pattern": "constant",
    "trigger_flow_set": "2",
    "resp_rate_obs": "20",
    "tidal_volume_obs": "420",
    "minute_vent_obs": "8.4",
    "peak_inspiratory_pressure_obs": "32",
    "mean_airway_pressure_obs": "17",
    "plateau_pressure_obs": "26",
    "hold_passive": "yes",
    "peep_total": "12",
    "spo2": "94",
    "heart_rate": "88",
    "airway_depth_cm": "22",
    "cuff_pressure_cmh2o": "26",
}
