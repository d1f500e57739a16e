"""The breath: body size, mechanics, ventilation, weaning and power."""

from app.physiology import body_size, energy, mechanics, ventilation, weaning
from app.physiology.catalogue.index import Index, from_source, may, needs

_BODY = may("sex", "height", "height_ft", "height_in", "age_y")
_VOLUMES = may("vte", "vt_set")
_HOLD = may("family", "passive", "peep_total", "peep", "ppeak")
_MINUTE = may("mve", "ve", "rr", "family")

BODY = (
    Index(
        "pbw",
        "Predicted body weight",
        "PBW",
        "50 (male) or 45.5 (female) + 0.91 × (height in cm − 152.4)",
        "Adult; the sex used in the formula and a height are known; not under 20 kg.",
        from_source("S-NET"),
        needs("sex", "height") + may("height_ft", "height_in", "age_y"),
        body_size.pbw,
    ),
    Index(
        "vt_per_pbw",
        "Tidal volume per kg PBW",
        "VT/PBW",
        "tidal volume (mL) / predicted body weight (kg)",
        "A predicted body weight is there; the measured expired volume comes before the set one.",
        from_source("S-NET"),
        needs("vt", "pbw") + _VOLUMES + _BODY + _MINUTE,
        body_size.vt_per_pbw,
    ),
)

MECHANICS = (
    Index(
        "driving_pressure",
        "Driving pressure",
        "ΔP",
        "plateau − total PEEP (set PEEP where total was not measured)",
        "A passive end-inspiratory hold through a tube; not in support, two-level, mask or "
        "high-flow modes.",
        from_source("S-DP"),
        needs("pplat", "peep_set") + _HOLD,
        mechanics.driving_pressure,
    ),
    Index(
        "compliance_static",
        "Static compliance",
        "Cstat",
        "tidal volume (mL) / driving pressure (cmH2O)",
        "As driving pressure; leak at most 15 %, read off or missing from a set volume.",
        from_source("S-DP"),
        needs("vt", "driving_pressure")
        + _VOLUMES
        + may("pplat", "peep_set", "leak_pct", "mve", "ve", "rr")
        + _HOLD,
        mechanics.compliance_static,
    ),
    Index(
        "compliance_dynamic",
        "Dynamic compliance",
        "Cdyn",
        "tidal volume (mL) / (peak − PEEP) (cmH2O)",
        "Machine-sized breaths; comparable over time only in volume control at the same flow.",
        from_source("S-CDYN"),
        needs("vt", "ppeak", "peep")
        + _VOLUMES
        + may("peep_set", "peep_total", "pplat", "passive", "leak_pct")
        + _MINUTE,
        mechanics.compliance_dynamic,
    ),
    Index(
        "airway_resistance",
        "Airway resistance",
        "Raw",
        "(peak − plateau) (cmH2O) / flow (L/s)",
        "Volume control with a constant set flow, a hold, a passive breath; the tube is included.",
        from_source("S-RAW"),
        needs("ppeak", "pplat", "flow", "flow_pattern")
        + may("family", "passive", "peep_set", "peep_total", "peep"),
        mechanics.airway_resistance,
    ),
    Index(
        "auto_peep",
        "Auto-PEEP",
        "auto-PEEP",
        "total PEEP − set PEEP",
        "An end-expiratory hold in a passive patient; not measured is no value.",
        from_source("S-AP"),
        needs("peep_total", "peep_set") + may("peep", "family", "passive"),
        mechanics.auto_peep,
    ),
)

VENTILATION = (
    Index(
        "minute_ventilation",
        "Minute ventilation",
        "MV",
        "tidal volume (mL) × total rate (/min) / 1000; both streams where breaths are mixed",
        "The total rate, not the set one; mixed modes need both streams.",
        from_source("S-AMA"),
        needs("vt", "rr")
        + _VOLUMES
        + may("vt_mand", "rr_mand", "vt_spont", "rr_spont", "mve", "ve", "family"),
        ventilation.minute_ventilation,
    ),
    Index(
        "ie_ratio",
        "I:E ratio",
        "I:E",
        "(60 / total rate − TI) / TI, a pause counted in TI",
        "The total rate; TI shorter than the cycle; not in synchronized, support or two-level "
        "modes.",
        from_source("S-IE"),
        needs("rr", "ti") + may("pause", "flow", "flow_pattern", "vt", "vte", "vt_set", "family"),
        ventilation.ie_ratio,
    ),
    Index(
        "expiratory_time",
        "Expiratory time",
        "TE",
        "60 / total rate − TI, a pause counted in TI",
        "The total rate; TI shorter than the cycle; not in synchronized, support or two-level "
        "modes.",
        from_source("S-IE"),
        needs("rr", "ti") + may("pause", "flow", "flow_pattern", "vt", "vte", "vt_set", "family"),
        ventilation.expiratory_time,
    ),
)

