"""The short names of every input, each with its unit and the widest number it may carry.

The bounds are not clinical ranges: outside them a number looks mistyped, and the answer is a
question instead of a result. They follow the hard entry ranges of the chart (engineering judgement
unless a reason says more). Zero is let through where a zero is charted: it gets its own answer.
"""

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Literal

from msgspec import Struct

Kind = Literal["number", "word", "yes_no"]


class Term(Struct, frozen=True):
    """One input: its name, label, canonical unit and bounds, and what a number outside them is."""

    name: str
    label: str
    unit: str = ""
    low: Decimal | None = None
    high: Decimal | None = None
    zero: bool = False
    hint: str = ""
    kind: Kind = "number"

    def doubt(self, number: Decimal) -> str | None:
        """Why this number looks mistyped; None when it may be computed with."""
        if self.zero and number.is_zero():
            return None
        if self.low is not None and number < self.low:
            return self._asked(number, f"under {self.low}")
        if self.high is not None and number > self.high:
            return self._asked(number, f"over {self.high}")
        return None

    def _asked(self, number: Decimal, where: str) -> str:
        told = f"{self.label} {number.normalize():f} {self.unit}".strip()
        hint = "a minus sign too many?" if number < 0 else self.hint or "mistyped?"
        return f"{told} is {where}: {hint}"


def _number(name: str, label: str, unit: str, low: str, high: str, hint: str = "") -> Term:
    """A bound of "0+10" lets zero through and asks between zero and ten."""
    start, _, above_zero = low.partition("+")
    floor = Decimal(above_zero or start)
    return Term(name, label, unit, floor, Decimal(high), bool(above_zero), hint)


def _word(name: str, label: str) -> Term:
    return Term(name, label, kind="word")


_LITRES = "litres, or a digit lost or doubled?"
_KPA = "kilopascals in a mmHg field, or mistyped?"

