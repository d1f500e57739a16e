"""The fields that the rules read, for whoever must carry no more than these."""

from app.rules.watch.safe import RESCUE

READS: tuple[str, ...] = (
    "fio2_set",
    "peep_set",
    "tidal_volume_set",
    "resp_rate_set",
    "pressure_control_set",
    "pressure_support_set",
    "inspiratory_time_set",
    "inspiratory_pause_set",
    "flow_rate_set",
    "flow_pattern",
    "tidal_volume_target_ml_kg",
    "change_reason",
    "resp_rate_obs",
    "tidal_volume_obs",
    "minute_vent_obs",
    "peak_inspiratory_pressure_obs",
    "plateau_pressure_obs",
    "hold_passive",
    "peep_total",
    "leak_percent",
    "leak_audible",
    "spo2",
    "rass",
    "position",
    "device_id",
    "humidifier",
    "secretions_consistency",
    "secretions_colour",
    "cuff_state",
    "cuff_pressure_cmh2o",
    "speaking_valve",
    "airway_depth_cm",
    "airway_depth_reference",
    *RESCUE,
)
"""Of a check; what a blood gas says is in READS_OF_A_GAS."""

READS_OF_A_GAS: tuple[str, ...] = ("gas_specimen", "fio2_at_sample", "ph", "paco2", "pao2")

THROUGH_THE_TUBE: frozenset[str] = frozenset(
    {
        "driving_pressure",
        "plateau",
        "compliance",
        "compliance_dynamic",
        "compliance_both",
        "resistance",
        "peak_less_plateau",
        "vt_set_per_kg",
        "vt_over_order",
        "vt_measured_per_kg",
        "vt_own_per_kg",
        "leak",
        "leak_audible",
        "fio2",
        "sf",
        "spo2_over_band",
        "peep",
        "rate",
        "auto_peep",
        "cuff",
        "depth_moved",
        "depth_unexplained",
        "valve_on_cuff",
        "filter_clogs",
        "fresh_tracheostomy_spare",
    }
)
"""The series that end with the tube; what is set or read without one begins anew."""