EMPTYING = (
    Index(
        "time_constant",
        "Time constant",
        "τ",
        "resistance (cmH2O/(L/s)) × compliance (mL/cmH2O) / 1000",
        "One compartment, passive expiration; inspiratory resistance stands in for expiratory.",
        from_source("S-TAU"),
        needs("resistance", "compliance") + may("family", "passive", "leak_pct"),
        mechanics.time_constant,
    ),
    Index(
        "te_over_tau",
        "Expiratory time in time constants",
        "TE/τ",
        "expiratory time / time constant",
        "Both are known and not zero.",
        from_source("S-TAU"),
        needs("te", "tau"),
        ventilation.te_over_tau,
    ),
    Index(
        "emptied_fraction",
        "Share emptied",
        "emptied",
        "100 × (1 − e^−n), n the time constants passed",
        "One compartment, passive expiration.",
        from_source("S-TAU2"),
        needs("n_tau"),
        ventilation.emptied_fraction,
    ),
    Index(
        "ti_from_flow",
        "Inspiratory time from flow",
        "TI",
        "tidal volume (L) / flow (L/s), a pause added",
        "Constant flow.",
        from_source("S-IE3"),
        needs("vt", "flow") + may("vte", "vt_set", "pause", "flow_pattern"),
        ventilation.ti_from_flow,
    ),
    Index(
        "alveolar_ventilation",
        "Alveolar ventilation",
        "VA",
        "(tidal volume − dead space) (mL) × rate (/min) / 1000",
        "All breaths alike; a dead space below the tidal volume.",
        from_source("S-AMA"),
        needs("vt", "vd", "rr") + may("vte", "vt_set", "mve", "ve", "family"),
        ventilation.alveolar_ventilation,
    ),
)

WEANING = (
    Index(
        "rsbi",
        "Rapid shallow breathing index",
        "RSBI",
        "rate (/min) / tidal volume (L)",
        "The patient's own breaths only; the support is named beside it.",
        from_source("S-RSBI"),
        needs("rr", "vt", "family")
        + may("rr_spont", "vt_spont", "vte", "vt_set", "ps", "mve", "ve", "age_y"),
        weaning.rsbi,
    ),
    Index(
        "rox",
        "ROX index",
        "ROX",
        "(SpO2 (%) / FiO2 (fraction)) / rate (/min)",
        "High-flow nasal oxygen only; its cut-offs depend on the hours since it began.",
        from_source("S-ROX"),
        needs("spo2", "fio2", "rr", "family") + may("age_y"),
        weaning.rox,
    ),
)

_POWER = may("family", "passive", "flow_pattern", "vte", "vt_set", "mve", "ve")
_PEEPS = may("peep_set", "peep_total")
POWER = (
    Index(
        "mechanical_power",
        "Mechanical power",
        "MP",
        "by the form that the mode and readings allow, named beside the number",
        "Controlled, passive breathing in a mode that is known.",
        from_source("S-MP16"),
        needs("family", "rr", "vt", "peep")
        + may("ppeak", "pplat", "driving_pressure", "flow", "pinsp", "basis")
        + may("dp_insp_above_peep", "passive", "flow_pattern", "vte", "vt_set", "mve", "ve")
        + _PEEPS,
        energy.mechanical_power,
    ),
    Index(
        "mechanical_power_vc",
        "Mechanical power, volume control",
        "MP (VC)",
        "0.098 × rate × volume (L) × (peak − ½ (plateau − PEEP))",
        "Volume control at constant flow, passive, with a plateau.",
        from_source("S-MP16"),
        needs("rr", "vt", "ppeak", "pplat", "peep") + may("driving_pressure") + _PEEPS + _POWER,
        energy.mechanical_power_vc,
    ),
    Index(
        "mechanical_power_vc_surrogate",
        "Mechanical power, volume control without a plateau",
        "MP (VC, flow)",
        "minute volume × (peak + PEEP + flow/6) / 20",
        "Volume control at constant flow, passive; assumes a resistance of 10 cmH2O/(L/s).",
        from_source("S-MP19"),
        needs("ve", "ppeak", "peep", "flow")
        + may("pplat", "mve", "vt", "vte", "vt_set", "rr", "family", "passive", "flow_pattern")
        + _PEEPS,
        energy.mechanical_power_vc_surrogate,
    ),
    Index(
        "mechanical_power_pc_surrogate",
        "Mechanical power, pressure control",
        "MP (PC)",
        "0.098 × rate × volume (L) × (inspiratory pressure above PEEP + PEEP)",
        "Pressure control, passive, a steep rise; the pressure's basis is known.",
        from_source("S-MPPC"),
        needs("rr", "vt", "dp_insp_above_peep", "peep")
        + may("pinsp", "basis", "vte", "vt_set", "mve", "ve", "family", "passive")
        + _PEEPS,
        energy.mechanical_power_pc_surrogate,
    ),
)
