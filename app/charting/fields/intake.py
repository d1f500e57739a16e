"""What an intake, an airway and an order are asked for beside what a check charts.

These fields are no part of a check: what they hold stands in rows of its own (airway, orders).
Choices are common practice unless a source stands beside them.
"""

from collections.abc import Mapping
from types import MappingProxyType

from app.charting.field import Field, Group, Manner
from app.charting.fields.declare import JUDGED, Answers, Bounds, choice, day, number, text, yes_no
from app.charting.fields.liberation import ASKED_AT_LIBERATION
from app.charting.fields.treatments import ASKED_OF_TREATMENTS

A, ORDER = Group.AIRWAY, Group.IDENTITY
STATED = Manner.STATED


def _tick(code: str, label: str, about: str = "") -> Field:
    return yes_no(code, label, A, about=about)


def _band(code: str, label: str, unit: str, hard: Bounds, places: int = 0) -> tuple[Field, ...]:
    step = "0.01" if places else "1"
    return tuple(
        number(
            f"{code}_{end}",
            f"{label}, {words}",
            ORDER,
            STATED,
            unit,
            hard=hard,
            step=step,
            places=places,
            accepts=("kPa",) if unit == "mmHg" else (),
            source=JUDGED,
        )
        for end, words in (("low", "from"), ("high", "to"))
    )


_AIRWAY = (
    text("confirmed_by", "Confirmed by", A, longest=60),
    _tick("confirmed_co2", "CO2 waveform seen", "AARC capnography guideline 2011."),
    _tick("confirmed_ears", "Heard on both sides"),
    _tick("confirmed_image", "Image read"),
    text("tube_type", "Type", A, longest=60, about="Cuffed, uncuffed, fenestrated, adjustable."),
    day("stoma_on", "Tracheostomy made on", A),
    yes_no("inner_cannula", "Inner cannula", A),
    yes_no("spare_same", "Spare of the same size at the bed", A),
    yes_no("spare_smaller", "Spare one size smaller at the bed", A),
    text("may_change", "Who may change the tube", A, longest=60),
    text("why", "Why", A, longest=140),
    text("airway_words", "In a few words", A, longest=140),
)
SPO2_BANDS: Answers = (
    ("88-95", "88–95 %, in ARDS (ARDS Network, NEJM 2000)"),
    ("88-92", "88–92 %, at risk of hypercapnia (oxygen guideline 2022, from memory)"),
    ("94-98", "94–98 % (oxygen guideline 2022, from memory)"),
)
"""Bands that are offered as choices; none of them is a default (decision 27)."""

_ORDERS = (
    choice("spo2_band", "SpO2 band", ORDER, SPO2_BANDS, about="Or type another band below."),
    *_band("spo2_target", "SpO2", "%", ("70", "100")),
    *_band("pao2_target", "PaO2", "mmHg", ("30", "300")),
    *_band("ph_target", "pH", "", ("6.8", "7.8"), places=2),
    *_band("paco2_target", "PaCO2", "mmHg", ("15", "150")),
    number(
        "volume_target",
        "Tidal volume",
        ORDER,
        STATED,
        "mL/kg",
        hard=("3", "12"),
        soft=("4", "8"),
        step="0.5",
        places=1,
        trim=True,
        source="4 to 8 mL/kg: ATS/ESICM/SCCM guideline 2017. Entry limits: engineering judgement.",
    ),
)
ASKED_ONCE: Mapping[str, Field] = MappingProxyType(
    {
        field.code: field
        for field in (*_AIRWAY, *_ORDERS, *ASKED_AT_LIBERATION, *ASKED_OF_TREATMENTS)
    }
)
"""Code to declaration. A code that a check knows as well is declared there, and only there."""
