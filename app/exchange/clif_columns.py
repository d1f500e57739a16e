"""Every column and category that an import asks for; what is not named here is never read.

Names: open CLIF 2.1 data dictionary (Common Longitudinal ICU data Format).
"""

from collections.abc import Mapping
from typing import Final

from app.exchange.clif_files import ColumnKind, Columns

WORD, NUMBER, MOMENT = ColumnKind.WORD, ColumnKind.NUMBER, ColumnKind.MOMENT

SUPPORT_NUMBERS: Final = (
    "fio2_set",
    "lpm_set",
    "tidal_volume_set",
    "resp_rate_set",
    "pressure_control_set",
    "pressure_support_set",
    "flow_rate_set",
    "peak_inspiratory_pressure_set",
    "inspiratory_time_set",
    "peep_set",
    "tidal_volume_obs",
    "resp_rate_obs",
    "plateau_pressure_obs",
    "peak_inspiratory_pressure_obs",
    "peep_obs",
    "minute_vent_obs",
    "mean_airway_pressure_obs",
)
VITALS: Final = (
    "heart_rate",
    "respiratory_rate",
    "sbp",
    "dbp",
    "map",
    "spo2",
    "temp_c",
    "height_cm",
)
ARTERIAL: Final = ("ph_arterial", "pco2_arterial", "po2_arterial", "so2_arterial")
VENOUS: Final = ("ph_venous", "pco2_venous", "so2_mixed_venous", "so2_central_venous")
LABS: Final = (*ARTERIAL, *VENOUS, "lactate", "hemoglobin")

COLUMNS: Final[Mapping[str, Columns]] = {
    "patient": {"patient_id": WORD, "sex_category": WORD},
    "hospitalization": {
        "patient_id": WORD,
        "hospitalization_id": WORD,
        "admission_dttm": MOMENT,
        "discharge_dttm": MOMENT,
        "age_at_admission": NUMBER,
    },
    "respiratory_support": {
        "hospitalization_id": WORD,
        "recorded_dttm": MOMENT,
        "device_category": WORD,
        "mode_category": WORD,
        "tracheostomy": ColumnKind.FLAG,
        **dict.fromkeys(SUPPORT_NUMBERS, NUMBER),
    },
    "vitals": {
        "hospitalization_id": WORD,
        "recorded_dttm": MOMENT,
        "vital_category": WORD,
        "vital_value": NUMBER,
    },
    "labs": {
        "hospitalization_id": WORD,
        "lab_collect_dttm": MOMENT,
        "lab_category": WORD,
        "lab_value_numeric": NUMBER,
        "reference_unit": WORD,
    },
    "position": {
        "hospitalization_id": WORD,
        "recorded_dttm": MOMENT,
        "position_category": WORD,
    },
    "adt": {
        "hospitalization_id": WORD,
        "in_dttm": MOMENT,
        "out_dttm": MOMENT,
        "location_category": WORD,
    },
}
"""Every column that is ever asked for, per table."""

NEEDED: Final = ("patient", "hospitalization", "respiratory_support")
"""Without one of these there is nothing to import; the others may be missing."""