_TERMS = (
    _number("vt", "Tidal volume", "mL", "0+10", "3000", _LITRES),
    _number("vte", "Expired tidal volume", "mL", "0+10", "3000", _LITRES),
    _number("vt_set", "Set tidal volume", "mL", "0+10", "2500", _LITRES),
    _number("vt_mand", "Mandatory tidal volume", "mL", "0+10", "3000", _LITRES),
    _number("vt_spont", "Spontaneous tidal volume", "mL", "0+10", "3000", _LITRES),
    _number("vd", "Dead-space volume", "mL", "0", "3000"),
    _number("ve", "Minute volume", "L/min", "0", "60", "millilitres, or a decimal point lost?"),
    _number("mve", "Measured minute volume", "L/min", "0", "60", "a decimal point lost?"),
    _number("rr", "Total rate", "/min", "0", "200"),
    _number("rr_mand", "Mandatory rate", "/min", "0", "200"),
    _number("rr_spont", "Spontaneous rate", "/min", "0", "200"),
    _number("ppeak", "Peak pressure", "cmH2O", "0", "120"),
    _number("pplat", "Plateau pressure", "cmH2O", "0", "90"),
    _number("pmean", "Mean airway pressure", "cmH2O", "0", "70"),
    _number("peep", "PEEP", "cmH2O", "0", "60"),
    _number("peep_set", "Set PEEP", "cmH2O", "0", "50"),
    _number("peep_total", "Total PEEP", "cmH2O", "0", "60"),
    _number("p_high", "High pressure", "cmH2O", "0", "60"),
    _number("p_low", "Low pressure", "cmH2O", "0", "30"),
    _number("pinsp", "Inspiratory pressure", "cmH2O", "0", "120"),
    _number("dp_insp_above_peep", "Inspiratory pressure above PEEP", "cmH2O", "0", "80"),
    _number("driving_pressure", "Driving pressure", "cmH2O", "0", "90"),
    _number("ps", "Pressure support above PEEP", "cmH2O", "0", "60"),
    _number("ti", "Inspiratory time", "s", "0", "30"),
    _number("te", "Expiratory time", "s", "0", "60"),
    _number("pause", "Inspiratory pause", "s", "0", "3"),
    _number("tau", "Time constant", "s", "0", "60"),
    _number("n_tau", "Time constants passed", "", "0", "1000"),
    _number("flow", "Flow", "L/min", "0", "200"),
    _number("bias_flow", "Bias flow", "L/min", "0", "60"),
    _number("leak_pct", "Leak", "%", "0", "100"),
    _number("resistance", "Resistance", "cmH2O/(L/s)", "0", "200"),
    _number("compliance", "Compliance", "mL/cmH2O", "0+1", "500", "L/cmH2O?"),
    _number("fio2", "FiO2", "%", "21", "100", "percent, from 21 to 100; a fraction typed?"),
    _number("spo2", "SpO2", "%", "0+2", "100", "a fraction typed?"),
    _number("so2", "Saturation", "%", "0+0.001", "100"),
    _number("pao2", "PaO2", "mmHg", "20", "750", _KPA),
    _number("paco2", "PaCO2", "mmHg", "12", "250", _KPA),
    _number("po2", "PO2", "mmHg", "0", "2500"),
    _number("peco2_mixed", "Mixed expired CO2", "mmHg", "6", "250", _KPA),
    _number("petco2", "End-tidal CO2", "mmHg", "0", "250"),
    _number("pb", "Barometric pressure", "mmHg", "200", "2300", "kilopascals?"),
    _number("ph2o", "Water vapour pressure", "mmHg", "0", "100"),
    _number("R", "Respiratory exchange ratio", "", "0+0.5", "1.5"),
    _number("ph", "pH", "", "6.5", "8", "a point left out (735 for 7.35)?"),
    _number("hco3", "Bicarbonate", "mmol/L", "0+1", "70"),
    _number("window", "Window", "mmol/L", "0", "20"),
    _number("pf", "P/F", "mmHg", "0+20", "1000", "kilopascals, or FiO2 as a fraction twice?"),
    _number("sf", "S/F", "", "0+20", "480"),
    _number("height", "Height", "cm", "0", "250", "millimetres?"),
    _number("height_ft", "Height, feet", "ft", "0", "8"),
    _number("height_in", "Height, inches", "in", "0", "98"),
    _number("age_y", "Age", "y", "0", "120"),
    _number("pbw", "Predicted body weight", "kg", "0", "150"),
    _number("value", "Value", "", "-1000000", "1000000"),
    _number("pressure", "Gauge pressure", "psi", "0", "5000"),
    _number("residual", "Reserve held back", "psi", "0", "5000"),
    _number("full_pressure", "Full pressure", "psi", "0", "5000"),
    _number("factor", "Cylinder factor", "L/psi", "0", "10"),
    _number("contents", "Printed contents", "L", "0", "20000"),
    _number("water_capacity", "Water capacity", "L", "0", "100"),
    _number("temp", "Temperature", "°C", "0", "60", "degrees Fahrenheit?"),
    _number("ah", "Absolute humidity", "mg/L", "0", "150"),
    _word("sex", "Sex used in the formula"),
    _word("family", "Mode family"),
    _word("basis", "What the inspiratory pressure counts from"),
    _word("flow_pattern", "Flow pattern"),
    _word("sample", "Specimen"),
    _word("ecmo", "Extracorporeal support"),
    _word("device", "Humidifier"),
    _word("size", "Cylinder size"),
    _word("from", "From unit"),
    _word("to", "To unit"),
    Term("passive", "Passive breath", kind="yes_no"),
)
TERMS: Mapping[str, Term] = MappingProxyType({term.name: term for term in _TERMS})

KPA_CEILINGS: Mapping[str, Decimal] = MappingProxyType(
    {"paco2": Decimal(15), "pao2": Decimal(85), "peco2_mixed": Decimal(15)}
)
"""Above these a gas in a kilopascal field was read off in mmHg (engineering judgement)."""


def doubt_about_kpa(name: str, number: Decimal) -> str | None:
    """Why a gas typed in kilopascals looks like one in mmHg; None when it does not."""
    ceiling = KPA_CEILINGS.get(name)
    if ceiling is None or number <= ceiling:
        return None
    told = f"{TERMS[name].label} {number.normalize():f} kPa is over {ceiling}"
    return f"{told}: mmHg in a kilopascal field, or mistyped?"
