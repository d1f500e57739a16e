"""The mode families: what kind of breaths a machine gives, and what follows for the numbers.

Codes follow the vocabulary of ISO 19223 in lower case (from memory); screen words are the trade's.
Which mechanics hold where: Respir Care 2010;55(12):1705 (pressure control), PMC7385937 (effort
during occlusions on pressure support), Respir Res 2022;23:101 (two pressure levels), and
engineering judgement for the rest.
"""

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

from app.physiology.breathing import FAMILIES


class ModeFamily(Struct, frozen=True):
    """One family of modes.

    `controlled`: every breath is shaped by the machine alone. `patient_can_trigger`: the patient
    may start a breath. `invasive`: ventilation through a tube or a stoma. `mechanics_by_hold`: a
    hold can give driving pressure and compliance, if somebody says that it was passive (decision
    5). `spontaneous`: breaths begin and end with the patient, a back-up rate aside. `ventilates`: a
    machine moves the gas, so there are volumes and pressures to read.
    """

    code: str
    label: str
    short: str
    about: str
    controlled: bool
    mechanics_by_hold: bool
    patient_can_trigger: bool = True
    invasive: bool = True
    spontaneous: bool = False
    ventilates: bool = True


def _family(
    code: str,
    short: str,
    about: str,
    *,
    patient_can_trigger: bool = True,
    invasive: bool = True,
    spontaneous: bool = False,
    ventilates: bool = True,
) -> ModeFamily:
    """Label, control and holds come from the arithmetic's own table: one truth for both rooms."""
    known = FAMILIES[code]
    return ModeFamily(
        code,
        known.label,
        short,
        about,
        known.controlled,
        known.hold_means_something,
        patient_can_trigger,
        invasive,
        spontaneous,
        ventilates,
    )


_FAMILIES: tuple[ModeFamily, ...] = (
    _family("ac_vc", "VC", "A set volume with every breath, started by machine or patient."),
    _family("ac_pc", "PC", "A set pressure for a set time with every breath."),
    _family("ac_vtpc", "VT-PC", "Pressure breaths; the machine adjusts them to reach a volume."),
    _family("simv_vc", "SIMV-VC", "Volume breaths at a set rate, the patient's own in between."),
    _family("simv_pc", "SIMV-PC", "Pressure breaths at a set rate, the patient's own in between."),
    _family(
        "simv_vtpc",
        "SIMV-VT-PC",
        "Volume-targeted pressure breaths at a set rate, the patient's own in between.",
    ),
    _family(
        "csv_ps",
        "PS",
        "The patient starts and ends each breath; the machine adds pressure.",
        spontaneous=True,
    ),
    _family(
        "csv_vtps",
        "VT-PS",
        "Pressure support that the machine adjusts to reach a volume.",
        spontaneous=True,
    ),
    _family(
        "csv_prop",
        "Proportional",
        "Support in proportion to the patient's effort.",
        spontaneous=True,
    ),
    _family("cpap", "CPAP", "One pressure, no support.", spontaneous=True),
    _family(
        "bilevel",
        "Bilevel",
        "Two pressure levels of ordinary length; the patient may breathe at both.",
    ),
    _family("aprv", "APRV", "A long high level with short releases."),
    _family(
        "niv",
        "NIV",
        "By mask, with or without a back-up rate; leak makes volumes uncertain.",
        invasive=False,
        spontaneous=True,
    ),
    _family(
        "hfnc",
        "HFNC",
        "Warm gas at high flow; no volumes or pressures to read.",
        invasive=False,
        spontaneous=True,
        ventilates=False,
    ),
    _family(
        "o2_mask",
        "O2 mask",
        "T-piece, tracheostomy mask or face mask; the patient does all the work.",
        invasive=False,
        spontaneous=True,
        ventilates=False,
    ),
    _family(
        "unassisted",
        "No support",
        "No tube and no machine: room air, or oxygen at low flow.",
        invasive=False,
        spontaneous=True,
        ventilates=False,
    ),
    _family(
        "hfov",
        "HFOV",
        "Small volumes at high rates around a set mean pressure.",
        patient_can_trigger=False,
    ),
    _family(
        "manual",
        "By hand",
        "Bag ventilation; nothing is read off.",
        patient_can_trigger=False,
        ventilates=False,
    ),
    _family(
        "standby",
        "Standby",
        "The machine stands still; its last settings are not current.",
        patient_can_trigger=False,
        ventilates=False,
    ),
    _family("other", "Other", "None of these; no mechanics are worked out."),
)

MODE_FAMILIES: Mapping[str, ModeFamily] = MappingProxyType(
    {family.code: family for family in _FAMILIES}
)
"""Code to family, from full control to none."""

UNKNOWN = ModeFamily(
    code="",
    label="Mode not known",
    short="Mode?",
    about="Nobody charted the mode, so no mechanics are worked out.",
    controlled=False,
    mechanics_by_hold=False,
)
"""What stands in for a family that nobody charted, or a code that is not one of ours."""


def family_of(code: str) -> ModeFamily:
    """The family with this code; UNKNOWN where there is none, which allows no mechanics."""
    return MODE_FAMILIES.get(code, UNKNOWN)
