"""The gases: oxygenation, alveolar gas, bands, dead space, acid-base and saturation."""

from app.physiology import acid_base, classes, dead_space, gas_exchange, saturation
from app.physiology.catalogue.index import Index, from_source, may, needs

_ALVEOLAR = may("pb", "R", "ph2o")
_SPECIMEN = may("sample", "ecmo")

OXYGENATION = (
    Index(
        "pf_ratio",
        "P/F ratio",
        "P/F",
        "PaO2 (mmHg) / FiO2 (fraction)",
        "An arterial sample with the FiO2 it was drawn at; not on extracorporeal support; PaO2 not "
        "above what that FiO2 allows.",
        from_source("S-BER"),
        needs("pao2", "fio2", "sample") + may("ecmo", "paco2") + _ALVEOLAR,
        gas_exchange.pf_ratio,
    ),
)

MORE_OXYGENATION = (
    Index(
        "sf_ratio",
        "S/F ratio",
        "S/F",
        "SpO2 (%) / FiO2 (fraction)",
        "SpO2 at most 97 %, a steady good signal; not on extracorporeal support.",
        from_source("S-GLO"),
        needs("spo2", "fio2") + may("ecmo"),
        gas_exchange.sf_ratio,
    ),
    Index(
        "oxygenation_index",
        "Oxygenation index",
        "OI",
        "mean airway pressure (cmH2O) × FiO2 (fraction) × 100 / PaO2 (mmHg)",
        "Mean pressure measured at the same time, between PEEP and peak; an arterial sample.",
        from_source("S-BJA"),
        needs("pmean", "fio2", "pao2")
        + may("peep", "peep_set", "peep_total", "ppeak", "family", "paco2")
        + _SPECIMEN
        + _ALVEOLAR,
        gas_exchange.oxygenation_index,
    ),
    Index(
        "oxygen_saturation_index",
        "Oxygen saturation index",
        "OSI",
        "mean airway pressure (cmH2O) × FiO2 (fraction) × 100 / SpO2 (%)",
        "SpO2 at most 97 %; mean pressure measured at the same time, between PEEP and peak.",
        from_source("S-BJA"),
        needs("pmean", "fio2", "spo2")
        + may("peep", "peep_set", "peep_total", "ppeak", "family", "ecmo"),
        gas_exchange.oxygen_saturation_index,
    ),
    Index(
        "ventilatory_ratio",
        "Ventilatory ratio",
        "VR",
        "minute volume (mL/min) × PaCO2 (mmHg) / (PBW (kg) × 100 × 37.5)",
        "Machine breaths without effort, same time, adult; not on extracorporeal support.",
        from_source("S-VR19"),
        needs("ve", "paco2", "pbw")
        + may("mve", "vt", "vte", "vt_set", "rr", "family", "passive")
        + may("sex", "height", "height_ft", "height_in", "age_y")
        + _SPECIMEN,
        gas_exchange.ventilatory_ratio,
    ),
)

ALVEOLAR = (
    Index(
        "alveolar_po2",
        "Alveolar PO2",
        "PAO2",
        "FiO2 × (Pb − 47) − PaCO2/R + PaCO2 × FiO2 × (1 − R)/R, R 0.8 (full form)",
        "An arterial sample, the FiO2 it was drawn at and the site's barometric pressure.",
        from_source("S-PAO2F"),
        needs("fio2", "paco2") + _SPECIMEN + _ALVEOLAR,
        gas_exchange.alveolar_po2,
    ),
    Index(
        "aa_gradient",
        "Alveolar-arterial gradient",
        "A–a",
        "alveolar PO2 (full form) − PaO2",
        "An arterial sample with the FiO2 it was drawn at; not on extracorporeal support.",
        from_source("S-PAO2F"),
        needs("fio2", "paco2", "pao2") + _SPECIMEN + _ALVEOLAR,
        gas_exchange.aa_gradient,
    ),
)

PRINTED_FORMS = (
    Index(
        "alveolar_po2_simplified",
        "Alveolar PO2, simplified form",
        "PAO2 (simple)",
        "FiO2 × (Pb − 47) − PaCO2/R",
        "For checking against printed examples.",
        from_source("S-PAO2"),
        needs("fio2", "paco2") + _ALVEOLAR,
        gas_exchange.alveolar_po2_simplified,
    ),
    Index(
        "alveolar_po2_factor_1.2",
        "Alveolar PO2, factor 1.2",
        "PAO2 (×1.2)",
        "FiO2 × (Pb − 47) − 1.2 × PaCO2",
        "For checking against printed examples.",
        from_source("S-AMA"),
        needs("fio2", "paco2") + may("pb", "ph2o"),
        gas_exchange.alveolar_po2_by_factor,
    ),
    Index(
        "aa_gradient_simplified",
        "Alveolar-arterial gradient, simplified form",
        "A–a (simple)",
        "alveolar PO2 (simplified form) − PaO2",
        "For checking against printed examples.",
        from_source("S-EGAN"),
        needs("fio2", "paco2", "pao2") + _SPECIMEN + _ALVEOLAR,
        gas_exchange.aa_gradient_simplified,
    ),
    Index(
        "pf_altitude_corrected",
        "P/F corrected for altitude",
        "P/F (alt.)",
        "PaO2 / FiO2 × Pb / 760",
        "Above 1000 m; an arterial sample.",
        from_source("S-BER"),
        needs("pao2", "fio2", "pb") + may("paco2", "R", "ph2o") + _SPECIMEN,
        gas_exchange.pf_altitude_corrected,
    ),
)

CLASSES = (
    Index(
        "berlin_class",
        "P/F band",
        "P/F band",
        "mild ≤ 300, moderate ≤ 200, severe ≤ 100 mmHg, as displayed",
        "Adult, PEEP or CPAP of at least 5 cmH2O; a band, not a diagnosis.",
        from_source("S-BER"),
        needs("pf", "peep")
        + may("peep_set", "pao2", "fio2", "paco2", "family", "age_y")
        + _SPECIMEN
        + _ALVEOLAR,
        classes.berlin_class,
    ),
    Index(
        "sf_class",
        "S/F band",
        "S/F band",
        "mild ≤ 315, moderate ≤ 235, severe ≤ 148, as displayed",
        "Adult, SpO2 at most 97 %; a band, not a diagnosis.",
        from_source("S-GLO"),
        needs("sf", "spo2") + may("fio2", "ecmo", "age_y"),
        classes.sf_class,
    ),
    Index(
        "ardsnet_lower_peep_pair",
        "FiO2/PEEP pair",
        "FiO2/PEEP",
        "FiO2 and PEEP stand together in the lower-PEEP row",
        "Adult; a reference row, not a target.",
        from_source("S-NETT"),
        needs("fio2", "peep") + may("peep_set", "age_y"),
        classes.ardsnet_lower_peep_pair,
    ),
    Index(
        "adult_rules_on_child",
        "Adult rules",
        "adult rules",
        "off under 18 years",
        "The age is known.",
        from_source("S-DEC"),
        needs("age_y") + may("height"),
        classes.adult_rules_on_child,
    ),
)

DEAD_SPACE = (
    Index(
        "dead_space_enghoff",
        "Dead space fraction (Enghoff)",
        "VD/VT",
        "(PaCO2 − mixed expired CO2) / PaCO2",
        "Mixed expired CO2 of the same time; end-tidal CO2 is not it.",
        from_source("S-AMA"),
        needs("paco2", "peco2_mixed") + may("petco2") + _SPECIMEN,
        dead_space.dead_space_enghoff,
    ),
)

MORE_DEAD_SPACE = (
    Index(
        "dead_space_volume",
        "Dead space volume",
        "VD",
        "dead space fraction × tidal volume (mL)",
        "As the fraction.",
        from_source("S-AMA"),
        needs("paco2", "peco2_mixed", "vt")
        + may("vte", "vt_set", "petco2", "mve", "ve", "rr", "family")
        + _SPECIMEN,
        dead_space.dead_space_volume,
    ),
)

ACID_BASE = (
    Index(
        "hh_bicarbonate",
        "Bicarbonate from pH and PaCO2",
        "HCO3 (calc.)",
        "0.03 × PaCO2 (mmHg) × 10^(pH − 6.1)",
        "pH and PaCO2 of one sample.",
        from_source("S-HH"),
        needs("ph", "paco2"),
        acid_base.hh_bicarbonate,
    ),
    Index(
        "hh_ph",
        "pH from bicarbonate and PaCO2",
        "pH (calc.)",
        "6.1 + log10(bicarbonate / (0.03 × PaCO2 (mmHg)))",
        "Actual bicarbonate and PaCO2 of one sample.",
        from_source("S-HH"),
        needs("hco3", "paco2"),
        acid_base.hh_ph,
    ),
    Index(
        "henderson_h",
        "Hydrogen ions",
        "H+",
        "24 × PaCO2 (mmHg) / bicarbonate (mmol/L)",
        "Actual bicarbonate and PaCO2 of one sample.",
        from_source("S-HH"),
        needs("paco2", "hco3"),
        acid_base.henderson_h,
    ),
    Index(
        "hh_consistency",
        "Gas fits together",
        "gas check",
        "bicarbonate within 3 mmol/L of 0.03 × PaCO2 × 10^(pH − 6.1)",
        "Actual bicarbonate, pH and PaCO2 of one sample.",
        from_source("S-DEC"),
        needs("ph", "paco2", "hco3") + may("window"),
        acid_base.hh_consistency,
    ),
)

SATURATION = (
    Index(
        "severinghaus_so2",
        "Saturation from PO2",
        "SO2 (est.)",
        "100 / (23400 / (P³ + 150 P) + 1), P in mmHg",
        "pH 7.4 and 37 °C; an estimate, never a measured saturation.",
        from_source("S-SEV"),
        needs("po2"),
        saturation.severinghaus_so2,
    ),
    Index(
        "severinghaus_po2_exact_inverse",
        "PO2 from saturation",
        "PO2 (est.)",
        "(r + k)^⅓ − (r − k)^⅓, k = 11700 × S/(1 − S), r = √(125000 + k²)",
        "pH 7.4 and 37 °C; above 0 % and below 100 %.",
        from_source("S-ELL"),
        needs("so2"),
        saturation.severinghaus_po2_exact_inverse,
    ),
)
